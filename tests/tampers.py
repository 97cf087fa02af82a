"""What can be done to a print: harmless ways of saving it again, and everything that must be found.

Each tamper changes the first page or the file as a whole, by pikepdf, on a print with strips. Lengths are in points.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from io import BytesIO
from typing import Any, Final, TypeAlias

import pikepdf
from fontTools.ttLib import TTFont
from pikepdf import Array, Dictionary, Name, Pdf, String

MM: Final = 72 / 25.4
Tamper: TypeAlias = Callable[[Pdf], None]
BAND: Final = rb"0\.86 g (\S+) (\S+) (\S+) (\S+) re f"
FIGURE: Final = rb"\((1[\d.]+|\d[\d.]*1[\d.]*)\) Tj"
"""A figure with a 1 in it, which can be made to look like a 7."""

HAIRLINE: Final = rb"0\.510236 w \[\] 0 d (\S+) (\S+) m (\S+) (\S+) l S"


def tampered(data: bytes, tamper: Tamper) -> bytes:
    out = BytesIO()
    with pikepdf.open(BytesIO(data)) as pdf:
        tamper(pdf)
        pdf.save(out)
    return out.getvalue()


def content(change: Callable[[bytes], bytes]) -> Tamper:
    """The content of the first page changed as text."""

    def tamper(pdf: Pdf) -> None:
        before = pdf.pages[0].Contents.read_bytes()
        after = change(before)
        assert after != before
        pdf.pages[0].Contents = pdf.make_stream(after)

    return tamper


def wrapped(before: str, after: str = "Q") -> Tamper:
    return content(lambda text: before.encode() + b"\n" + text + b"\n" + after.encode())


def added(drawn: str) -> Tamper:
    return content(lambda text: text + b"\n" + drawn.encode())


def replaced(pattern: bytes, by: bytes, nth: int = 0) -> Tamper:
    """The nth place of a pattern in the content, with "\\1" and the like in what comes in its stead."""

    def change(text: bytes) -> bytes:
        found = list(re.finditer(pattern, text))[nth]
        return text[: found.start()] + found.expand(by) + text[found.end() :]

    return content(change)


def band(pdf: Pdf) -> tuple[float, float, float, float]:
    """The second band of the page: left, bottom, width, height."""
    found = list(re.finditer(BAND, pdf.pages[0].Contents.read_bytes()))[1]
    x, y, width, height = map(float, found.groups())
    return x, y, width, height


def on_band(drawn: str) -> Tamper:
    """Something drawn over the second band, whose left, bottom, right and top are {0} to {3}."""

    def tamper(pdf: Pdf) -> None:
        x, y, width, height = band(pdf)
        added(drawn.format(x, y, x + width, y + height, width, height))(pdf)

    return tamper


def band_changed(left: float = 0, bottom: float = 0, width: float = 0, grey: str = "0.86", way: str = "f") -> Tamper:
    def change(text: bytes) -> bytes:
        found = list(re.finditer(BAND, text))[1]
        x, y, wide, high = map(float, found.groups())
        new = f"{grey} g {x + left:.6f} {y + bottom:.6f} {wide + width:.6f} {high:.6f} re {way}"
        return text[: found.start()] + new.encode() + text[found.end() :]

    return content(change)


def check_bar(pdf: Pdf) -> tuple[float, float, float]:
    """The level check bar: left, bottom, length. It is the lowest and longest of the thin boxes."""
    boxes = re.findall(rb"0 g (\S+) (\S+) (\S+) 1\.133858 re f", pdf.pages[0].Contents.read_bytes())
    return min(((float(x), float(y), float(length)) for x, y, length in boxes), key=lambda bar: (bar[1], -bar[2]))


def on_check_bar(drawn: str) -> Tamper:
    def tamper(pdf: Pdf) -> None:
        x, y, length = check_bar(pdf)
        added(drawn.format(x, y, x + length, y + 4 * MM, length, 4 * MM))(pdf)

    return tamper


def check_bar_end(by: float) -> Tamper:
    """The far end of the level check bar moved: the last of the two boxes that stand on it."""

    def tamper(pdf: Pdf) -> None:
        _, y, _ = check_bar(pdf)
        upright = rb"0 g (\S+) (%s) (1\.133858) (\S+) re f" % f"{y:.6f}".rstrip("0").replace(".", r"\.").encode()
        change = rb"q 1 0 0 1 %.4f 0 cm \g<0> Q" % by
        replaced(upright, change, 1)(pdf)

    return tamper


def transformed(a: float, b: float, c: float, d: float, e: float = 0, f: float = 0) -> Tamper:
    return wrapped(f"q {a} {b} {c} {d} {e} {f} cm")


def figure(by: bytes) -> Tamper:
    """A figure with a 1 in it changed: "\\1" is the figure."""
    return replaced(FIGURE, by)


def before_figure(operators: str) -> Tamper:
    return figure(operators.encode() + rb" (\1) Tj " + (b"0 Tc 0 Tw 0 Ts 100 Tz 0 Tr 0 g"))


def exchanged_figures(text: bytes) -> bytes:
    one, *others = re.finditer(rb"\((\d\d[\d.]*)\) Tj", text)
    other = next(other for other in others if other[0] != one[0])
    return text[: one.start()] + other[0] + text[one.end() : other.start()] + one[0] + text[other.end() :]


def bold(pdf: Pdf) -> Name:
    """The font of the first figure."""
    text = pdf.pages[0].Contents.read_bytes()
    place = next(re.finditer(FIGURE, text)).start()
    return Name(re.findall(rb"(/F\S+) [\d.]+ Tf", text[:place])[-1].decode())


def with_font(font: Callable[[Pdf, pikepdf.Object], pikepdf.Object]) -> Tamper:
    def tamper(pdf: Pdf) -> None:
        fonts = pdf.pages[0].Resources.Font
        fonts[bold(pdf)] = pdf.make_indirect(font(pdf, fonts[bold(pdf)]))

    return tamper


def glyph_of_7(pdf: Pdf, font: pikepdf.Object) -> pikepdf.Object:
    """The same font, whose 1 is drawn as its 7."""
    file = TTFont(BytesIO(font.FontDescriptor.FontFile2.read_bytes()))
    names = next(table.cmap for table in file["cmap"].tables if ord("1") in table.cmap or 0xF031 in table.cmap)
    one, seven = (names.get(ord(sign)) or names[0xF000 + ord(sign)] for sign in "17")
    file["glyf"][one] = file["glyf"][seven]
    out = BytesIO()
    file.save(out)
    changed = Dictionary(font)
    changed.FontDescriptor = Dictionary(font.FontDescriptor)
    changed.FontDescriptor.FontFile2 = pdf.make_stream(out.getvalue(), Length1=len(out.getvalue()))
    return changed


def helvetica(_: Pdf, __: pikepdf.Object) -> pikepdf.Object:
    return Dictionary(Type=Name.Font, Subtype=Name.Type1, BaseFont=Name("/Helvetica-Bold"))


def helvetica_of_7(_: Pdf, font: pikepdf.Object) -> pikepdf.Object:
    encoding = Dictionary(Type=Name.Encoding, Differences=[49, Name.seven])
    own = {"Widths": font.Widths, "FirstChar": font.FirstChar, "LastChar": font.LastChar}
    return Dictionary(Type=Name.Font, Subtype=Name.Type1, BaseFont=Name("/Helvetica-Bold"), Encoding=encoding, **own)


def drawn_font(glyph: bytes) -> Callable[[Pdf, pikepdf.Object], pikepdf.Object]:
    """A Type 3 font with the widths of the one that was there, each letter of it drawn alike."""

    def font(pdf: Pdf, was: pikepdf.Object) -> pikepdf.Object:
        names = [Name(f"/g{code}") for code in range(128)]
        glyphs = Dictionary({str(name): pdf.make_stream(b"600 0 0 0 600 700 d1 " + glyph) for name in names})
        return Dictionary(
            Type=Name.Font,
            Subtype=Name.Type3,
            FontBBox=[0, 0, 1000, 1000],
            FontMatrix=[0.001, 0, 0, 0.001, 0, 0],
            CharProcs=glyphs,
            Encoding=Dictionary(Type=Name.Encoding, Differences=[0, *names]),
            FirstChar=0,
            LastChar=127,
            Widths=was.Widths,
            ToUnicode=was.ToUnicode,
        )

    return font


def with_settings(use: Callable[[str], Tamper], **settings: Any) -> Tamper:
    """A graphics state, put on by ``use``, which is given the operators for it."""

    def tamper(pdf: Pdf) -> None:
        made = {f"/{key}": soft_mask(pdf) if key == "SMask" else value for key, value in settings.items()}
        pdf.pages[0].Resources.ExtGState = Dictionary(Odd=Dictionary(made))
        use("/Odd gs")(pdf)

    return tamper


def soft_mask(pdf: Pdf) -> pikepdf.Object:
    """It lets the left of the page through."""
    box = Array([0, 0, 300, 2000])
    group = Dictionary(S=Name.Transparency, CS=Name.DeviceGray)
    form = pdf.make_stream(b"1 g 0 0 300 2000 re f", Type=Name.XObject, Subtype=Name.Form, BBox=box, Group=group)
    return Dictionary(S=Name.Luminosity, G=form)


def with_form(drawn: str, used: Callable[[str], Tamper], **keys: Any) -> Tamper:
    def tamper(pdf: Pdf) -> None:
        box = Array([-5000, -5000, 5000, 5000])
        form = pdf.make_stream(drawn.encode(), Type=Name.XObject, Subtype=Name.Form, BBox=box)
        for key, value in keys.items():
            form[f"/{key}"] = value
        pdf.pages[0].Resources.XObject = Dictionary(Odd=form)
        used("/Odd Do")(pdf)

    return tamper


def all_in_a_form(use: str = "/Odd Do", cut: float = 0, **keys: Any) -> Tamper:
    """All of the page in a form, which is ``cut`` off at the left edge of the second band."""

    def tamper(pdf: Pdf) -> None:
        page = pdf.pages[0]
        box = Array([band(pdf)[0] + cut if cut else 0, 0, *list(page.MediaBox)[2:]])
        form = pdf.make_stream(page.Contents.read_bytes(), Type=Name.XObject, Subtype=Name.Form, BBox=box)
        form.Resources = page.Resources
        for key, value in keys.items():
            form[f"/{key}"] = value
        page.Resources = Dictionary(XObject=Dictionary(Odd=form))
        page.Contents = pdf.make_stream(use.encode())

    return tamper


def with_picture(use: Callable[[str], Tamper], grey: int = 255) -> Tamper:
    def tamper(pdf: Pdf) -> None:
        keys = {"Width": 1, "Height": 1, "ColorSpace": Name.DeviceGray, "BitsPerComponent": 8}
        picture = pdf.make_stream(bytes([grey]), Type=Name.XObject, Subtype=Name.Image, **keys)
        pdf.pages[0].Resources.XObject = Dictionary(Odd=picture)
        use("/Odd Do")(pdf)

    return tamper


def with_shade(use: str) -> Tamper:
    """White in all of a shading, by ``sh`` or as a pattern."""

    def tamper(pdf: Pdf) -> None:
        steps = Dictionary(FunctionType=2, Domain=[0, 1], C0=[1], C1=[1], N=1)
        shade = Dictionary(
            ShadingType=2, ColorSpace=Name.DeviceGray, Coords=[0, 0, 1, 0], Function=steps, Extend=[True] * 2
        )
        pdf.pages[0].Resources.Shading = Dictionary(Odd=shade)
        pdf.pages[0].Resources.Pattern = Dictionary(Odd=Dictionary(PatternType=2, Shading=shade))
        on_band(use)(pdf)

    return tamper


def layer(use: Callable[[str], Tamper], states: Callable[[pikepdf.Object], dict[str, Any]], **keys: Any) -> Tamper:
    """A layer of some states, which ``use`` draws in by the operators it is given."""

    def tamper(pdf: Pdf) -> None:
        group = pdf.make_indirect(Dictionary(Type=Name.OCG, Name="layer", **keys))
        pdf.Root.OCProperties = Dictionary(OCGs=[group], D=Dictionary(states(group)))
        pdf.pages[0].Resources.Properties = Dictionary(Odd=group)
        use("/OC /Odd BDC")(pdf)

    return tamper


def usage(view: Name, print_: Name) -> dict[str, Any]:
    """What a layer is used for."""
    return {"Usage": Dictionary(View=Dictionary(ViewState=view), Print=Dictionary(PrintState=print_))}


def automatic(group: pikepdf.Object) -> dict[str, Any]:
    events = [Dictionary(Event=Name(f"/{on}"), Category=[Name(f"/{on}")], OCGs=[group]) for on in ("View", "Print")]
    return {"/AS": events}


def note(kind: str, where: Callable[[Pdf], list[float]], looks: str = "", flags: int = 4, **keys: Any) -> Tamper:
    """An annotation, with an appearance of its own if ``looks`` is drawn in a square of 100 points."""

    def tamper(pdf: Pdf) -> None:
        made = Dictionary(Type=Name.Annot, Subtype=Name(f"/{kind}"), F=flags, Contents=String("!"), **keys)
        if place := where(pdf):
            made.Rect = Array(place)
        if looks:
            form = pdf.make_stream(looks.encode(), Type=Name.XObject, Subtype=Name.Form, BBox=Array([0, 0, 100, 100]))
            made.AP = Dictionary(N=form)
        pdf.pages[0].Annots = Array([pdf.make_indirect(made)])
        if kind == "Widget":
            pdf.Root.AcroForm = Dictionary(Fields=pdf.pages[0].Annots)

    return tamper


def band_place(pdf: Pdf) -> list[float]:
    x, y, width, height = band(pdf)
    return [x, y, x + width, y + height]


def bar_place(pdf: Pdf) -> list[float]:
    x, y, length = check_bar(pdf)
    return [x + length / 2, y, x + length, y + 4 * MM]


def page_key(key: str, change: Callable[[pikepdf.Object], Any]) -> Tamper:
    def tamper(pdf: Pdf) -> None:
        pdf.pages[0][f"/{key}"] = change(pdf.pages[0].MediaBox)

    return tamper


def smaller_by(edge: float) -> Callable[[pikepdf.Object], Array]:
    return lambda box: Array([edge, edge, float(box[2]) - edge, float(box[3]) - edge])


def asked(**wishes: Any) -> Tamper:
    def tamper(pdf: Pdf) -> None:
        for key, value in wishes.items():
            pdf.Root.ViewerPreferences[f"/{key}"] = value

    return tamper


def root_key(key: str, value: Any) -> Tamper:
    def tamper(pdf: Pdf) -> None:
        pdf.Root[f"/{key}"] = value

    return tamper


def scaled_with_box(pdf: Pdf) -> None:
    transformed(0.97, 0, 0, 0.97)(pdf)
    page_key("MediaBox", lambda box: Array([0, 0, float(box[2]) * 0.97, float(box[3]) * 0.97]))(pdf)


def first_page_gone(pdf: Pdf) -> None:
    del pdf.pages[0]


def page_twice(pdf: Pdf) -> None:
    pdf.pages.append(pdf.pages[0])


def first_page_instead_of_last(pdf: Pdf) -> None:
    pdf.pages[-1] = pdf.pages[0]


def blank_page(pdf: Pdf) -> None:
    pdf.add_blank_page(page_size=pdf.pages[0].mediabox[2:])


def contents_exchanged(pdf: Pdf) -> None:
    one, other = pdf.pages[0], pdf.pages[1]
    one.Contents, other.Contents = other.Contents, one.Contents
    one.Resources, other.Resources = other.Resources, one.Resources


def labels_gone(pdf: Pdf) -> None:
    del pdf.Root.PageLabels


def job_changed(pdf: Pdf) -> None:
    (name,) = (name for name in pdf.attachments if name.endswith(".toml"))
    text = pdf.attachments[name].get_file().read_bytes()
    pdf.attachments[name] = pikepdf.AttachedFileSpec(pdf, text.replace(b"12", b"13"), filename=name)


JAVASCRIPT: Final = Dictionary(S=Name.JavaScript, JS=String("this.print({bUI: false, bShrinkToFit: true});"))
WHITE_BOX: Final = "1 g {0} {1} {4} {5} re f"


def _tampers() -> Iterator[tuple[str, Tamper]]:
    yield from {
        "content at 97 %": transformed(0.97, 0, 0, 0.97),
        "content at 103 %": transformed(1.03, 0, 0, 1.03),
        "content at 97 % along": transformed(0.97, 0, 0, 1),
        "content at 97 % across": transformed(1, 0, 0, 0.97),
        "content at 99.99 %": transformed(0.9999, 0, 0, 0.9999),
        "content at 100.001 %": transformed(1.00001, 0, 0, 1.00001),
        "content shifted by 3 mm": transformed(1, 0, 0, 1, 3 * MM),
        "content shifted by 0.002 mm": transformed(1, 0, 0, 1, 0, 0.002 * MM),
        "content turned by a tenth of a degree": transformed(1, 0.001745, -0.001745, 1),
        "content mirrored": transformed(-1, 0, 0, 1, 842),
        "content slanted": transformed(1, 0, 0.001, 1),
        "page and content at 97 %": scaled_with_box,
        "unit of 1.5 points": page_key("UserUnit", lambda _: 1.5),
        "unit of 1.001 points": page_key("UserUnit", lambda _: 1.001),
        **{f"page turned by {turn}": page_key("Rotate", lambda _, turn=turn: turn) for turn in (90, 180, 270)},
        **{
            f"{key} smaller by {edge} points": page_key(key, smaller_by(edge))
            for key in ("MediaBox", "CropBox", "BleedBox", "TrimBox", "ArtBox")
            for edge in (3, 60)
        },
        "page larger": page_key("MediaBox", smaller_by(-20)),
    }.items()
    yield from {
        "band moved by 0.05 mm": band_changed(left=0.05 * MM),
        "band moved by 0.002 mm": band_changed(left=0.002 * MM),
        "band moved across": band_changed(bottom=0.3 * MM),
        "band wider by 0.01 mm": band_changed(width=0.01 * MM),
        "band narrower by a mm": band_changed(width=-MM),
        "band darker": band_changed(grey="0.5"),
        "band lighter": band_changed(grey="0.93"),
        "band white": band_changed(grey="1"),
        "band outlined": band_changed(way="B"),
        "band only outlined": band_changed(way="S"),
        "band missing": replaced(BAND, b"", 1),
        "band twice": on_band("0.86 g 1 0 0 1 60 0 cm {0} {1} {4} {5} re f"),
        "band tinted by colour": on_band("0.9 1 0.9 rg {0} {1} {4} {5} re f"),
        "hairline moved by 0.05 mm": replaced(HAIRLINE, rb"q 1 0 0 1 0.1417 0 cm \g<0> Q", 5),
        "hairline missing": replaced(HAIRLINE, b"", 5),
        "hairline bolder": replaced(rb"0\.510236 w", b"1.2 w", 5),
        "hairline dashed": replaced(rb"0\.510236 w \[\]", b"0.510236 w [1.5 1.5]", 5),
        "hairlines with round ends": wrapped("q 1 J"),
        "hairline white": replaced(HAIRLINE, rb"1 G \g<0> 0 G", 5),
        "end of the check bar moved by 1 mm": check_bar_end(MM),
        "white box over the check bar": on_check_bar(WHITE_BOX),
        "white box over the end of the check bar": on_check_bar("1 g {0} {1} 6 {5} re f"),
        "black box in the check bar": on_check_bar("0 g 1 0 0 1 80 5 cm {0} {1} 3 3 re f"),
        "picture over the check bar": with_picture(lambda use: on_check_bar("q {4} 0 0 {5} {0} {1} cm " + use + " Q")),
        "check bar of another length": replaced(rb"\(check: (\d)(\d+) mm", rb"(check: 9\2 mm"),
    }.items()
    yield from {
        "figure with another digit": figure(rb"(7) Tj"),
        "figures exchanged": content(exchanged_figures),
        "figure missing": figure(b""),
        "figure raised (Ts)": before_figure("3 Ts"),
        "figure spaced (Tc)": before_figure("2 Tc"),
        "figure drawn together (Tc)": before_figure("-3 Tc"),
        "figure narrow (Tz)": before_figure("50 Tz"),
        "words spaced (Tw)": replaced(rb"\((\w+ \d+)\) Tj", rb"20 Tw (\1) Tj 0 Tw"),
        "figure moved (TJ)": figure(rb"[-2000 (\1)] TJ"),
        "figure torn apart (TJ)": replaced(rb"\((\d)(\d+)\) Tj", rb"[(\1) -600 (\2)] TJ"),
        "figure moved (Td)": figure(rb"8 0 Td (\1) Tj"),
        "figure split and moved": replaced(rb"\((\d)(\d+)\) Tj", rb"(\1) Tj 20 0 Td (\2) Tj"),
        "figure turned": figure(rb"0.7 0.7 -0.7 0.7 200 200 Tm (\1) Tj"),
        "figure unseen (3 Tr)": before_figure("3 Tr"),
        "figure outlined (1 Tr)": before_figure("1 Tr"),
        "figure cut out (7 Tr)": before_figure("7 Tr"),
        "figure white": before_figure("1 g"),
        "figure pale": before_figure("0.9 g"),
        "figure tiny": replaced(rb"(/F\S+) [\d.]+ Tf ([\d.]+) TL " + FIGURE, rb"\1 1 Tf \2 TL (\3) Tj"),
        "figure larger": replaced(rb"(/F\S+) [\d.]+ Tf ([\d.]+) TL " + FIGURE, rb"\1 16 Tf \2 TL (\3) Tj"),
        "figure with a full stop": replaced(rb"\((\d\d)(\d)\) Tj", rb"(\1.\2) Tj"),
        "full stop put between two figures": figure(rb"(\1) Tj -6 0 Td (.) Tj"),
        "full stop after a figure": figure(rb"(\1.) Tj"),
        "minus before a figure": figure(rb"-6 0 Td (-\1) Tj"),
        "figure with a digit more": figure(rb"(\g<1>1) Tj"),
        "figure twice": figure(rb"(\1) Tj -4 0 Td (\1) Tj"),
        "1 as 7 by a stroke": figure(rb"(\1) Tj 0 9 Td (-) Tj"),
        "font whose 1 is a 7": with_font(glyph_of_7),
        "other font": with_font(helvetica),
        "other font whose 1 is a 7 (/Differences)": with_font(helvetica_of_7),
        "empty Type 3 font": with_font(drawn_font(b"")),
        "Type 3 font of boxes": with_font(drawn_font(b"0 0 500 700 re f")),
        "version changed": replaced(rb"[0-9a-f]{6}( \\001)", rb"0a1b2c\1"),
        "hand changed": replaced(rb"LEFT", b"RIGHT"),
        "letter missing": replaced(rb"opening", b"openng"),
    }.items()
    yield from {
        "all pale": with_settings(lambda use: wrapped(f"q {use}"), ca=0.5, CA=0.5),
        "half behind a soft mask": with_settings(lambda use: wrapped(f"q {use}"), SMask=True),
        "all drawn by Screen on grey": with_settings(
            lambda use: wrapped(f"q 0.6 g 0 0 2000 2000 re f {use}"), BM=Name.Screen
        ),
        "band lightened by Difference": with_settings(lambda use: on_band(f"{use} {WHITE_BOX}"), BM=Name.Difference),
        "band lightened by ColorDodge": with_settings(lambda use: on_band(f"{use} {WHITE_BOX}"), BM=Name.ColorDodge),
        "figure darkened away by Exclusion": with_settings(
            lambda use: on_band(f"{use} {WHITE_BOX}"), BM=Name.Exclusion
        ),
        "faint veil": with_settings(lambda use: on_band(f"{use} {WHITE_BOX}"), ca=0.4),
        "lines with square ends by a setting": with_settings(lambda use: wrapped(f"q {use}"), LC=2),
        "white box over a band": on_band(WHITE_BOX),
        "white line along the edge of a band": on_band("1 G 0.14 w {0} {1} m {0} {3} l S"),
        "black line along the edge of a band": on_band("0 G 0.14 w {2} {1} m {2} {3} l S"),
        "white box over all": added("1 g -50 -50 3000 3000 re f"),
        "white curve over all": added("1 g 0 0 m 900 0 l 900 700 l 0 700 0 500 0 0 c f"),
        "white picture over a band": with_picture(lambda use: on_band("q {4} 0 0 {5} {0} {1} cm " + use + " Q")),
        "grey picture over a band": with_picture(lambda use: on_band("q {4} 0 0 {5} {0} {1} cm " + use + " Q"), 200),
        "picture in line over a band": on_band("q {4} 0 0 {5} {0} {1} cm BI /W 1 /H 1 /CS /G /BPC 8 ID \x7f EI Q"),
        "shade over a band": with_shade("q {0} {1} {4} {5} re W n /Odd sh Q"),
        "white pattern over a band": with_shade("/Pattern cs /Odd scn {0} {1} {4} {5} re f"),
        "white form over a band": with_form(
            "1 g 0 0 1 1 re f", lambda use: on_band("q {4} 0 0 {5} {0} {1} cm " + use + " Q")
        ),
        "words over a band": on_band("BT /F1+0 9 Tf {0} {1} Td (12) Tj ET"),
        "watermark": added("BT /F1+0 120 Tf 0.8 g 0.7 0.7 -0.7 0.7 200 100 Tm (12) Tj ET"),
        "mark added": on_band("0 g 1 0 0 1 30 0 cm {0} {1} 0.5 {5} re f"),
    }.items()
    yield from {
        "left of the page cut off": wrapped("q 300 0 9999 9999 re W n"),
        "0.05 mm of a band cut off": content(
            lambda text: re.sub(
                BAND, lambda m: b"q %.5f 0 9999 9999 re W n %s Q" % (float(m[1]) + 0.1417, m[0]), text, count=1
            )
        ),
        "cut off by a triangle": wrapped("q 0 0 m 0 9999 l 9999 9999 l h W n"),
        "cut off by a curve through the corners of a rectangle": wrapped("q 0 0 m 0 2000 2000 2000 2000 0 c h W n"),
        "cut off by an hourglass": wrapped("q 0 0 m 0 9999 l 9999 0 l 9999 9999 l h W n"),
        "cut out by even and odd": wrapped("q 0 0 9999 9999 re 100 100 300 300 re W* n"),
        "cut off by letters": wrapped("q BT /F1+0 9 Tf 7 Tr (8) Tj ET"),
        "form at 98 %": all_in_a_form(Matrix=Array([0.98, 0, 0, 0.98, 0, 0])),
        "form put at 98 %": all_in_a_form("0.98 0 0 0.98 0 0 cm /Odd Do"),
        "form that cuts 0.05 mm off a band": all_in_a_form(cut=0.05 * MM),
        "form cut off as a whole": all_in_a_form("200 0 400 400 re W n /Odd Do"),
        "form that is not drawn": all_in_a_form("q Q"),
        "form drawn twice": all_in_a_form("/Odd Do 1 0 0 1 9 0 cm /Odd Do"),
        "pale form": all_in_a_form("/Odd Do", Group=Dictionary(S=Name.Transparency, I=True)),
    }.items()
    yield from {
        "all in a layer that is off": layer(lambda use: wrapped(use, "EMC"), lambda group: {"/OFF": [group]}),
        "all in a layer off unless on": layer(lambda use: wrapped(use, "EMC"), lambda _: {"/BaseState": Name.OFF}),
        "all in a layer that does not print": layer(
            lambda use: wrapped(use, "EMC"), automatic, **usage(Name.ON, Name.OFF)
        ),
        "all in a layer that only prints": layer(
            lambda use: wrapped(use, "EMC"), automatic, **usage(Name.OFF, Name.ON)
        ),
        "white box in a layer that only prints": layer(
            lambda use: on_band(f"{use} {WHITE_BOX} EMC"), automatic, **usage(Name.OFF, Name.ON)
        ),
        "white box in a layer that is only seen": layer(
            lambda use: on_band(f"{use} {WHITE_BOX} EMC"), automatic, **usage(Name.ON, Name.OFF)
        ),
        "figure in a layer that is off": layer(
            lambda use: figure(use.encode() + rb" (\1) Tj EMC"), lambda group: {"/OFF": [group]}
        ),
        "figure in a layer that does not print": layer(
            lambda use: figure(use.encode() + rb" (\1) Tj EMC"), automatic, **usage(Name.ON, Name.OFF)
        ),
        "stamp on a band": note("Stamp", band_place, "1 g 0 0 100 100 re f"),
        "stamp on a band that only prints": note("Stamp", band_place, "1 g 0 0 100 100 re f", flags=4 | 32),
        "stamp on a band that does not print": note("Stamp", band_place, "1 g 0 0 100 100 re f", flags=0),
        "stamp on the check bar": note("Stamp", bar_place, "1 g 0 0 100 100 re f"),
        "square on a band": note("Square", band_place, IC=Array([1, 1, 1]), C=Array([1, 1, 1])),
        "words written on a band": note("FreeText", band_place, DA=String("/Helv 9 Tf 0 g")),
        "words struck out": note("StrikeOut", band_place, QuadPoints=Array([0, 20, 60, 20, 0, 0, 60, 0])),
        "field on a band": note("Widget", band_place, "0.5 g 0 0 100 100 re f", FT=Name.Tx, T=String("a")),
        "link with a border on a band": note("Link", band_place, Border=Array([0, 0, 5])),
        "blackened band": note("Redact", band_place, "0 g 0 0 100 100 re f"),
        "note that does not say where": note("Text", lambda _: []),
    }.items()
    yield from {
        "first page missing": first_page_gone,
        "first page twice": page_twice,
        "pages exchanged": lambda pdf: pdf.pages.reverse(),
        "contents of two pages exchanged": contents_exchanged,
        "first page in the place of the last": first_page_instead_of_last,
        "blank page added": blank_page,
        "page labels gone": labels_gone,
        "scaling left to the viewer": asked(PrintScaling=Name.AppDefault),
        "two-sided": asked(Duplex=Name.DuplexFlipLongEdge),
        "print area of the trim box": asked(PrintArea=Name.TrimBox),
        "printing cut off at the art box": asked(PrintClip=Name.ArtBox),
        "shown by the bleed box": asked(ViewArea=Name.BleedBox),
        "one page printed": asked(PrintPageRange=Array([1, 1])),
        "three copies": asked(NumCopies=3),
        "script on opening": root_key("OpenAction", JAVASCRIPT),
        "script on printing": root_key("AA", Dictionary(WP=JAVASCRIPT)),
        "another job inside": job_changed,
    }.items()


TAMPERS: Final[dict[str, Tamper]] = dict(_tampers())
