"""Nosings: strips before the front edges of shelves. Exact, in mm."""

from __future__ import annotations

from fractions import Fraction

from storystick.job.keys import key, table
from storystick.job.kinds import SIZE
from storystick.job.openings import STOCK, Stock


@table("A strip before the front edge of each shelf; the board is less deep by it.", form='{ stock = "…", height = … }')
class Nosing:
    """A strip as deep as its stock is thick, flush with the upper face; ``height`` None is as thick as the shelf."""

    stock: Stock = key(STOCK, "its stock: the board is less deep by how thick that is", "frame")
    height: Fraction | None = key(
        SIZE, "how high it is, from the upper face of the shelf down", "1 1/2", default=None, otherwise="as the shelf"
    )
