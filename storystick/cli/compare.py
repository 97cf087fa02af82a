"""storystick compare: what moved between two jobs or prints, and what that spoils."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

import click

from storystick.cli import completing
from storystick.cli.listing import Format, Listing, echo_table, echo_words, head_of, twins
from storystick.cli.options import format_option, load_job, shop_option
from storystick.cli.tint import Tint, tinted
from storystick.lengths import Figures, Units
from storystick.wording import by_number

if TYPE_CHECKING:
    from storystick.comparing import Comparison
    from storystick.comparing.marks import MarkChange, StickChange
    from storystick.comparing.parts import PartChange
    from storystick.comparing.settings import SettingChange
    from storystick.comparing.spoiled import Judged
    from storystick.cutting.part import CutPart

_MARK_HEADINGS = ("kind", "name", "moves", "was at", "is at")
_SAME = "Nothing that is struck, cut or set is otherwise."


@click.command()
@click.argument("old", type=click.Path(path_type=Path), shell_complete=completing.job_files)
@click.argument("new", type=click.Path(path_type=Path), shell_complete=completing.job_files)
@click.option(
    "--cut",
    metavar="NAME",
    multiple=True,
    shell_complete=completing.of_job(completing.part_names),
    help="A part, a plain stick's board, or all of a cabinet that is cut already; may be given several times.",
)
@shop_option
@format_option
def command(old: Path, new: Path, cut: tuple[str, ...], shop: Path | None, shape: Format) -> None:
    """Say what moved between two jobs or two printed PDFs.

    With --cut it says what becomes of parts that are cut already: good as they are, to be cut down, or spoiled.

    Example: storystick compare chest-print/strips.pdf chest.toml --cut "left side"
    """
    from storystick.comparing import compare  # works out cutting lists and set-ups, which --help does not

    comparison = compare(load_job(old, shop), load_job(new, shop), cut)
    _Comparison(comparison).show(shape, comparison.new.job.units)


def echo_comparison(comparison: Comparison) -> None:
    """Print for a person what is otherwise."""
    _Comparison(comparison).text()


@dataclass(frozen=True)
class _Comparison(Listing):
    of: Comparison
    headings = ("of", "name", "was_name", "change", "kind", "mark", "was_mark")

    def text(self) -> None:
        old, new = self.of.old.job, self.of.new.job
        title = new.title if new.title == old.title else f"{new.title} (was {old.title})"
        echo_words(f"{title}, version {old.digest} then, {new.digest} now, in {new.units.plural}")
        if self.of.is_same:
            echo_words(_SAME)
        self._marks()
        self._parts()
        self._settings()
        self._cut()

    def _marks(self) -> None:
        figures = self.of.new.job.figures
        for alike in _alike(self.of.sticks):
            change = alike[0]
            click.echo()
            echo_words(f"{'; '.join(by_number(each.one.name for each in alike))}: {_stick_words(change, figures)}")
            if change.marks:
                rows = [_mark_row(mark, change, figures) for mark in change.marks]
                echo_table(_MARK_HEADINGS, rows, right=2)

    def _parts(self) -> None:
        figures, rows = self.of.new.job.figures, list[tuple[str, ...]]()
        for change in self.of.parts:
            was, now = (_size(part, figures) for part in (change.was, change.now))
            rows.append((change.name, change.words(figures), was, now))
        if rows:
            click.echo("\nParts")
            echo_table(("part", "changes", "was", "is"), rows, right=2)

    def _settings(self) -> None:
        if self.of.settings:
            click.echo("\nSet-ups")
        for change in self.of.settings:
            words = {"came": "new", "went": "gone", "changed": "otherwise"}[change.word]
            echo_words(f"{change.one.machine}: {change.one.of}: {words}", "  ", "    ")
            if change.was and change.now:
                echo_words(f"was {change.was.words}", "    ", "      ")
            if change.now:
                echo_words(f"is {change.now.words}", "    ", "      ")

    def _cut(self) -> None:
        from storystick.comparing.spoiled import Verdict

        if self.of.judged:
            click.echo("\nCut already")
        for judged in self.of.judged:
            verdict = judged.verdict.value
            tint = Tint.FAULT if judged.verdict is Verdict.SPOILED else Tint.LOOK
            click.echo(f"  {judged.name}: {verdict if judged.verdict is Verdict.GOOD else tinted(verdict, tint)}")
            for sentence in judged.sentences:
                echo_words(f"{sentence}.", "    ", "      ")

    def content(self) -> dict[str, object]:
        """All of it, with the head of both jobs."""
        units = self.of.new.job.units
        return {
            **head_of(self.of.new.job),
            "old": head_of(self.of.old.job),
            "sticks": [_stick_record(change, units) for change in self.of.sticks],
            "parts": [_part_record(change, units) for change in self.of.parts],
            "setups": [_setting_record(change) for change in self.of.settings],
            "cut": [_judged_record(judged) for judged in self.of.judged],
        }

    def rows(self) -> Iterator[dict[str, object]]:
        units = self.of.new.job.units
        for stick in self.of.sticks:
            record = _stick_record(stick, units)
            marks = record.pop("marks")
            yield {"of": "stick", **record}
            assert isinstance(marks, list)
            for mark in marks:
                as_mark = {"mark": mark.pop("name"), "was_mark": mark.pop("was_name")}
                yield {"of": "mark", "name": record["name"], "was_name": record["was_name"], **mark, **as_mark}
        yield from ({"of": "part", **_part_record(part, units)} for part in self.of.parts)
        yield from ({"of": "setup", **_setting_record(setting)} for setting in self.of.settings)
        yield from ({"of": "cut", **_judged_record(judged)} for judged in self.of.judged)


def _alike(sticks: Sequence[StickChange]) -> list[list[StickChange]]:
    """The sticks of which the same is otherwise, together."""
    groups: dict[object, list[StickChange]] = {}
    for change in sticks:
        lengths = (change.was and change.was.length, change.now and change.now.length)
        # What came, went or is called otherwise stands for itself.
        called = "" if change.was and change.now and change.was.name == change.now.name else change.one.name
        groups.setdefault((lengths, change.datum, change.marks, called), []).append(change)
    return list(groups.values())


def _stick_words(change: StickChange, figures: Figures) -> str:
    """How long a stick is, and how long it was if that is otherwise."""
    if change.was is None or change.now is None:
        return f"{'new' if change.was is None else 'gone'}, {figures(change.one.length)}"
    called = f"was {change.was.name}, " if change.was.name != change.now.name else ""
    was, now = change.was.length, change.now.length
    longer = f", was {figures(was)}: {figures.apart(abs(now - was))} {'longer' if now > was else 'shorter'}"
    datum = change.datum.value
    turned = (
        "" if change.was.stick.datum is change.now.stick.datum else f", was from the {change.was.stick.datum.value}"
    )
    return f"{called}{figures(now)} from the {datum}{turned}{'' if now == was else longer}"


def _mark_row(change: MarkChange, stick: StickChange, figures: Figures) -> tuple[str, ...]:
    places = [figures(mark.start) if mark else "" for mark in (change.was, change.now)]
    return (change.one.kind, change.name, change.words(stick.datum, figures), *places)


def _size(part: CutPart | None, figures: Figures) -> str:
    return " x ".join(map(figures, (part.length, part.width, part.thickness))) if part else ""


def _stick_record(change: StickChange, units: Units) -> dict[str, object]:
    was, now = change.was, change.now
    return {
        "name": now.name if now else None,
        "was_name": was.name if was else None,
        "change": change.word,
        "datum": change.datum.value,
        **twins(units, was_length=was.length if was else None, length=now.length if now else None),
        "marks": [_mark_record(mark, units) for mark in change.marks],
    }


def _mark_record(change: MarkChange, units: Units) -> dict[str, object]:
    was, now = change.was, change.now
    places = {
        "was_start": was.start if was else None,
        "was_end": was.end if was else None,
        "start": now.start if now else None,
        "end": now.end if now else None,
    }
    return {
        "kind": change.one.kind,
        "name": now.name if now else None,
        "was_name": was.name if was else None,
        "change": change.word,
        **twins(units, **places, start_moves=change.start_moves, end_moves=change.end_moves),
    }


def _part_record(change: PartChange, units: Units) -> dict[str, object]:
    sizes = {
        f"{prefix}{name}": getattr(part, name) if part else None
        for prefix, part in (("was_", change.was), ("", change.now))
        for name in ("length", "width", "thickness")
    }
    both = {"was_": change.was, "": change.now}
    return {
        **{f"{prefix}name": part.name if part else None for prefix, part in both.items()},
        **{f"{prefix}cabinet": part.cabinet if part else None for prefix, part in both.items()},
        "change": change.word,
        **{f"{prefix}stock": part.stock if part else None for prefix, part in both.items()},
        **{f"{prefix}count": part.count if part else None for prefix, part in both.items()},
        **twins(units, **sizes),
    }


def _setting_record(change: SettingChange) -> dict[str, object]:
    was, now = change.was, change.now
    return {
        "machine": change.one.machine,
        "name": change.one.of,
        "change": change.word,
        "was_set": was.words if was else None,
        "set": now.words if now else None,
    }


def _judged_record(judged: Judged) -> dict[str, object]:
    return {"name": judged.name, "verdict": judged.verdict.name.lower(), "why": list(judged.sentences)}
