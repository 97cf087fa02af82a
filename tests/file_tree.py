"""The tree of files in DEVELOPERS.md, one line a file, from the first line of each module's docstring.

Written by ``python tests/file_tree.py``; a test compares it with the modules.
"""

from __future__ import annotations

import ast
from collections.abc import Iterator
from pathlib import Path
from typing import Final

ROOT: Final = Path(__file__).parents[1]
PAGE: Final = ROOT / "DEVELOPERS.md"
BEGIN: Final = "<!-- tree: python tests/file_tree.py -->\n"
END: Final = "<!-- end of tree -->\n"


def file_tree() -> str:
    """The package, then what in ``tests`` is no test itself."""
    lines = [*_folder(ROOT / "storystick", 0), *_folder(ROOT / "tests", 0)]
    return "\n".join(("```text", *lines, "```", ""))


def _folder(folder: Path, depth: int) -> Iterator[str]:
    """The folder's own line, its modules, then the folders in it."""
    yield _line(f"{folder.name}/", _first_line(folder / "__init__.py"), depth)
    for path in sorted(folder.glob("*.py")):
        if path.name != "__init__.py" and not path.name.startswith("test_"):
            yield _line(path.name, _first_line(path), depth + 1)
    for inner in sorted(path.parent for path in folder.glob("*/__init__.py")):
        yield from _folder(inner, depth + 1)


def _line(name: str, says: str, depth: int) -> str:
    return f"{'  ' * depth}{name:<{30 - 2 * depth}}{says}".rstrip()


def _first_line(path: Path) -> str:
    if not path.exists():
        return ""
    docstring = ast.get_docstring(ast.parse(path.read_text(encoding="utf-8")))
    return docstring.partition("\n")[0] if docstring else ""


def with_tree(page: str) -> str:
    """The page with the tree between its two marks as it is now."""
    before, _, rest = page.partition(BEGIN)
    _, _, after = rest.partition(END)
    return f"{before}{BEGIN}{file_tree()}{END}{after}"


if __name__ == "__main__":
    PAGE.write_text(with_tree(PAGE.read_text(encoding="utf-8")), encoding="utf-8")
