"""What was meant by a name that is not known: a slip of the pen, another shop's word, or a thing not laid out here."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping, Sequence
from difflib import get_close_matches
from typing import Final

from storystick.errors import Fault, as_written

_LONGEST_COMPARED: Final = 80
"""No name that is known is longer, in characters, and longer ones take long to compare."""

_HOW_MANY: Final = ("quantity", "qty", "copies", "number", "how many")

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
    "rabbet": ("rebate", "rabbit", "rabbeted corner", "rebated corner"),
    "housing": ("dado", "groove", "trench", "stopped housing", "stopped dado", "blind dado", "half blind housing"),
    "rabbeted housing": ("dado and rabbet", "rabbet and dado", "rabbeted dado", "half dado", "barefaced tongue"),
    "sliding dovetail": ("dovetail", "dovetail dado", "dovetailed housing"),
    "mortise and tenon": ("mortise", "tenon", "haunched tenon", "stub tenon"),
    "half lap": ("lap", "halving", "halved joint"),
    "tongue": ("dado and tongue", "tongue and groove"),
    "butt": ("none",),
    "dowels": ("dowel", "dowelled"),
    "biscuits": ("biscuit", "plates"),
    "loose tenons": ("loose tenon", "floating tenon", "floating tenons", "slip tenon", "slip tenons"),
    "pocket screws": ("pocket screw", "pocket hole", "pocket holes"),
    "screws": ("screw", "confirmat", "confirmats", "confirmat screws", "wood screws"),
    "inset": ("flush", "flush inset"),
    "reveal": ("gap", "gaps", "margin"),
    "to_floor": ("legs", "feet", "stiles to floor"),
    "false": ("false front", "dummy", "blank", "fixed"),
    "inside": ("shelves", "fixed shelves"),
    "above": ("below", "over"),
    "nothing": ("none", "open"),
    "none": ("open", "nothing"),
    "rail": ("drawer rail", "stretcher"),
    "web frame": ("dust frame", "runner frame"),
    "stretchers": ("stretcher", "rails"),
    "nailers": ("nailer", "hanging rail", "hanging rails", "nailing strip", "nailing strips"),
    "both": ("half lap", "half laps", "half lapped", "halved", "egg crate", "crate"),
    "countertop": ("counter", "worktop", "benchtop"),
    "setback": ("set back",),
    "pitch": ("spacing", "apart"),
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
    "corner_blocks": ("corner block", "glue block", "glue blocks", "gussets"),
    "cleats": ("cleat", "ledger", "ledgers", "battens"),
    "filler": ("spacer",),
    "count": _HOW_MANY,
    "like": ("same as", "as", "copy of"),
}

_NOT_HERE: Final[Mapping[str, str]] = {
    **dict.fromkeys(
        ("stretcher", "stretchers"), 'they are a top, or a bottom: write top = { place = "stretchers" } on the cabinet'
    ),
    **dict.fromkeys(
        ("count", *_HOW_MANY),
        "write a table for each, with a name of its own; or pair = true for a stick of either hand",
    ),
    **dict.fromkeys(("row", "rows"), "rows belong to a cabinet: [[cabinet.row]] below it"),
    **dict.fromkeys(("column", "columns"), "columns belong to a cabinet: [[cabinet.column]] below it"),
}


def unknown(name: object, what: str, allowed: Iterable[str], otherwise: str = "") -> Fault:
    """The fault of a name that is not ``what``, with the nearest one offered."""
    known = list(allowed)
    instead = _not_here(name, known) if isinstance(name, str) else ""
    near = nearest(name, known) if isinstance(name, str) and not instead else None
    cures = [instead, f'try "{near}"' if near else "", f"allowed here: {_in_a_row(known)}" if known else ""]
    cure = "; ".join(filter(None, cures))
    return Fault(f"{as_written(name)} is not {what}", "; or ".join(filter(None, (cure, otherwise))))


def _in_a_row(names: Sequence[str]) -> str:
    """Names with commas between them; with semicolons where they have commas of their own."""
    return ("; " if any("," in name for name in names) else ", ").join(names)


def nearest(name: str, known: Iterable[str]) -> str | None:
    """The known name that says the same or is most like ``name``, in any letter case."""
    known = list(known)
    if meant := _said_here(name, known):
        return meant
    by_case = {candidate.casefold(): candidate for candidate in known}
    matches = get_close_matches(name[:_LONGEST_COMPARED].casefold(), by_case, n=1)
    return by_case[matches[0]] if matches else None


def _said_here(name: str, known: Collection[str]) -> str | None:
    """The known word that stands for what a name says otherwise, None where there is none."""
    plain = _plain(name)
    return next((word for word in known if plain in _SAID_HERE.get(word, ())), None)


def _not_here(name: str, known: Collection[str]) -> str:
    """What to do instead for something that is asked for by name where it cannot be; empty for anything else."""
    plain = _plain(name)
    return "" if plain.removesuffix("s") in known or _said_here(name, known) else _NOT_HERE.get(plain, "")


def _plain(name: str) -> str:
    return " ".join(name.casefold().replace("_", " ").replace("-", " ").split())
