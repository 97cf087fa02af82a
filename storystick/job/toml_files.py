"""A TOML file as its bytes, and as the tables that it holds."""

from __future__ import annotations

import os
import tomllib
from decimal import Decimal
from pathlib import Path

from storystick.errors import Fault
from storystick.job.model import Source
from storystick.job.spreadsheet import LARGEST_FILE, read_text


def load_source(path: Path) -> Source:
    """The file's bytes, or so many of them that it is known to be too large."""
    if path.is_dir():
        raise Fault("this is a folder", "give a file")
    try:
        with path.open("rb") as file:
            return Source(os.fsencode(path.name).decode(errors="replace"), file.read(LARGEST_FILE + 1))
    except FileNotFoundError:
        raise Fault("there is no such file", "look at its name and folder") from None
    except (OSError, ValueError):
        raise Fault("the file cannot be opened", "look whether you may read it") from None


def read_tables(source: Source) -> dict[str, object]:
    """The tables of a TOML file, its numbers as they are written."""
    try:
        return tomllib.loads(read_text(source), parse_float=Decimal)
    except tomllib.TOMLDecodeError as error:
        raise Fault(f"the file is not TOML: {error}", _cure(str(error))) from None
    except RecursionError:
        raise Fault("its lists and tables stand too deep in one another", "write them flatter") from None
    except (ArithmeticError, ValueError):
        raise Fault("a number or a date in it is beyond reading", "look for one with very many digits") from None


def _cure(error: str) -> str:
    if any(word in error for word in ("overwrite", "twice", "already")):
        return "a key or a table is given there that was given before: leave one of them out"
    return 'look there for a missing quote, bracket or equals sign: a length such as "5 1/2" is written in plain quotes'
