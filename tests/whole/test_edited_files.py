"""Files that a stranger or a slip has changed by structure: told in words, within time and memory, and nothing is lost.

Every case is a few edits (`edited.py`); those that once failed are kept as examples. DOCGEN_EXAMPLES=1000 tries more.
"""

import csv
import io
import os
import re
import shutil
import struct
import tomllib
import xml.etree.ElementTree as ET
import zlib
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Any

import pytest
from disk import Run, is_hidden, load_commands, read_all
from edited import EDITS, Edit, apply, write_toml
from hypothesis import HealthCheck, given, settings
from PIL import Image
from pypdf import PdfReader, PdfWriter
from pypdf.generic import ArrayObject, DictionaryObject, NameObject, NumberObject, TextStringObject

pytestmark = pytest.mark.skipif(not hasattr(os, "fork"), reason="the system parts no processes")

EXAMPLES = int(os.environ.get("DOCGEN_EXAMPLES", "6"))
SECONDS, BYTES = 10, 400 * 1024 * 1024
CODES = (0, 1, 2, 3, 4, 5, 6)
"""What README says a command ends with, but a fault of its own."""

kept = settings(
    max_examples=EXAMPLES,
    deadline=None,
    derandomize=True,
    database=None,
    suppress_health_check=[HealthCheck.function_scoped_fixture],
)

SPEC = """\
[spec]
code = "tag"
title = "Tag"
version = "1"
[shop]
link = "https://example.org/b"
[measures]
width = "3 in"
[materials.hide]
kind = "leather"
thickness = "3-4 oz"
[stitches.main]
by = "hand"
thread = "Tex 180 waxed polyester"
pitch = "4 mm"
inset = "4 mm"
[pieces.back]
of = "hide"
shape = "rectangle"
size = ["width", "4 in"]
holes = [{ at = "1/2 in from top, centre", punch = "3/16 in" }]
[pieces.front]
like = "back"
mirror = true
[pieces.flap]
of = "hide"
shape = "drawing"
file = "flap.svg"
element = "flap"
scale = "1 mm"
[seams.round]
stitch = "main"
meet = ["front: left bottom right", "back: left bottom right"]
[straps.tie]
of = "hide"
width = "20 mm"
finished = "200 mm"
ends = [{ shape = "square" }, { shape = "pointed" }]
[[steps]]
do = "Sew front to back."
seams = ["round"]
"""
DRAWING = """\
<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 80 60">
<g transform="translate(1 1) rotate(3)"><path id="flap" d="M0 0H70C75 0 75 10 75 20A9 9 0 0 1 60 40L0 50Z"/>
<circle cx="20" cy="20" r="3"/></g></svg>"""
SHOP = '[pattern]\npaper = "a4"\n[printers.attic]\nacross = "99.2 mm"\ndown = "100.5 mm"\n[limits]\nhole-edge = "2 times"\n'
ORDERS = [["name", "serial", "date", "how many"], ["Ada", "A-1", "2026-03-31", "2"], ["Bo", "A-2", "31.3.2026", "1"]]


@pytest.fixture(scope="module")
def start(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with a spec, what it draws on, an issued version, and a page of it."""
    folder = tmp_path_factory.mktemp("edited") / "work"
    folder.mkdir()
    for name, text in (("tag.toml", SPEC), ("flap.svg", DRAWING), ("shop.toml", SHOP)):
        (folder / name).write_text(text)
    load_commands()
    make = ("make", "tag.toml", "--out", "out", "--only", "care-card", "--date", "2026-03-31")
    for call in (("issue", "tag.toml", "--date", "2026-03-31"), make, ("layouts", "layouts")):
        code, words = Run(call, lambda name: None, folder, folder.with_suffix(".told")).end()
        assert code == 0, words
    Image.new("L", (40, 30), 255).save(folder / "photo.png")
    return folder


Change = Callable[[Path], None]


@pytest.fixture
def try_on(start: Path, tmp_path: Path) -> Callable[..., None]:
    """try_on(change, call, ...) -> every call is held to its bounds where a folder was changed."""

    def try_all(change: Change, *calls: Sequence[str]) -> None:
        work = tmp_path / "work"
        shutil.rmtree(work, ignore_errors=True)
        shutil.copytree(start, work)
        change(work)
        before = read_all(work)
        for call in calls:
            run = Run(call, lambda name: None, work, tmp_path / "told", limits=(SECONDS, BYTES))
            code, words = run.end()
            assert code in CODES, (call, code, words)
            assert "Traceback" not in words
            after = read_all(work, hidden=True)
            assert not any(map(is_hidden, after)), "something unfinished stays"
            assert before.items() <= after.items() or call[0] in ("make", "site"), call
            assert before.keys() <= after.keys(), call

    return try_all


def edit_toml(name: str, edits: Sequence[Edit]) -> Change:
    def change(work: Path) -> None:
        path = work / name
        path.write_text(write_toml(apply(tomllib.loads(path.read_text()), edits)))

    return change


MAKE = ("make", "tag.toml", "--out", "made", "--date", "2026-03-31")
CARD = (*MAKE, "--only", "care-card")


@kept
@given(edits=EDITS)
def test_an_edited_spec(edits: list[Edit], try_on: Callable[..., None]) -> None:
    try_on(edit_toml("tag.toml", edits), ("check", "tag.toml"), (*MAKE, "--only", "cutting-list"))


@pytest.mark.parametrize(
    "unit", ["1 furlong", "1 parsec", "3 foo", "1 kg", "1 degC", "1 dB", "1 mm/s", "1e400 mm", "1 Δ"]
)
def test_any_unit_as_the_scale_of_a_drawing(unit: str, try_on: Callable[..., None]) -> None:
    def change(work: Path) -> None:
        (work / "tag.toml").write_text(SPEC.replace('scale = "1 mm"', f'scale = "{unit}"'))

    try_on(change, ("check", "tag.toml"), ("new", "fresh", "--from", "flap.svg", "--scale", unit))


@kept
@given(edits=EDITS)
def test_an_edited_drawing(edits: list[Edit], try_on: Callable[..., None]) -> None:
    def change(work: Path) -> None:
        (work / "flap.svg").write_text(edit_svg(edits))

    try_on(change, ("check", "tag.toml"), ("new", "fresh", "--from", "flap.svg"))


def edit_svg(edits: Sequence[Edit]) -> str:
    """Its elements as tables of attributes, whose figures are edited."""

    def take(node: ET.Element) -> dict[str, Any]:
        figures = {key: re.split(r"(?<=\d)(?=\D)|(?<=\D)(?=\d)", value) for key, value in node.attrib.items()}
        return {"tag": node.tag, "attributes": figures, "inner": [take(child) for child in node]}

    def give(held: Any) -> str:
        if not isinstance(held, dict):
            return str(held).replace("&", "").replace("<", "")
        said = held.get("attributes")
        words = "".join(
            f' {key}="{"".join(map(str, value)) if isinstance(value, list) else value}"'.replace("<", "")
            for key, value in (said if isinstance(said, dict) else {}).items()
        )
        inner = held.get("inner")
        name = str(held.get("tag", "g")).rpartition("}")[2] or "g"
        return f"<{name}{words}>{''.join(map(give, inner if isinstance(inner, list) else [inner]))}</{name}>"

    whole = give(apply(take(ET.fromstring(DRAWING)), edits))
    return whole.replace("<svg", '<svg xmlns="http://www.w3.org/2000/svg"', 1)


@kept
@given(edits=EDITS)
def test_edited_orders(edits: list[Edit], try_on: Callable[..., None]) -> None:
    def change(work: Path) -> None:
        text = io.StringIO()
        rows = apply(ORDERS, edits)
        csv.writer(text).writerows(row if isinstance(row, list) else [row] for row in rows)
        (work / "orders.csv").write_text(text.getvalue())

    try_on(change, (*CARD, "--orders", "orders.csv"))


@kept
@given(edits=EDITS)
def test_an_edited_shop_file(edits: list[Edit], try_on: Callable[..., None]) -> None:
    try_on(edit_toml("shop.toml", edits), ("check", "tag.toml"), CARD)


@pytest.mark.parametrize("name", ["words.toml", "sentences.toml", "order.toml", "pattern.toml", "care/en.toml"])
@settings(kept, max_examples=max(2, EXAMPLES // 4))
@given(edits=EDITS)
def test_an_edited_layout(name: str, edits: list[Edit], try_on: Callable[..., None]) -> None:
    try_on(edit_toml(f"layouts/{name}", edits), CARD)


@pytest.mark.parametrize("name", ["record.toml", "pages.toml"])
@kept
@given(edits=EDITS)
def test_an_edited_register(name: str, edits: list[Edit], try_on: Callable[..., None]) -> None:
    digest = "0123456789"
    calls = (("trace", f"SPEC:TAG/1/{digest}/PATTERN/1"), ("issue", "tag.toml"), ("compare", "1", "tag.toml"))
    try_on(edit_toml(f"issued/tag/1/{name}", edits), *calls)


@kept
@given(edits=EDITS)
def test_an_edited_pdf(edits: list[Edit], try_on: Callable[..., None]) -> None:
    def change(work: Path) -> None:
        path = work / "out" / "care-card.pdf"
        edit_pdf(path, edits)

    try_on(change, ("trace", "out/care-card.pdf"), ("compare", "out/care-card.pdf", "tag.toml"))


PDF_VALUES = (NumberObject(0), NumberObject(-1), NumberObject(2**31), TextStringObject(""), NameObject("/Page"))


def edit_pdf(path: Path, edits: Sequence[Edit]) -> None:
    """Entries of its objects dropped, exchanged for others, or made to lead back to themselves."""
    writer = PdfWriter(clone_from=PdfReader(path))
    objects = [item for item in writer._objects if isinstance(item, DictionaryObject | ArrayObject)]
    for operation, place, number in edits:
        held = objects[place % len(objects)]
        keys = list(held) if isinstance(held, DictionaryObject) else list(range(len(held)))
        if not keys:
            continue
        key = keys[number % len(keys)]
        if operation in ("drop", "cut"):
            del held[key]
        elif operation == "replace":
            held[key] = PDF_VALUES[number % len(PDF_VALUES)]
        elif operation == "copy":
            held[key] = objects[number % len(objects)].indirect_reference or held[key]
        else:
            held[key] = held.indirect_reference or held[key]
    try:
        writer.write(path)
    except Exception:  # what the library cannot write, nobody gets from it
        path.write_bytes(path.read_bytes()[:-500])


@kept
@given(edits=EDITS)
def test_an_edited_picture(edits: list[Edit], try_on: Callable[..., None]) -> None:
    def change(work: Path) -> None:
        (work / "photo.png").write_bytes(edit_png((work / "photo.png").read_bytes(), edits))
        text = SPEC.replace('version = "1"', 'version = "1"\npicture = "photo.png"')
        (work / "tag.toml").write_text(text.replace("[shop]\n", '[shop]\nmark = "photo.png"\n'))

    try_on(change, ("trace", "photo.png"), ("check", "tag.toml"))


def edit_png(source: bytes, edits: Sequence[Edit]) -> bytes:
    """Its chunks (PNG specification, 5.3) dropped, doubled and changed, each with a right sum."""
    chunks, at = [], 8
    while at < len(source):
        (length,) = struct.unpack(">I", source[at : at + 4])
        chunks.append([source[at + 4 : at + 8], bytearray(source[at + 8 : at + 8 + length])])
        at += 12 + length
    for operation, place, number in edits:
        if not chunks:
            break
        kind, held = chunks[place % len(chunks)]
        if operation == "drop":
            del chunks[place % len(chunks)]
        elif operation in ("copy", "repeat"):
            chunks.insert(number % len(chunks), [kind, bytearray(held)])
        elif operation == "cut":
            del held[number % (len(held) + 1) :]
        elif held:
            held[number % len(held)] = (place // 7) % 256
    packed = [
        struct.pack(">I", len(held)) + kind + bytes(held) + struct.pack(">I", zlib.crc32(kind + held))
        for kind, held in chunks
    ]
    return source[:8] + b"".join(packed)
