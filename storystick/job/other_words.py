"""Words that other shops use for what is called otherwise here, and things that are asked for but not laid out."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from typing import Final

_SAID_HERE: Final[Mapping[str, tuple[str, ...]]] = {
    "toe": ("toe kick", "toekick", "kick", "kickboard", "toe space", "toe board"),
    "plinth": ("base", "ladder base"),
    "frame": ("face frame", "faceframe"),
    "fronts": ("doors", "door", "faces", "drawer fronts"),
    "drawers": ("boxes", "drawer boxes"),
    "carcass": ("case", "box", "body", "material", "stock", "carcase"),
    "stock": ("material", "materials", "thickness", "sheet goods"),
    "sides": ("ends", "gables"),
    "dividers": ("partitions", "partition", "uprights"),
    "shelves": ("fixed shelves",),
    "rabbet": ("rebate", "rabbit"),
    "housing": ("dado", "groove", "trench"),
    "tongue": ("mortise", "tenon", "dado and tongue", "tongue and groove"),
    "butt": ("biscuit", "dowel", "pocket screw", "screws", "none"),
    "inset": ("flush", "flush inset"),
    "pair": ("pair of doors", "double", "double doors"),
    "mm": ("cm", "metric", "m", "millimetre", "millimeter", "millimetres", "millimeters"),
    "inch": ("in", "inches", "imperial", "foot", "feet", '"'),
    "bottom": ("floor", "down"),
    "top": ("ceiling", "up"),
    "Tabloid": ("ledger", "ansi b"),
    "Letter": ("us letter", "ansi a"),
    "groove_depth": ("dado_depth", "dado depth"),
    "until": ("to", "end"),
    "from": ("start",),
    "opening": ("size", "height", "clear"),
    "stile": ("stiles",),
    "filler": ("spacer",),
}

_NOT_HERE: Final[Mapping[str, str]] = {
    **dict.fromkeys(
        ("nailer", "nailers", "hanging rail", "stretcher", "stretchers", "cleat"),
        "nailers and stretchers are not laid out here: put them on the cutting list by hand",
    ),
    **dict.fromkeys(
        ("count", "quantity", "qty", "copies", "number", "how many"),
        "write a table for each, with a name of its own; or pair = true for a stick of either hand",
    ),
    **dict.fromkeys(("row", "rows"), "bands belong to a cabinet: [[cabinet.row]] below it"),
    **dict.fromkeys(("column", "columns"), "columns belong to a cabinet: [[cabinet.column]] below it"),
}


def said_here(name: str, known: Collection[str]) -> str | None:
    """The known word that stands for what a name says otherwise, None where there is none."""
    plain = _plain(name)
    return next((word for word in known if plain in _SAID_HERE.get(word, ())), None)


def not_here(name: str, known: Collection[str]) -> str:
    """What to do instead for something that is asked for by name where it cannot be; empty for anything else."""
    plain = _plain(name)
    return "" if plain.removesuffix("s") in known else _NOT_HERE.get(plain, "")


def _plain(name: str) -> str:
    return " ".join(name.casefold().replace("_", " ").replace("-", " ").split())
