"""Pages of shapes into a file. Each writer has the same signature."""

from __future__ import annotations

from collections.abc import Callable
from importlib import import_module
from typing import Final, TypeAlias

from storystick.errors import Fault
from storystick.sheets.document import Document
from storystick.writers.interrupts import interruptible

Writer: TypeAlias = Callable[[Document], bytes]

_MODULES: Final = {
    ".pdf": "storystick.writers.pdf",
    ".svg": "storystick.writers.svg",
}


def writer_for(ending: str) -> Writer:
    """The writer of files with this ending, such as ``".pdf"``; its library is loaded only now.

    Ctrl-C ends it at once.

    Raises:
        Fault: no writer has this ending.
    """
    if ending not in _MODULES:
        raise Fault(f'no file can be written that ends in "{ending}"', f"the endings are {', '.join(_MODULES)}")
    with interruptible():
        render: Writer = import_module(_MODULES[ending]).render

    def write(document: Document) -> bytes:
        with interruptible():
            return render(document)

    return write
