"""One direction only: no inner stage knows the command line, a file format, or a stage after it."""

from __future__ import annotations

import ast
import json
import os
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import Final

import pytest

import storystick

ROOT: Final = Path(storystick.__file__).parent
OUTSIDE: Final = (
    "click",
    "reportlab",
    "pypdf",
    "pypdfium2",
    "svgwrite",
    "tomlkit",
    "flask",
    "jinja2",
    "waitress",
    "watchfiles",
)
FIRST: Final = ("errors", "wording", "lengths", "outline")
INNER_STAGES: Final = ("job", "layout", "tooling", "cutting", "squaring", "gluing", "drawing", "sheets")
STAGES: Final = (*FIRST, *INNER_STAGES, "writers", "bench_sheet", "proof", "bench", "cli")
"""In the order in which they may know each other; "writers" and what comes after may use the libraries above."""

BENCH_ROOMS: Final = (
    *(
        "places",
        "declared",
        "file_kinds",
        "said",
        "lines",
        "files",
        "editing",
        "fields",
        "print_run",
        "print_plan",
        "state",
    ),
    *("draft", "asked", "pictures", "guard", "tabs", "pages", "app", "serving"),
)
"""The rooms of the page to work at, in the order in which they may know each other."""


def module_name(path: Path) -> str:
    parts = path.relative_to(ROOT.parent).with_suffix("").parts
    return ".".join(parts[:-1] if parts[-1] == "__init__" else parts)


MODULES: Final = {module_name(path): path for path in sorted(ROOT.rglob("*.py"))}


def stage_of(module: str) -> str | None:
    """None for what joins the stages together, such as loading a job or printing it."""
    _, _, rest = module.partition(".")
    stage = rest.partition(".")[0]
    return stage if stage in STAGES else None


def room_of(module: str) -> str | None:
    """Which room of the page a module is in; None for others."""
    _, _, rest = module.partition("storystick.bench.")
    return rest.partition(".")[0] or None


INNER: Final = [name for name in MODULES if (stage := stage_of(name)) and STAGES.index(stage) < STAGES.index("writers")]


@pytest.fixture(scope="module")
def brought() -> dict[str, list[str]]:
    """The modules that each inner module is the first to bring along, all imported one after the other afresh."""
    program = """
import importlib, json, sys
brought = {}
for name in sys.argv[1:]:
    before = set(sys.modules)
    importlib.import_module(name)
    brought[name] = sorted(set(sys.modules) - before)
print(json.dumps(brought))
"""
    done = subprocess.run([sys.executable, "-c", program, *INNER], capture_output=True, check=True)
    found: dict[str, list[str]] = json.loads(done.stdout)
    return found


@pytest.mark.parametrize("name", INNER)
def test_inner_stage_brings_no_library_of_the_outer_ones(name: str, brought: dict[str, list[str]]) -> None:
    assert {module.partition(".")[0] for module in brought[name]}.isdisjoint(OUTSIDE)


def test_inner_stages_are_looked_at_afresh(brought: dict[str, list[str]]) -> None:
    assert set(INNER) <= {module for modules in brought.values() for module in modules}


@pytest.mark.parametrize("name", [name for name in MODULES if stage_of(name)])
def test_stage_knows_only_the_stages_before_it(name: str) -> None:
    stage = stage_of(name)
    assert stage is not None
    known = {other for module in imports(MODULES[name], name) if (other := stage_of(module))}
    allowed = STAGES[: STAGES.index(stage) + 1] if stage not in FIRST else FIRST
    assert known <= set(allowed)


@pytest.mark.parametrize("name", [name for name in MODULES if stage_of(name) not in (None, "bench", "cli")])
def test_stage_does_not_know_what_joins_the_stages(name: str) -> None:
    joining = {module for module in MODULES if stage_of(module) is None and module != "storystick"}
    assert joining.isdisjoint(imports(MODULES[name], name))


@pytest.mark.parametrize("name", [name for name in MODULES if room_of(name)])
def test_room_of_the_page_knows_only_the_rooms_before_it(name: str) -> None:
    known = {room for module in imports(MODULES[name], name) if (room := room_of(module))}
    room = room_of(name)
    assert room is not None
    assert known <= set(BENCH_ROOMS[: BENCH_ROOMS.index(room) + 1])


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


def test_a_listing_of_plain_sticks_loads_nothing_that_only_other_jobs_need(tmp_path: Path) -> None:
    job = tmp_path / "plain.toml"
    stick = 'name = "side"\npart = "ply"\nopenings = ["8", "8"]\n'
    job.write_text(f'units = "inch"\n[stock]\nply = "3/4"\n[[stick]]\n{stick}', encoding="utf-8")
    program = """
import sys
from storystick.cli import main
main(["marks", sys.argv[1]], standalone_mode=False)
print(*sys.modules, file=sys.stderr)
"""
    settings = {**os.environ, "XDG_CONFIG_HOME": str(tmp_path)}  # where no shop file lies
    command = [sys.executable, "-c", program, str(job)]
    done = subprocess.run(command, env=settings, capture_output=True, check=True, text=True)
    loaded = set(done.stderr.split())
    of_others = ("joints", "cases", "fronts", "cabinets", "runs", "boards", "outlines", "shop", "tools", "spreadsheet")
    assert "storystick.job.sticks" in loaded
    assert loaded.isdisjoint(f"storystick.job.{name}" for name in of_others)
