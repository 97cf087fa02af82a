"""A draft: a job's text as it stands on the page, read with the files that lie beside it in its folder."""

from __future__ import annotations

from dataclasses import dataclass, field

from storystick.bench.folder import Folder
from storystick.errors import Fault, StorystickError
from storystick.job.sources import Source
from storystick.laying_out import load_sources
from storystick.layout.stations import Layout


@dataclass(frozen=True, slots=True)
class Draft:
    """The text of the file ``name``, what is laid out of it, None where nothing can be, and all of its faults."""

    name: str
    text: str = field(repr=False)
    layout: Layout | None
    faults: tuple[Fault, ...]


def read_draft(folder: Folder, name: str, text: str) -> Draft:
    """Read a text in the place of a file of the folder."""
    beside = [
        Source(file.name, file.read_bytes())
        for file in folder.path.iterdir()
        if file.is_file() and file.name != name and (file.suffix == ".csv" or file.name == "shop.toml")
    ]
    try:
        return Draft(name, text, load_sources([Source(name, text.encode()), *beside]), ())
    except StorystickError as error:
        return Draft(name, text, None, error.faults)
