"""One direction only: no inner stage knows the command line, a file format, or a stage after it."""

from __future__ import annotations

import ast
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import Final

import pytest

import storystick

ROOT: Final = Path(storystick.__file__).parent
OUTSIDE: Final = ("click", "reportlab", "pypdf", "svgwrite", "tomlkit")
FIRST: Final = ("errors", "wording", "lengths")
INNER_STAGES: Final = ("job", "layout", "tooling", "cutting", "assembly", "drawing", "sheets")
STAGES: Final = (*FIRST, *INNER_STAGES, "writers", "proof", "cli")
"""In the order in which they may know each other; "writers" and what comes after may use the libraries above."""


def module_name(path: Path) -> str:
    parts = path.relative_to(ROOT.parent).with_suffix("").parts
    return ".".join(parts[:-1] if parts[-1] == "__init__" else parts)


MODULES: Final = {module_name(path): path for path in sorted(ROOT.rglob("*.py"))}


def stage_of(module: str) -> str | None:
    """None for what joins the stages together, such as loading a job or printing it."""
    _, _, rest = module.partition(".")
    stage = rest.partition(".")[0]
    return stage if stage in STAGES else None


INNER: Final = [name for name in MODULES if (stage := stage_of(name)) and STAGES.index(stage) < STAGES.index("writers")]


@pytest.fixture(scope="module")
def loaded() -> dict[str, set[str]]:
    """What each inner module brings along that is not its own, each in a process of its own, all started at once."""
    program = "import sys, importlib; importlib.import_module(sys.argv[1]); print(*sys.modules)"
    started = {
        name: subprocess.Popen([sys.executable, "-c", program, name], stdout=subprocess.PIPE, text=True)
        for name in INNER
    }
    return {
        name: {module.partition(".")[0] for module in process.communicate()[0].split()}
        for name, process in started.items()
    }


@pytest.mark.parametrize("name", INNER)
def test_inner_stage_brings_no_library_of_the_outer_ones(name: str, loaded: dict[str, set[str]]) -> None:
    assert "storystick" in loaded[name]
    assert loaded[name].isdisjoint(OUTSIDE)


@pytest.mark.parametrize("name", [name for name in MODULES if stage_of(name)])
def test_stage_knows_only_the_stages_before_it(name: str) -> None:
    stage = stage_of(name)
    assert stage is not None
    known = {other for module in imports(MODULES[name], name) if (other := stage_of(module))}
    allowed = STAGES[: STAGES.index(stage) + 1] if stage not in FIRST else FIRST
    assert known <= set(allowed)


@pytest.mark.parametrize("name", [name for name in MODULES if stage_of(name) and stage_of(name) != "cli"])
def test_stage_does_not_know_what_joins_the_stages(name: str) -> None:
    joining = {module for module in MODULES if stage_of(module) is None and module != "storystick"}
    assert joining.isdisjoint(imports(MODULES[name], name))


def test_every_stage_has_modules() -> None:
    assert {stage_of(name) for name in MODULES} >= set(STAGES)


def imports(path: Path, name: str) -> Iterator[str]:
    """Every module of ours that a file names in an import, wherever it stands."""
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.ImportFrom):
            assert node.level == 0, f"{name} imports by a relative name"
            module = node.module or ""
            yield from (full if (full := f"{module}.{alias.name}") in MODULES else module for alias in node.names)
        elif isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
