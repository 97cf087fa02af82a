"""A few of the servers that ``tests/save_kills.py`` kills while they save."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

KILLS = Path(__file__).parents[1] / "save_kills.py"


@pytest.mark.skipif(not hasattr(os, "fork"), reason="this system does not fork")
def test_file_is_whole_wherever_a_save_was_killed() -> None:
    # In a process of its own: one with threads may not be copied.
    ended = subprocess.run([sys.executable, KILLS, "6"], capture_output=True, text=True, check=False, timeout=120)
    assert ended.returncode == 0, ended.stderr
    assert "versions saved" in ended.stdout
