"""What a cabinet's sheet says of edging: how thick it is, and which edges of which parts have it."""

from __future__ import annotations

from collections.abc import Iterator

from storystick.job.edgings import BoardEdge, Edging
from storystick.layout.cabinets.edging import edges_of_loose, list_of
from storystick.layout.cabinets.pieces import CabinetLayout
from storystick.lengths import Figures
from storystick.wording import listed

_ALL_ROUND = 4


def tell_edging(layout: CabinetLayout, figures: Figures) -> Iterator[str]:
    """One sentence, or none."""
    rule = layout.cabinet.edging
    if rule is None:
        return
    if rule == Edging(rule.thickness):
        yield f"Solid edging {figures(rule.thickness)} thick on the front edges, within the depth."
        return
    alike: dict[tuple[BoardEdge, ...], list[str]] = {}
    for word, edges in _edges_by_kind(rule, layout).items():
        if edges:
            alike.setdefault(tuple(edge for edge in BoardEdge if edge in edges), []).append(word)
    places = [f"on {_words(edges)} of the {listed(kinds)}" for edges, kinds in alike.items()]
    if places:
        of = f" of {rule.stock_name}" if rule.stock_name else ""
        yield f"Edging {figures(rule.thickness)} thick{of}, within the sizes: {'; '.join(places)}."


def _edges_by_kind(rule: Edging, layout: CabinetLayout) -> dict[str, set[BoardEdge]]:
    """Which edges are edged of what, by the key that says so."""
    found: dict[str, set[BoardEdge]] = {}
    for piece in layout.pieces:
        if word := list_of(piece):
            found.setdefault(word, set()).update(piece.edged)
    if any(bay.compartment.adjustable for bay in layout.bays):
        found.setdefault("shelves", set()).update(edges_of_loose(layout.cabinet))
    return {**found, "fronts": set(rule.fronts.edges)}


def _words(edges: tuple[BoardEdge, ...]) -> str:
    return "all edges" if len(edges) == _ALL_ROUND else f"the {listed([edge.value for edge in edges])} edges"
