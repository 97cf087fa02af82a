"""storystick verify: read a printed file back, and compare all of its ink with the job inside it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from pathlib import Path
from typing import TYPE_CHECKING

import click

from storystick.cli.listing import Format, Listing, echo_look, echo_table
from storystick.cli.options import format_option, is_print
from storystick.cli.progress import working
from storystick.errors import Fault, Where
from storystick.wording import counted

if TYPE_CHECKING:
    from storystick.proof.findings import Proof, Row

_HEADINGS = ("page", "sheet", "tile", "there", "largest difference, mm")


@click.command()
@click.argument("file", type=click.Path(path_type=Path))
@format_option
@click.option("--trusted", is_flag=True, help="Take any time and memory: for a very large print of your own.")
@click.pass_context
def command(context: click.Context, file: Path, shape: Format, trusted: bool) -> None:
    """Compare a printed PDF with the job inside it, every mark in it.

    It says whether the file is still full size, and what differs if it is not. The exit status is 1 then, and where the
    print into its folder was stopped half way.

    Example: storystick verify chest-print/strips.pdf
    """
    if not is_print(file):
        raise Fault("this is not a PDF by its name", 'give a PDF that "storystick print" wrote', Where(str(file)))
    from storystick.print_folder import state_of
    from storystick.prints import verify_print  # needs the library that reads a PDF, which --help does not

    folder = state_of(file.parent)
    with working(f"comparing {file.name} with the job inside it"):
        proof = verify_print(file, trusted)
    proof = replace(proof, looks=(*proof.looks, *filter(None, [folder.words])))
    _Verify(proof).show(shape)
    for look in proof.looks:
        echo_look(look)
    if not proof.true or folder.unfinished:
        context.exit(1)


@dataclass(frozen=True)
class _Verify(Listing):
    proof: Proof

    def text(self) -> None:
        from storystick.proof.verdict import verdict_of

        proof = self.proof
        click.echo(verdict_of(proof))
        click.echo(f"\n{proof.title}, version {proof.digest}: {proof.file}, {counted(len(proof.pages), 'page')}\n")
        echo_table(("", "check", "read"), [("" if c.ok else "NO", c.name, c.read) for c in proof.checks], right=0)
        click.echo()
        echo_table(_HEADINGS, [_row_words(row) for row in proof.rows], right=1)

    def content(self) -> dict[str, object]:
        from storystick.proof.verdict import scales_of, verdict_of

        proof = self.proof
        scale_x, scale_y = scales_of(proof)
        return {
            "true_size": proof.true,
            "verdict": verdict_of(proof),
            "largest_difference_mm": proof.off_mm,
            "scale_x": scale_x,
            "scale_y": scale_y,
            "file": proof.file,
            "title": proof.title,
            "digest": proof.digest,
            "printed_by": proof.written_by,
            "read_by": proof.read_by,
            "checks": [{"name": check.name, "ok": check.ok, "read": check.read} for check in proof.checks],
            "look_at": list(proof.looks),
            "tiles": [_row_record(row) for row in proof.tiles],
            "pages": [_row_record(row) for row in proof.rows if row.region is None],
        }

    def rows(self) -> Iterator[dict[str, object]]:
        return map(_row_record, self.proof.rows)


def _row_words(row: Row) -> tuple[str, ...]:
    from storystick.proof.verdict import decimal

    off = "none there" if row.off_mm is None else decimal(row.off_mm)
    lost = f", {row.missing} missing" if row.missing else ""
    added = f", {row.added} added" if row.added else ""
    unlike = ", looks otherwise" if row.unlike else ""
    return str(row.page), row.sheet, row.name, row.at, f"{off}{lost}{added}{unlike}"


def _row_record(row: Row) -> dict[str, object]:
    region = row.region
    tile = {"stick": region.stick, "hand": region.hand, "tile": region.tile, "of": region.of} if region else {}
    return {
        "page": row.page,
        "sheet": row.sheet,
        **tile,
        "true_size": row.true,
        "largest_difference_mm": row.off_mm,
        "on_its_page_mm": row.off_after_fit_mm,
        "at": row.at,
        "missing": row.missing,
        "added": row.added,
        "looks_otherwise": row.unlike,
    }
