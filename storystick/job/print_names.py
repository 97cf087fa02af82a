"""What there is to print, by the names that a job and the print command call it; and which hands of a pair are."""

from __future__ import annotations

from enum import Enum


class Hands(Enum):
    """Which strips of a pair are printed: both, or one, for boards that are laid face to face and struck together."""

    BOTH = "both"
    ONE = "one"


class PrintName(Enum):
    """A kind of thing to print, in the order in which they are used."""

    STRIPS = "strips"
    DRAWINGS = "drawings"
    PARTS = "parts"
    SET_UPS = "set-ups"
    BARS = "bars"
    TEMPLATES = "templates"
    SQUARE_STICKS = "square-sticks"
    GLUE_UP = "glue-up"
    SQUARE = "square"
    RODS = "rods"
    FIGURES = "figures"
