"""The program changed at random, one small thing at a time: are the tests nearest to the change any the wiser?

By hand, in the project's environment: ``python tests/source_mutants.py SEED COUNT`` draws as many mutants of the core
modules, runs the nearest tests against each, and tells which stay alive. Numbers after it try only those of the sample.
An alive one asks for a test of what it broke, unless nothing can tell it from the program. The tests have to pass
before; they take about a minute a mutant.
"""

from __future__ import annotations

import ast
import os
import random
import re
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import cache
from importlib.util import cache_from_source
from pathlib import Path
from typing import Final, NamedTuple

ROOT: Final = Path(__file__).parent.parent
CORE: Final = (
    *("lengths.py", "layout/**/*.py", "tooling/*.py", "cutting/*.py", "squaring/*.py", "gluing/*.py", "drawing/*.py"),
    *("sheets/packing.py", "sheets/stacking.py", "sheets/seams.py", "sheets/tile_plan.py", "sheets/boards.py"),
)
NEAR: Final = 4
FARTHEST: Final = 2
"""So many test files are near to a module: those that import it, or what imports it, through so many others."""
HANGS_SECONDS: Final = 300.0

_OPERATORS: Final[dict[type[ast.AST], type[ast.AST]]] = {
    **{ast.Lt: ast.LtE, ast.LtE: ast.Lt, ast.Gt: ast.GtE, ast.GtE: ast.Gt, ast.Eq: ast.NotEq, ast.NotEq: ast.Eq},
    **{ast.Add: ast.Sub, ast.Sub: ast.Add, ast.Mult: ast.Div, ast.Div: ast.Mult, ast.And: ast.Or, ast.Or: ast.And},
}
_FUNCTIONS: Final = {"min": "max", "max": "min", "any": "all", "all": "any"}


def changes(node: ast.AST) -> Iterator[Callable[[], None]]:
    """Ways to change a node in its place."""
    match node:
        case ast.Compare(ops=ops):
            for place, op in enumerate(ops):
                if new := _OPERATORS.get(type(op)):
                    yield lambda place=place, new=new: ops.__setitem__(place, new())
        case ast.BinOp(op=op) | ast.BoolOp(op=op) | ast.AugAssign(op=op):
            if new := _OPERATORS.get(type(op)):
                yield lambda: setattr(node, "op", new())
        case ast.UnaryOp(op=ast.Not(), operand=operand):
            yield lambda: setattr(node, "operand", ast.UnaryOp(ast.Not(), operand))
        case ast.UnaryOp(op=ast.USub()):
            yield lambda: setattr(node, "op", ast.UAdd())
        case ast.Name(id=name) if name in _FUNCTIONS:
            yield lambda: setattr(node, "id", _FUNCTIONS[name])
        case ast.Constant(value=bool(value)):
            yield lambda: setattr(node, "value", not value)
        case ast.Constant(value=0 | 1 as value):
            yield lambda: setattr(node, "value", 1 - value)
        case ast.If() | ast.IfExp():
            yield lambda: setattr(node, "test", ast.Constant(False))
        case ast.comprehension(ifs=[_, *_] as ifs):
            yield from (lambda place=place: ifs.pop(place) for place in range(len(ifs)))
        case ast.Subscript(slice=ast.Constant(value=0)):
            yield lambda: setattr(node, "slice", ast.UnaryOp(ast.USub(), ast.Constant(1)))
        case ast.Subscript(slice=ast.UnaryOp(op=ast.USub(), operand=ast.Constant(value=1))):
            yield lambda: setattr(node, "slice", ast.Constant(0))
        case ast.Assign(value=value) | ast.AnnAssign(value=ast.expr() as value) if node.col_offset == 0:
            if re.fullmatch(r"[0-9.]+|Fraction\(.*\)|.*_MM\b.*", ast.unparse(value)):
                yield lambda: setattr(node, "value", ast.UnaryOp(ast.USub(), value))


def changeable(node: ast.AST) -> Iterator[ast.AST]:
    """A node and all below it whose change may be noticed: no types, no decorators, no checks that cannot fail."""
    yield node
    unasked = [getattr(node, name, None) for name in ("annotation", "returns", "decorator_list", "type_params")]
    for _, value in ast.iter_fields(node):
        for child in value if isinstance(value, list) else [value]:
            hidden = isinstance(child, ast.keyword) and child.arg == "strict"
            hidden |= isinstance(child, ast.If) and ast.unparse(child.test) == "TYPE_CHECKING"
            if isinstance(child, ast.AST) and not hidden and not any(value is skipped for skipped in unasked):
                yield from changeable(child)


class Mutant(NamedTuple):
    """The ``way``-th change of the ``node``-th node of a module, as a path within the package."""

    module: str
    node: int
    way: int

    def made(self, package: Path) -> tuple[str, str]:
        """The changed source, and what was changed for people."""
        source = (package / self.module).read_text(encoding="utf-8")
        tree = ast.parse(source)
        node = list(changeable(tree))[self.node]
        shown = node if isinstance(node, ast.expr | ast.stmt) else node.ifs[0]  # type: ignore[attr-defined]
        line = source.splitlines()[shown.lineno - 1].strip()
        before = ast.unparse(shown).splitlines()[0]
        list(changes(node))[self.way]()
        after = ast.unparse(node).splitlines()[0]
        return ast.unparse(tree), f"{self.module}:{shown.lineno}: {before}  ->  {after}    in: {line}"


def mutants(package: Path) -> list[Mutant]:
    found = {pattern: list(package.glob(pattern)) for pattern in CORE}
    assert all(found.values()), found
    modules = sorted({path for paths in found.values() for path in paths})
    return [
        Mutant(str(path.relative_to(package)), number, way)
        for path in modules
        for number, node in enumerate(changeable(ast.parse(path.read_text(encoding="utf-8"))))
        for way, _ in enumerate(changes(node))
    ]


def imported(path: Path, known: frozenset[str]) -> frozenset[str]:
    """The modules of the package, dotted, that a file names in its imports."""
    nodes = [node for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))) if isinstance(node, ast.ImportFrom)]
    names = {node.module or "" for node in nodes}
    return frozenset(names | {f"{node.module}.{alias.name}" for node in nodes for alias in node.names}) & known


@dataclass(frozen=True)
class Copy:
    """A copy of the project in a folder of its own, in which one mutant after another lives."""

    root: Path

    @cache  # noqa: B019 - one copy a run
    def near(self, module: str) -> tuple[str, ...]:
        """Test files, nearest first: those that bear its name, then by the imports between, then by its folder."""
        paths = {
            ".".join(path.relative_to(self.root).with_suffix("").parts): path
            for path in (self.root / "storystick").rglob("*.py")
        }
        known = frozenset(paths)
        uses = {name: imported(path, known) for name, path in paths.items()}
        tests = {path.name: imported(path, known) for path in sorted((self.root / "tests").glob("test_*.py"))}
        own = "storystick." + module.removesuffix(".py").replace("/", ".")
        steps, reached = {own: 0}, [own]
        for name in reached:
            new = [user for user, used in uses.items() if name in used and user not in steps]
            steps |= dict.fromkeys(new, steps[name] + 1)
            reached += new
        words = {word[:5] for word in re.split(r"[._]", own)}

        def far(test: str) -> int:
            return min((steps[name] for name in tests[test] if name in steps), default=99)

        def order(test: str) -> tuple[bool, int, int]:
            beside = sum(name.startswith(own.rpartition(".")[0] + ".") for name in tests[test])
            return not words & {word[:5] for word in re.split(r"[._]", test)}, far(test), -beside

        reached_by = [test for test in tests if not order(test)[0] or far(test) <= FARTHEST]
        return tuple(sorted(reached_by, key=order)[:NEAR])

    def passes(self, test: str) -> bool:
        """Whether a test file passes; what hangs does not."""
        command = [sys.executable, "-P", "-m", "pytest", "-x", "-q", "-p", "no:cacheprovider", f"tests/{test}"]
        variables = {**os.environ, "PYTHONPATH": str(self.root)}
        try:
            done = subprocess.run(command, cwd=self.root, env=variables, capture_output=True, timeout=HANGS_SECONDS)
        except subprocess.TimeoutExpired:
            return False
        return done.returncode == 0

    def caught(self, mutant: Mutant, source: str) -> bool:
        path = self.root / "storystick" / mutant.module
        kept = path.read_text(encoding="utf-8")
        rewrite(path, source)
        try:
            return not all(self.passes(test) for test in self.near(mutant.module))
        finally:
            rewrite(path, kept)


def rewrite(path: Path, source: str) -> None:
    """Write a module, and forget it as compiled: two of one size within a second would be taken for the same."""
    path.write_text(source, encoding="utf-8")
    Path(cache_from_source(str(path))).unlink(missing_ok=True)


def main(seed: int, count: int, *only: int) -> None:
    """Try a sample; the share that is caught counts those that nothing can tell from the program as alive."""
    with tempfile.TemporaryDirectory() as folder:
        copy = Copy(Path(folder) / "project")
        shutil.copytree(ROOT, copy.root, ignore=shutil.ignore_patterns(".*", "__pycache__"))
        sample = random.Random(seed).sample(mutants(copy.root / "storystick"), count)
        alive = 0
        for number in only or range(count):
            source, told = sample[number].made(copy.root / "storystick")
            caught = copy.caught(sample[number], source)
            alive += not caught
            print(number, "caught" if caught else "ALIVE ", told, flush=True)
        tried = len(only) or count
        print(f"{tried - alive} of {tried} caught, {100 * (tried - alive) / tried:.0f} %")


if __name__ == "__main__":
    main(*map(int, sys.argv[1:]))
