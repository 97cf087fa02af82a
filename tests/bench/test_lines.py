"""At which line of a text a place stands."""

from __future__ import annotations

import tomllib
from typing import Any, Final

import pytest
from hypothesis import given
from hypothesis import strategies as st

from storystick.bench.lines import line_of
from storystick.bench.places import Steps

ODD: Final = '''\
# a comment, then a blank line

title = "x"  # ] , """
stock.ply = 18
joint."a.b".width = 3

[cabinet.none]  # the table round it has no heading
a = { b = { c = 1 }, d = [1, { e = 2 }] }
[[stick]]
openings = [
  # three of them, [ one ],
  "1 ]", 2,

  { opening = 3, name = "]," },  # , a
  [ [ 4, 5 ],
    [ 6,
      7 ],
  ],
]  # at last,
name = """
[[stick]]
"""
[joint.shelf]
kind = 'x'
[[stick]]
[[stick.row]]
[[stick.row]]
 [stick.row.rule]
 at = [ { order = [
    1,
    { x = """
     y""", z = [
       2 ] } ] } ]
[[stick]]
row = [{}, {}]
[stock.more]
"quoted \\u0041" = 1
\t"" = 2
[late]
'''
"""Written by hand, each thing at a line that was counted."""

LINES: Final[dict[Steps, int]] = {
    (): 1,
    ("nothing",): 1,
    ("title",): 3,
    ("stock",): 4,
    ("stock", "ply"): 4,
    ("stock", "ply", "thick"): 4,
    ("joint",): 5,
    ("joint", "a.b", "width"): 5,
    ("cabinet",): 7,
    ("cabinet", "none"): 7,
    ("cabinet", "none", "a", "d", 1, "e"): 8,
    ("stick",): 9,
    ("stick", 0): 9,
    ("stick", 0, "height"): 9,
    ("stick", 0, "openings"): 10,
    ("stick", 0, "openings", 0): 12,
    ("stick", 0, "openings", 1): 12,
    ("stick", 0, "openings", 2): 14,
    ("stick", 0, "openings", 2, "name"): 14,
    ("stick", 0, "openings", 3): 15,
    ("stick", 0, "openings", 3, 0, 1): 15,
    ("stick", 0, "openings", 3, 1): 16,
    ("stick", 0, "openings", 3, 1, 1): 17,
    ("stick", 0, "openings", 4): 10,
    ("stick", 0, "name"): 20,
    ("joint", "shelf"): 23,
    ("joint", "shelf", "kind"): 24,
    ("stick", 1): 25,
    ("stick", 1, "row"): 26,
    ("stick", 1, "row", 0): 26,
    ("stick", 1, "row", 1): 27,
    ("stick", 1, "row", 2): 26,
    ("stick", 1, "row", 1, "rule"): 28,
    ("stick", 1, "row", 1, "rule", "at"): 29,
    ("stick", 1, "row", 1, "rule", "at", 0, "order", 0): 30,
    ("stick", 1, "row", 1, "rule", "at", 0, "order", 1, "x"): 31,
    ("stick", 1, "row", 1, "rule", "at", 0, "order", 1, "z", 0): 33,
    ("stick", 2): 34,
    ("stick", 2, "row", 1): 35,
    ("stock", "more"): 36,
    ("stock", "more", "quoted A"): 37,
    ("stock", "more", ""): 38,
    ("late", "or", "never"): 39,
}


@pytest.mark.parametrize("steps", LINES)
def test_a_place_is_at_the_line_where_it_begins_or_what_is_round_it(steps: Steps) -> None:
    assert line_of(ODD, steps) == LINES[steps]
    assert line_of(ODD.replace("\n", "\r\n"), steps) == LINES[steps]


WRONG: Final = {
    'a = 1\nb = "2\nc = 3\n': 2,
    "a = 1\n\n[b]\n[b]\n": 4,
    "a = [1,\n2\nb = 3\n": 3,
    "a = [1,\n2\n\n\n": 2,
    'a = """\n\n': 1,
    "'(at line 9, ' = 1\n\n'(at line 9, ' = 2\n": 3,
    f"a = {'9' * 5000}\n": 1,
    f"a = {'[' * 5000}\n": 1,
}


@pytest.mark.parametrize("text", WRONG)
def test_a_text_that_is_not_toml_is_told_at_the_line_where_reading_ends(text: str) -> None:
    assert line_of(text, ("b", 3)) == WRONG[text]


def test_a_list_of_very_many_lines_is_given_up_and_not_waited_for() -> None:
    text = "a = 1\nb = [\n" + "[1], # ]\n" * 20_000 + "]\nc = 2\n"
    assert line_of(text, ("a",)) == 1
    assert line_of(text, ("c",)) == 1


class Writer:
    """Writes TOML line by line, and notes where each thing begins that it writes."""

    def __init__(self, draw: Any) -> None:
        self.draw = draw
        self.lines = [""]
        self.at: dict[Steps, int] = {}

    def choose(self, *of: Any) -> Any:
        return self.draw(st.sampled_from(of))

    def note(self, steps: Steps) -> None:
        for end in range(1, len(steps) + 1):
            self.at.setdefault(steps[:end], len(self.lines))

    def put(self, text: str) -> None:
        self.lines[-1] += text

    def line(self) -> None:
        self.put(self.choose("", "", " ", "  # a ] comment,", '\t# """'))
        self.lines.append("")

    def value(self, steps: Steps, deep: int = 0) -> None:
        self.note(steps)
        kinds = ["plain", "long"] if deep > 2 else ["plain", "long", "list", "list", "table"]
        {"plain": self.plain, "long": self.long, "list": self.list_of, "table": self.table}[self.choose(*kinds)](
            steps, deep
        )

    def plain(self, *_: Any) -> None:
        self.put(self.choose("1", '"]"', "'}, {'", '"#"', "1.5", "true", '"= 3"'))

    def long(self, *_: Any) -> None:
        quotes = self.choose('"""', "'''")
        self.put(quotes)
        for _line in range(self.draw(st.integers(0, 2))):
            self.put(self.choose("[[a]]", "x = [", "# ]", ""))
            self.lines.append("")
        self.put(quotes)

    def list_of(self, steps: Steps, deep: int) -> None:
        self.put("[")
        for number in range(self.draw(st.integers(0, 3))):
            if self.draw(st.booleans()):
                self.line()
            self.value((*steps, number), deep + 1)
            self.put(", ")
        if self.draw(st.booleans()):
            self.line()
        self.put("]")

    def table(self, steps: Steps, deep: int) -> None:
        self.put("{ ")
        for number in range(self.draw(st.integers(0, 2))):
            self.put(", " if number else "")
            self.put(f"k{number} = ")
            self.value((*steps, f"k{number}"), deep + 1)
        self.put(" }")

    def keys(self, steps: Steps) -> None:
        for number in range(self.draw(st.integers(0, 3))):
            dotted = self.choose((), (), ("d", "e"))
            path = (*dotted, f"n{number}")
            self.note((*steps, *path[:1]))
            self.put(f"{self.choose('', '  ')}{'.'.join(path)} = ")
            self.value((*steps, *path))
            self.line()
        if self.draw(st.booleans()):
            self.line()

    def file(self) -> str:
        self.keys(())
        counted = 0
        for number in range(self.draw(st.integers(0, 5))):
            kind = self.choose("[t{}]", "[[c]]", "[s.t{}]", "[c.t{}]", "[[c.r]]")
            if kind.startswith(("[c.", "[[c.")) and not counted:
                continue
            counted += kind == "[[c]]"
            own: dict[str, Steps] = {
                "[t{}]": (f"t{number}",),
                "[[c]]": ("c", counted - 1),
                "[s.t{}]": ("s", f"t{number}"),
                "[c.t{}]": ("c", counted - 1, f"t{number}"),
                "[[c.r]]": ("c", counted - 1, "r", sum(("c", counted - 1, "r", n) in self.at for n in range(9))),
            }
            self.note(own[kind])
            self.put(kind.format(number))
            self.line()
            self.keys(own[kind])
        return "\n".join(self.lines)


@st.composite
def written(draw: Any) -> tuple[str, dict[Steps, int]]:
    writer = Writer(draw)
    return writer.file(), writer.at


@given(written())
def test_everything_written_is_found_at_its_line(made: tuple[str, dict[Steps, int]]) -> None:
    text, at = made
    tomllib.loads(text)
    assert {steps: line_of(text, steps) for steps in at} == at
