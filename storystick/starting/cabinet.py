"""A new cabinet: a case, with or without a face frame, with drawers, doors or open shelves."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from typing import Final

from storystick.lengths import write_exact
from storystick.starting.asking import AnswerKind, Answers, Question
from storystick.starting.usual import (
    UNITS,
    YES_NO,
    back_line,
    by_units,
    choice,
    head_lines,
    joint_lines,
    length,
    name_of,
    said,
    stock_length,
    stock_lines,
)

_HELD: Final = {
    "drawers": "a drawer in each opening",
    "door": "one door, with fixed shelves behind it",
    "pair": "a pair of doors, with fixed shelves behind them",
    "nothing": "open shelves",
}
_FRAMED: Final = ("frame", ("yes",))
_CLOSED: Final = ("holds", ("drawers", "door", "pair"))
_IN_DRAWERS: Final = ("holds", ("drawers",))
_SIZED: Final = {"equal": "all alike", "graduated": "the largest at the bottom"}
_ENDED: Final = {
    "screws": "pocket screws from behind",
    "tenons": "tenons in the stiles",
    "plain": "square ends, how they are held being left to the shop",
}
_FITTED: Final = {"inset": "inside the openings", "overlay": "over the edges round the openings"}

CABINET_QUESTIONS: Final = (
    UNITS,
    name_of("cabinet", "Linen press", "Chest", ("cabinet", 0, "name")),
    length("height", "overall height", ("36", "900"), ("cabinet", 0, "height")),
    length("width", "overall width", ("30", "760"), ("cabinet", 0, "width")),
    length("depth", "overall depth, without fronts that lie over it", ("20", "500"), ("cabinet", 0, "depth")),
    choice("holds", "what it holds", _HELD, "drawers", ("cabinet", 0, "fronts")),
    Question(
        "openings",
        "how many openings, one above another",
        by_units("5", "5"),
        by_units("5", "5"),
        AnswerKind.COUNT,
        key=("cabinet", 0, "openings"),
    ),
    choice("sizes", "sizes of the drawers", _SIZED, "graduated", ("cabinet", 0, "openings"), _IN_DRAWERS),
    length(
        "step",
        "how much smaller each next drawer is",
        ("1/2", "12"),
        ("cabinet", 0, "openings"),
        ("sizes", ("graduated",)),
    ),
    choice("frame", "a face frame", YES_NO, "yes", ("cabinet", 0, "frame")),
    length("stile", "how wide its stiles are", ("1 1/2", "40"), ("cabinet", 0, "frame", "stile"), _FRAMED),
    length("top_rail", "how wide its top rail is", ("1 1/2", "40"), ("cabinet", 0, "frame", "top", "width"), _FRAMED),
    length("rail", "how wide the rails between openings are", ("3/4", "20"), ("cabinet", 0, "frame", "rail"), _FRAMED),
    length(
        "bottom_rail",
        "how wide its bottom rail is",
        ("1 1/2", "40"),
        ("cabinet", 0, "frame", "bottom", "width"),
        _FRAMED,
    ),
    choice("rail_ends", "how rails end on stiles", _ENDED, "screws", ("cabinet", 0, "frame", "joints"), _FRAMED),
    choice("fit", "how fronts lie", _FITTED, "inset", ("cabinet", 0, "fronts", "kind"), _CLOSED),
    length(
        "reveal", "the gap round a front, or between two", ("3/32", "2"), ("cabinet", 0, "fronts", "reveal"), _CLOSED
    ),
    stock_length("ply", "ply", "the case's parts", ("23/32", "18.3")),
    stock_length("frame_stock", "frame", "the face frame", ("3/4", "20"), _FRAMED),
    stock_length("front", "front", "the fronts", ("3/4", "19"), _CLOSED),
    stock_length("back", "back", "the back", ("7/32", "5.5")),
    stock_length("box", "box", "the drawer boxes", ("1/2", "12"), _IN_DRAWERS),
    length(
        "slide",
        "clear space at each side of a drawer box",
        ("1/2", "13"),
        ("cabinet", 0, "drawers", "side"),
        _IN_DRAWERS,
    ),
)


def cabinet_lines(answers: Answers) -> Iterator[str]:
    """The job file, line by line."""
    yield from head_lines(answers, f"A cabinet with {_words(answers)}.")
    yield from stock_lines(answers, CABINET_QUESTIONS)
    yield from joint_lines(answers)
    if answers.is_("rail_ends", "screws"):
        yield said("[joint.frame]", "how the rails of the face frame end on its stiles")
        yield 'kind = "pocket screws"'
        yield ""
    yield "[[cabinet]]"
    yield f"name = {answers['name']}"
    yield said(f"height = {answers['height']}", "overall")
    yield f"width = {answers['width']}"
    yield said(f"depth = {answers['depth']}", "with the frame, without fronts that lie over it")
    yield said('carcass = "ply"', "sides, top, bottom and shelves; each may have its own")
    yield 'joint = "case"'
    yield from _measure_lines(answers)
    yield back_line(answers)
    yield from _front_lines(answers)
    yield from _opening_lines(answers)
    if answers.is_("frame", "yes"):
        yield from _frame_lines(answers)


def _words(answers: Answers) -> str:
    """What the cabinet holds."""
    number = answers.count("openings")
    if answers.is_("holds", "drawers"):
        return f"{number} drawers" if number > 1 else "one drawer"
    return f"{number} openings" if number > 1 else "one opening"


def _measure_lines(answers: Answers) -> Iterator[str]:
    """What the sizes of openings are sizes of, so that what is seen comes out as it is asked for."""
    if "fit" in answers:
        yield said('sizes = "fronts"', "sizes of openings are those of the fronts; the case follows")
    elif answers.is_("frame", "yes"):
        yield said('sizes = "frame"', "sizes of openings are those seen in the frame; the case follows")


def _front_lines(answers: Answers) -> Iterator[str]:
    if "fit" not in answers:
        return
    reach = _reach(answers) if answers.is_("fit", "overlay") else ""
    kind = answers.texts["fit"]
    yield f'fronts = {{ kind = "{kind}", stock = "front", reveal = {answers["reveal"]}{reach} }}'
    if answers.is_("holds", "drawers"):
        room = f"side = {answers['slide']}, top = {answers.by_units('1/2', '12')}"
        under = f"bottom = {answers.by_units('1/4', '6')}, back = {answers.by_units('1', '25')}"
        packed = answers.is_("frame", "yes") and answers.mm("stile") > answers.mm("ply")
        out = ", from the stiles in: pack the runners out as far as these stand inside the sides" if packed else ""
        yield f"# the clear space round each drawer box{out}"
        yield f'drawers = {{ stock = "box", {room}, {under} }}'


def _reach(answers: Answers) -> str:
    """How far overlay fronts reach: half over a face frame's stiles, to the outside of a case without one."""
    if answers.is_("frame", "yes"):
        return f", overlay = {{ outside = {answers.near(answers.mm('stile') / 3)} }}"
    half = write_exact(answers.mm("reveal") / 2, answers.units)
    return f", outside = {answers.written(half)}"


def _opening_lines(answers: Answers) -> Iterator[str]:
    number = answers.count("openings")
    if answers.is_("holds", "door", "pair"):
        front = 'front = "pair"' if answers.is_("holds", "pair") else 'front = "door", hinge = "left"'
        inside = f", inside = [{_equal(number)}]" if number > 1 else ""
        yield f'openings = [{{ opening = "equal", name = "cupboard", {front}{inside} }}]'
    elif answers.is_("sizes", "graduated") and number > 1:
        yield "# from the bottom up, the largest at the bottom"
        yield f'openings = [{{ graduated = {number}, step = {answers["step"]}, name = "drawer" }}]'
    elif answers.is_("holds", "drawers") and number > 1:
        each = ", ".join(f'{{ opening = "equal", name = "drawer {place}" }}' for place in range(1, number + 1))
        yield '# from the bottom up; each a size, or "equal"'
        yield f"openings = [{each}]"
    else:
        yield '# from the bottom up; each a size, or "equal"'
        yield f"openings = [{_equal(number)}]"


def _equal(number: int) -> str:
    return ", ".join(['"equal"'] * number)


def _frame_lines(answers: Answers) -> Iterator[str]:
    yield ""
    yield said("[cabinet.frame]", "the face frame")
    yield 'stock = "frame"'
    yield f"stile = {answers['stile']}"
    yield "# flush: the case's top or bottom is moved to where the edge of its rail lies"
    yield f"top = {_rail(answers, 'top_rail')}"
    yield f"bottom = {_rail(answers, 'bottom_rail')}"
    yield said(f"rail = {answers['rail']}", "between two openings")
    yield from _RAIL_ENDS[answers.texts["rail_ends"]](answers)


def _rail(answers: Answers, name: str) -> str:
    """The top or the bottom rail; where it is narrower than the board behind, that cannot be moved."""
    edge = ', edge = "flush"' if answers.mm(name) >= answers.mm("ply") else ""
    return f"{{ width = {answers[name]}{edge} }}"


_RAIL_ENDS: Final[Mapping[str, Callable[[Answers], Iterator[str]]]] = {
    "screws": lambda _: iter(('joints = "frame"',)),
    "tenons": lambda answers: iter(
        (said(f"tenon = {answers.by_units('1/2', '12')}", "beyond each shoulder of a rail"),)
    ),
    "plain": lambda _: iter(()),
}
"""What the table of the face frame says of it."""
