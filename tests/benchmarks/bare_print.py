"""The floor for printing: a plain script that draws so many lines, areas and letters on so many pages."""

from __future__ import annotations

import json
import sys
from pathlib import Path

from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont
from reportlab.pdfgen.canvas import Canvas

LETTERS = "0123456789 abcdefghijklmnopqrstuvwxyz 23/32 "


def main() -> None:
    plan = json.loads(Path(sys.argv[1]).read_text())
    for name, path in zip(("regular", "bold"), plan["fonts"], strict=True):
        pdfmetrics.registerFont(TTFont(name, path))
    for file, (*pages, text) in plan["files"].items():
        canvas = Canvas(str(Path(plan["folder"]) / f"bare-{file}"), pagesize=(792, 612), invariant=1, pageCompression=1)
        for page in pages:
            draw(canvas, page, (LETTERS * 9)[: text["letters"]])
            canvas.showPage()
        canvas.save()


def draw(canvas: Canvas, page: dict[str, int], words: str) -> None:
    for number in range(page.get("Line", 0)):
        canvas.setLineWidth(0.5)
        canvas.line(number % 700, 10, number % 700, 20.123456)
    for number in range(page.get("Box", 0)):
        canvas.setFillGray(0.86)
        canvas.rect(number % 700, 30, 20.123456, 30, stroke=0, fill=1)
    for number in range(page.get("Area", 0)):
        canvas.setFillGray(0)
        path = canvas.beginPath()
        path.moveTo(number % 700, 70)
        path.lineTo(number % 700, 80.123456)
        path.lineTo(number % 700 + 10, 80)
        path.close()
        canvas.drawPath(path, stroke=0, fill=1)
    for number in range(page.get("Text", 0)):
        canvas.setFont("bold" if number % 3 else "regular", 9)
        canvas.drawString(number % 500, number % 600, words)


main()
