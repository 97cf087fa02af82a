"""Walk through the page to work at, and keep pictures of it: ``python gallery/make_screens.py``.

It serves the page on a folder of its own, types the five-drawer case of the README, and writes ``gallery/the-page``.
It needs playwright, which the tests install, a Chromium (Debian: chromium), and pillow, which reportlab brings.
"""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import replace
from io import BytesIO
from pathlib import Path
from socket import create_server as listen
from tempfile import TemporaryDirectory
from threading import Thread
from typing import Any, Final

from PIL import Image
from playwright.sync_api import sync_playwright
from waitress.server import create_server

import storystick
from storystick.bench.app import create_app
from storystick.bench.files.folder import Folder
from storystick.bench.state import Bench
from storystick.sheets.print_choices import ALL, Formats

GALLERY: Final = Path(__file__).parent
TOKEN: Final = "for-pictures"
LARGE: Final = (1600, 1000)
MIDDLE: Final = (1000, 800)
PHONE: Final = (390, 844)
COLOURS: Final = 48


def main() -> None:
    """Every picture, in the order of the way."""
    out = GALLERY / "the-page"
    shutil.rmtree(out, ignore_errors=True)
    out.mkdir()
    with TemporaryDirectory() as place, served(Path(place)) as root, sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=shutil.which("chromium"), args=["--no-sandbox"])
        # A picture is taken with a style of its own, which the page forbids.
        page = browser.new_context(bypass_csp=True, reduced_motion="reduce").new_page()
        walk(page, f"{root}/?token={TOKEN}", out)
        bench_sheet(browser, Path(place), out)
        browser.close()


@contextmanager
def served(folder: Path) -> Iterator[str]:
    """The page on a port that is free."""
    listening = listen(("127.0.0.1", 0))
    port = listening.getsockname()[1]
    app = create_app(Bench(Folder(folder), None, lambda: None), TOKEN, port)
    server = create_server(app, sockets=[listening], threads=4)
    Thread(target=server.run, daemon=True).start()
    yield f"http://127.0.0.1:{port}"
    server.close()


def walk(page: Any, address: str, out: Path) -> None:
    """From the empty folder to the print."""
    page.set_viewport_size({"width": LARGE[0], "height": LARGE[1]})
    page.goto(address)
    keep(page, out / "start.png", MIDDLE)
    page.get_by_role("link", name="New cabinet").click()
    page.get_by_label("Overall height").fill("40")
    page.get_by_label("Sizes of the drawers").select_option("equal")
    page.get_by_role("button", name="Make the job").click()
    page.wait_for_selector("#view .picture")
    for width, height in (LARGE, MIDDLE, PHONE):
        keep(page, out / f"drawing-{width}.png", (width, height))
    page.set_viewport_size({"width": LARGE[0], "height": LARGE[1]})
    page.locator(".picture:not(.strip) a.place[aria-label^='drawer 2']").click()
    page.wait_for_function("() => document.activeElement.matches('#form input')")
    page.keyboard.press("Control+A")
    page.keyboard.type("six")
    page.locator("#form .fault:visible").wait_for()
    keep(page, out / "fault.png", LARGE)
    page.keyboard.press("Control+A")
    page.keyboard.type("6")
    page.keyboard.press("Control+S")
    page.wait_for_function("() => document.getElementById('save').disabled")
    show(page, "Square")
    page.locator("[data-of=rising]").first.fill("50 1/8")
    page.locator("[data-of=falling]").first.fill("49 7/8")
    page.locator(".rack svg").wait_for()
    page.locator(".rack").scroll_into_view_if_needed()
    keep(page, out / "square.png", MIDDLE)
    show(page, "Glue-up")
    page.locator("#view details.caution > summary").first.click()
    page.locator("#view input[type=checkbox]").first.check()
    keep(page, out / "glue-up.png", MIDDLE)
    show(page, "Print")
    page.get_by_role("button", name="Print into").click()
    page.locator(".print-files").wait_for(timeout=120_000)
    keep(page, out / "print.png", MIDDLE)


def show(page: Any, tab: str) -> None:
    page.get_by_role("tab", name=tab, exact=True).click()
    page.evaluate("() => bench.settled()")
    page.locator(f"#view[aria-labelledby=tab-{tab.lower()}]").wait_for()


def bench_sheet(browser: Any, folder: Path, out: Path) -> None:
    """The bench sheet of the same job on a phone."""
    layout = storystick.load(folder / "chest.toml")
    files = storystick.print_job(layout, folder / "sheet", replace(ALL, formats=Formats.HTML))
    sheet = next(file for file in files if file.suffix == ".html")
    for scheme in ("light", "dark"):
        page = browser.new_context(color_scheme=scheme).new_page()
        page.goto(sheet.as_uri())
        keep(page, out / f"bench-sheet-{scheme}.png", PHONE)


def keep(page: Any, picture: Path, size: tuple[int, int]) -> None:
    """What is in sight at a size in px, in few colours: the same bytes each time, and a small file."""
    page.set_viewport_size({"width": size[0], "height": size[1]})
    page.wait_for_load_state("networkidle")
    shot = Image.open(BytesIO(page.screenshot(animations="disabled", caret="hide"))).convert("RGB")
    shot.quantize(COLOURS, method=Image.Quantize.MEDIANCUT, dither=Image.Dither.NONE).save(picture, optimize=True)
    print(picture.relative_to(GALLERY))


if __name__ == "__main__":
    main()
