"""storystick new: a commented job file from a few sizes, asked for where they are left out."""

from __future__ import annotations

import sys
from collections.abc import Callable, Mapping
from pathlib import Path
from typing import Final

import click

from storystick.cli.listing import echo_warnings, echo_words
from storystick.cli.options import load_job
from storystick.errors import Fault, Where
from storystick.starting import STARTS, Question, Start
from storystick.wording import capital

_ENDING: Final = ".toml"


def _question_options(command: Callable[..., None]) -> Callable[..., None]:
    """An option for each question of any kind of job; what several kinds ask has one."""
    asked: dict[str, list[tuple[Start, Question]]] = {}
    for start in STARTS.values():
        for question in start.questions:
            asked.setdefault(question.option, []).append((start, question))
    for option, of in reversed(asked.items()):
        command = click.option(option, metavar="…", help=_help(of))(command)
    return command


def _help(asked: list[tuple[Start, Question]]) -> str:
    """What is asked, with the kinds of jobs that ask it where not all do."""
    words: dict[str, list[str]] = {}
    for start, question in asked:
        choices = f": {', '.join(question.choices)}" if question.choices else ""
        words.setdefault(f"{question.words}{choices}", []).append(start.word)
    parts = [f"{said} ({', '.join(kinds)})" if len(kinds) < len(STARTS) else said for said, kinds in words.items()]
    return f"{capital('; '.join(parts))}."


@click.command()
@click.argument("job", type=click.Path(path_type=Path))
@click.option(
    "--kind",
    type=click.Choice(list(STARTS)),
    default=next(iter(STARTS)),
    show_default=True,
    help="What the job is of: a cabinet, a plain stick, or base cabinets along a wall.",
)
@_question_options
def command(job: Path, kind: str, **options: str | None) -> None:
    """Write a commented job file from a few sizes.

    What no option says is asked for at a terminal; elsewhere the usual stands for it. No file is written over.

    Example: storystick new chest --height 36 --width 30 --depth 20 --openings 5
    """
    start, path = STARTS[kind], job if job.suffix == _ENDING else job.with_name(f"{job.name}{_ENDING}")
    _check_free(path)
    typed = {name: value for name, value in options.items() if value is not None}
    for name, text in typed.items():
        if not text.strip():
            raise click.UsageError(f"--{name.replace('_', '-')} is empty; leave it out for what is usual")
    usual = {"name": capital(path.stem.replace("-", " ").replace("_", " "))} if start.names_itself else {}
    if sys.stdin.isatty() and sys.stderr.isatty():
        typed = _asked(start, typed, usual)
    _check_asked(start, typed)
    _write(path, start.text(usual | typed))
    echo_words(f"{path}: {start.words}, with comments. To go on, change what you like in it, and run")
    click.echo(f"  storystick marks {path}\n  storystick print {path}")
    echo_warnings(load_job(path, None))


def _check_free(path: Path) -> None:
    if path.exists() or path.is_symlink():
        raise Fault(
            "there is such a file already, and nothing is written over", "give the job another name", Where(str(path))
        )


def _check_asked(start: Start, typed: Mapping[str, str]) -> None:
    """Whether all that was given is asked for: nothing of it is dropped in silence."""
    answers = start.answers(typed)
    for question in start.questions:
        if question.name in typed and not answers.asks(question) and question.only_if:
            name, words = question.only_if
            of = next(other.option for other in start.questions if other.name == name)
            raise click.UsageError(f"{question.option} goes only with {of} {' or '.join(words)}")
    own = {question.name: question.option for question in start.questions}
    for name in typed:
        if name not in own:
            option = f"--{name.replace('_', '-')}"
            raise click.UsageError(f"{option} does not go with --kind {start.word}")


def _asked(start: Start, given: Mapping[str, str], usual: Mapping[str, str]) -> dict[str, str]:
    """What was given, and what is answered at the terminal to all else that is asked."""
    click.echo("What is in brackets is taken where nothing is typed.", err=True)
    typed = dict(given)
    for question in start.questions:
        answers = start.answers(typed)
        while question.name not in given and answers.asks(question):
            default = usual.get(question.name, question.default[answers.units])
            typed[question.name] = click.prompt(_prompt(question), default=default, err=True)
            fault = start.answers(typed).faults.get(question.name)
            if fault is None:
                break
            click.echo(f"  {fault}", err=True)
    return typed


def _prompt(question: Question) -> str:
    choices = f" ({', '.join(question.choices)})" if question.choices else ""
    return f"{capital(question.words)}{choices}"


def _write(path: Path, text: str) -> None:
    """Write a new file, or none.

    Raises:
        Fault: it is there meanwhile, or cannot be written.
    """
    try:
        with path.open("xb") as file:
            file.write(text.encode())
    except FileExistsError:
        _check_free(path)
    except OSError as error:
        raise Fault(f"it cannot be written: {error.strerror}", "look at its folder", Where(str(path))) from None
