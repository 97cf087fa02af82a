"""The first page: the jobs of the folder."""

from __future__ import annotations

from typing import Final

from flask import Blueprint, render_template

from storystick.bench.state import the_bench

routes: Final = Blueprint("start", __name__)


@routes.get("/")
def page() -> str:
    """Every job of the folder, as a card."""
    return render_template("start.html", names=list(the_bench().folder.names()))
