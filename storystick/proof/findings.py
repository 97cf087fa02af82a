"""What a proof finds: every tile with its largest difference, and every check with what was read."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from storystick.proof.marks import FULL_SIZE, TOLERANCE_MM, Bounds, Fit

BOX_TOLERANCE_MM = 0.05
"""The box of a page may be off by this: some programs round it to a tenth of a point, and it moves no mark."""


@dataclass(frozen=True, slots=True)
class Named:
    """What is marked from ``left`` to ``right`` mm on a page, in words."""

    left: float
    right: float
    words: str

    def apart(self, bounds: Bounds) -> float:
        """How far the ends of the two are from each other, together."""
        return abs(self.left - bounds.left) + abs(self.right - bounds.right)


@dataclass(frozen=True, slots=True)
class Region:
    """A tile as it lies on the page, in mm, and what is marked on it."""

    bounds: Bounds
    stick: str
    hand: str | None
    tile: int
    of: int
    marked: tuple[Named, ...]

    @property
    def name(self) -> str:
        hand = f", {self.hand} hand" if self.hand else ""
        return f"{self.stick}{hand}, tile {self.tile} of {self.of}"

    def what(self, bounds: Bounds) -> str:
        """What lies nearest to a place."""
        return min(self.marked, key=lambda named: named.apart(bounds)).words


@dataclass(frozen=True, slots=True)
class Row:
    """The ink of a tile, or of all of a page beside its tiles where ``region`` is None.

    ``off_mm`` is the largest difference from where it belongs, None where nothing is there; ``off_after_fit_mm`` what
    of that is not due to the scale and shift of the whole page; ``at`` says what lies there. What was ``added`` is ink,
    letters or notes; ``unlike`` counts places that look otherwise for another reason.
    """

    page: int
    sheet: str
    region: Region | None
    off_mm: float | None
    off_after_fit_mm: float | None = None
    at: str = ""
    missing: int = 0
    added: int = 0
    unlike: int = 0

    @property
    def true(self) -> bool:
        return not (self.missing or self.added or self.unlike) and (self.off_mm or 0.0) <= TOLERANCE_MM

    @property
    def name(self) -> str:
        return self.region.name if self.region else "the page itself"

    @property
    def place(self) -> str:
        """Where the ink is, in words."""
        return ", ".join(filter(None, (self.sheet, self.name, self.at)))


@dataclass(frozen=True, slots=True)
class PageProof:
    """A page of the file beside the one that was laid out: ``fit`` is what it was drawn times, and shifted.

    ``size_mm`` is the page as it was laid out, ``found_mm`` as it is in the file, both without its turn; ``words``
    what is wrong with the words; ``extra`` what another program added beside everything that is read or struck from.
    """

    page: int
    sheet: str
    size_mm: tuple[float, float]
    found_mm: tuple[float, float]
    fit: Fit = FULL_SIZE
    turned: bool = False
    rows: tuple[Row, ...] = ()
    words: tuple[str, ...] = ()
    extra: tuple[str, ...] = ()

    @property
    def scaled(self) -> bool:
        """Whether it was enlarged or made smaller by more than may be."""
        factors = (self.fit.scale_x, self.fit.scale_y)
        return any(abs(factor - 1) * size > TOLERANCE_MM for factor, size in zip(factors, self.size_mm, strict=True))

    @property
    def shifted(self) -> bool:
        return max(abs(self.fit.shift_x), abs(self.fit.shift_y)) > TOLERANCE_MM

    @property
    def has_size(self) -> bool:
        """Whether it is as large as it was laid out."""
        pairs = zip(self.size_mm, self.found_mm, strict=True)
        return all(abs(one - other) <= BOX_TOLERANCE_MM for one, other in pairs)

    @property
    def in_place(self) -> bool:
        """Whether the page as a whole lies where it was laid out, so that words and pictures can be compared."""
        return self.has_size and not (self.scaled or self.shifted or self.turned)


@dataclass(frozen=True, slots=True)
class Check:
    """One thing that was looked at, whether it is as it should be, and what was read."""

    name: str
    ok: bool
    read: str


@dataclass(frozen=True, slots=True)
class Proof:
    """A printed file beside its job: true if every check is.

    ``written_by`` and ``read_by`` are the programs of the print and of this proof; ``looks`` is what should be looked
    at though it is no difference.
    """

    file: str
    title: str
    digest: str
    written_by: str
    read_by: str
    pages: tuple[PageProof, ...]
    checks: tuple[Check, ...]
    looks: tuple[str, ...]

    @property
    def true(self) -> bool:
        return all(check.ok for check in self.checks)

    @property
    def rows(self) -> Iterator[Row]:
        return (row for page in self.pages for row in page.rows)

    @property
    def tiles(self) -> list[Row]:
        return [row for row in self.rows if row.region]

    @property
    def off_mm(self) -> float:
        """The largest difference of all that is there, in mm."""
        return max((row.off_mm for row in self.rows if row.off_mm is not None), default=0.0)
