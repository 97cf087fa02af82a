"""Changes of a job's text that keep its comments and its order."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from storystick.bench.places import Steps


@dataclass(frozen=True, slots=True)
class Change:
    """A change ``kind`` of what stands ``at`` a place: "text" puts a whole text in its place."""

    kind: str
    at: Steps
    value: str = ""


def changed(text: str, changes: Sequence[Change]) -> str:
    """A text with its changes, one after the other."""
    for change in changes:
        if change.kind == "text":
            text = change.value
    return text
