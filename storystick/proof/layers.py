"""Which layers of a file show when nobody has switched them: its optional content (ISO 32000-1, 8.11)."""

from __future__ import annotations

from enum import Enum
from typing import Final

from pypdf.generic import DictionaryObject, IndirectObject

from storystick.proof.objects import dictionary, entry, items, name_of, resolved


class Showing(Enum):
    """Whether ink shows; where that depends on the program that prints, it is ``UNSURE``."""

    SHOWN = "shown"
    UNSURE = "unsure"
    HIDDEN = "hidden"

    def within(self, outer: Showing) -> Showing:
        """The same inside something else, which hides it as well."""
        both = (self, outer)
        return next((least for least in (Showing.HIDDEN, Showing.UNSURE) if least in both), Showing.SHOWN)


class Layers:
    """The groups of optional content, as the file itself switches them at first."""

    def __init__(self, root: DictionaryObject) -> None:
        first = dictionary(entry(dictionary(entry(root, "/OCProperties")), "/D"))
        self._base = _BASES.get(name_of(entry(first, "/BaseState")) or "/ON", Showing.UNSURE)
        self._on, self._off = (_numbers(entry(first, key)) for key in ("/ON", "/OFF"))
        # What is listed there is switched anew for the screen, for a printer or for a language (ISO 32000-1, 8.11.4.4).
        uses = map(dictionary, items(entry(first, "/AS")))
        self._switched = frozenset(number for use in uses for number in _numbers(entry(use, "/OCGs")))

    def showing(self, layer: object) -> Showing:
        """Whether ink shows that belongs to a group, or to a membership in several."""
        found = dictionary(layer)
        match name_of(entry(found, "/Type")):
            case "/OCG":
                return self._group(layer)
            case "/OCMD" if "/VE" not in found:
                return self._membership(found)
        return Showing.UNSURE

    def _group(self, group: object) -> Showing:
        number = _number(group)
        if number is None or number in self._switched or (number in self._on and number in self._off):
            return Showing.UNSURE
        if number in self._off:
            return Showing.HIDDEN
        return Showing.SHOWN if number in self._on else self._base

    def _membership(self, membership: DictionaryObject) -> Showing:
        """By the rule that the membership names (ISO 32000-1, table 99); without groups it hides nothing."""
        named = membership.raw_get("/OCGs") if "/OCGs" in membership else None
        groups = [named] if isinstance(resolved(named), DictionaryObject) else items(named)
        found = {self._group(group) for group in groups if resolved(group) is not None}
        rule = name_of(entry(membership, "/P")) or "/AnyOn"
        if Showing.UNSURE in found or rule not in _RULES:
            return Showing.UNSURE
        wanted, every = _RULES[rule]
        ok = found <= {wanted} if every else not found or wanted in found
        return Showing.SHOWN if ok else Showing.HIDDEN


_BASES: Final = {"/ON": Showing.SHOWN, "/OFF": Showing.HIDDEN}
_RULES: Final = {
    "/AnyOn": (Showing.SHOWN, False),
    "/AllOn": (Showing.SHOWN, True),
    "/AnyOff": (Showing.HIDDEN, False),
    "/AllOff": (Showing.HIDDEN, True),
}
"""Which state is asked of the groups of a membership, and whether of every one of them."""


def _numbers(groups: object) -> frozenset[int]:
    return frozenset(number for group in items(groups) if (number := _number(group)) is not None)


def _number(group: object) -> int | None:
    """The object number by which a group is listed; None for one that is written in place."""
    return group.idnum if isinstance(group, IndirectObject) else None
