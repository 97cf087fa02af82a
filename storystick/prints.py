"""A print as a way in: the job that a printed PDF carries, laid out again, and the proof that its ink is the job's."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

from storystick import __version__
from storystick.apart import apart
from storystick.errors import Fault, Faults, Where, placed_in
from storystick.job.reading import AskedPrinter, read_sources
from storystick.job.sources import Source, shop_on_disk
from storystick.laying_out import as_printed, load_sources
from storystick.layout.stations import Layout
from storystick.printables import plan_print
from storystick.printing import planned_files
from storystick.proof.findings import Named, Proof, Region
from storystick.proof.marks import Bounds
from storystick.proof.opening import PrintedFile, open_print
from storystick.sheets.print_choices import STRIPS_FILE, Choices, PrintRecord
from storystick.sheets.strips import PlacedStripTile, StripSheet
from storystick.writers import writer_for


@dataclass(frozen=True, slots=True)
class Printed:
    """The job of a print laid out, on its paper and for its printer, and the choices that it was printed with."""

    layout: Layout
    choices: Choices


def load_print(path: Path | str, shop: Path | None = None, printer: AskedPrinter | None = None) -> Printed:
    """The job out of a printed PDF, with ``shop`` in the place of the shop file that travels with it, if given.

    A ``printer`` is looked for in the place of the one that it was printed for.

    Raises:
        StorystickError: the file cannot be read or takes too much for that, or carries no job that can be laid out.
    """
    name, carried, record = apart(_carried_by, Path(path))
    with placed_in(Where.in_file(name)):
        sources = _with_shop(carried, shop) if shop else carried
        layout = load_sources(sources, printer or record.asked_printer)
        return Printed(as_printed(layout, record.paper, record.hands), record.choices)


def files_of_print(path: Path) -> tuple[Source, ...]:
    """The files of the job that a printed PDF carries, the job file first.

    Raises:
        StorystickError: as :func:`load_print`, but for what is inside these files.
    """
    return apart(_carried_by, path)[1]


def _carried_by(path: Path) -> tuple[str, tuple[Source, ...], PrintRecord]:
    printed = open_print(path)
    return printed.name, printed.sources, printed.record


def _with_shop(sources: Sequence[Source], shop: Path) -> Sequence[Source]:
    """The files with another shop file; the job is read for the one that it has, whatever printers that knows."""
    job, faults = read_sources(sources, AskedPrinter(None, Where()))
    if faults:
        raise Faults(faults)
    own = job.shop.source if job.shop else None
    others = [source for source in job.sources if source is not own]
    given = shop_on_disk(Path(job.file_name), shop, None)(None)
    return [*others, *([given] if given else [])]


def verify_print(path: Path | str, trusted: bool = False) -> Proof:
    """Read a printed PDF back and compare it with the one that the job inside it gives again.

    One that is ``trusted`` may take any time and memory.

    Raises:
        StorystickError: as :func:`load_print`, or the file is none that the job gives.
    """
    return _verified(Path(path)) if trusted else apart(_verified, Path(path))


def _verified(path: Path) -> Proof:
    from storystick.proof.comparing import prove  # needs PDFium, which nothing else does

    printed = open_print(path)
    with placed_in(Where.in_file(printed.name)):
        record = printed.record
        layout = as_printed(load_sources(printed.sources, record.asked_printer), record.paper, record.hands)
        written = planned_files(layout, printed.record.choices)
        _check_file(printed, written)
        document = written[printed.record.file].document
        again = writer_for(".pdf")(document)
        regions = _regions(layout, printed.record.choices) if printed.record.file == STRIPS_FILE else {}
        return prove(printed, document, again, regions, layout.job.digest, f"storystick {__version__}")


def _check_file(printed: PrintedFile, written: Mapping[str, object]) -> None:
    names = [name for name in written if name.endswith(".pdf")]
    if printed.record.file not in names:
        raise Fault(
            f'the job inside gives no file "{printed.record.file}" but {", ".join(names)}',
            "use the file as it was printed",
        )


def _regions(layout: Layout, choices: Choices) -> dict[int, list[Region]]:
    """Where the tiles lie, by the index of their page."""
    plan = plan_print(layout, choices.only)
    return {sheet.number - 1: [_region(placed, sheet) for placed in sheet.tiles] for sheet in plan.sheets}


def _region(placed: PlacedStripTile, sheet: StripSheet) -> Region:
    """A tile as it is drawn, in mm of the page, by the rule that the listing of the pages states."""
    window, strip = placed.tile.window, placed.tile.strip
    across, up = float(sheet.bare.correction.to_right), float(sheet.bare.correction.upward)
    left = (placed.left_mm - placed.tile.left_mm) * across
    bottom = placed.y_mm * up
    bounds = Bounds(left, bottom, left + placed.tile.width_mm * across, bottom + placed.tile.piece.height_mm * up)
    hand = strip.hand.value if strip.hand else None
    return Region(bounds, strip.layout.name, hand, window.number, window.of, tuple(_places(placed, across)))


def _places(placed: PlacedStripTile, across: float) -> Iterator[Named]:
    window, layout = placed.tile.window, placed.tile.strip.layout
    spans = (*layout.spans, *layout.grooves, *layout.beside)
    marked = [
        *((span.start, span.end, f"{span.kind.value} {span.name}") for span in spans),
        *((point.at, point.at, f"{point.kind.value} {point.name}") for point in layout.points),
        *((end, end, "seam") for end in (window.start, window.end) if end not in (0, window.length)),
    ]
    for start, end, words in marked:
        if start <= window.end and end >= window.start:
            ends = (max(start, window.start), min(end, window.end))
            left, right = sorted((placed.left_mm + window.x(at)) * across for at in ends)
            yield Named(left, right, words)
