"""The shop's name mark: PNG and SVG beside the spec as pictures in greys, and what is refused."""

import struct
import zlib
from io import BytesIO
from pathlib import Path

import pytest
from PIL import Image

from docgen.geometry.path import path_area
from docgen.problems import render_problem
from docgen.read import read_spec
from docgen.read.svg.name_mark import parse_name_mark, read_grey

SPEC = '[spec]\ncode = "bag"\ntitle = "Bag"\nversion = "1"\n[shop]\nname = "Alder Lane"\nmark = "{file}"\n'
SPEC += '[materials.hide]\nkind = "leather"\nthickness = "2 mm"\n'
SVG = '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 20 10">{}</svg>'


def png(size: tuple[int, int], colour: tuple[int, ...], mode: str = "RGBA") -> bytes:
    saved = BytesIO()
    Image.new(mode, size, colour).save(saved, "PNG")
    return saved.getvalue()


def head(columns: int, rows: int) -> bytes:
    """A PNG file that says how large it is, and holds nothing."""
    chunk = b"IHDR" + struct.pack(">IIBBBBB", columns, rows, 8, 2, 0, 0, 0)
    return b"\x89PNG\r\n\x1a\n" + struct.pack(">I", 13) + chunk + struct.pack(">I", zlib.crc32(chunk))


def problems(folder: Path, file: str, source: bytes | None) -> list[str]:
    if source is not None:
        (folder / file).write_bytes(source)
    (folder / "bag.toml").write_text(SPEC.format(file=file))
    spec = read_spec(folder / "bag.toml")
    assert (spec.mark is None) == bool(spec.problems)
    return [render_problem(item).replace(f"{folder}/", "") for item in spec.problems]


def test_a_clear_picture_lies_on_white_paper() -> None:
    picture = parse_name_mark(png((40, 20), (0, 0, 0, 51)), "mark.png")
    assert (picture.columns, picture.rows, picture.width_mm, picture.height_mm) == (40, 20, 20.0, 10.0)
    assert set(picture.pixels) == {204}  # black at a fifth: 255 * 4 / 5


def test_a_large_picture_is_kept_as_fine_as_print_shows_and_not_stretched() -> None:
    picture = parse_name_mark(png((3000, 1500), (10,), "L"), "mark.PNG")
    assert (picture.columns, picture.rows, len(picture.pixels)) == (1200, 600, 720_000)
    assert picture.width_mm / picture.height_mm == 2.0


def test_shapes_keep_their_holes_and_become_grey() -> None:
    ring = '<path fill="#ffffff" d="M0 0H20V10H0Z"/><path style="fill:#f00" d="M2 2H8V8H2Z M4 4H6V6H4Z"/>'
    picture = parse_name_mark(SVG.format(ring).encode(), "mark.svg")
    assert (picture.width_mm, picture.height_mm) == (20.0, 10.0)
    assert [(len(shape.paths), shape.grey, shape.width_mm) for shape in picture.shapes] == [
        (1, 1.0, None),
        (2, 0.299, None),  # ITU-R BT.601: red counts 0.299
    ]
    assert [abs(path_area(path)) for path in picture.shapes[1].paths] == pytest.approx([36.0, 4.0])


def test_lines_count_with_their_width_and_groups_hand_their_colour_down() -> None:
    lines = '<g fill="none" stroke="grey" transform="scale(2)"><path stroke-width="1" d="M1 1H9V4H1Z"/></g>'
    picture = parse_name_mark(SVG.format(lines).encode(), "mark.svg")
    (shape,) = picture.shapes
    # drawn 16 x 6 with lines 2 wide: 18 x 8 in all, made 10 mm high
    assert (picture.width_mm, picture.height_mm) == (pytest.approx(22.5), 10.0)
    assert (shape.grey, shape.width_mm) == (0.5, pytest.approx(2.5))


@pytest.mark.parametrize(
    ("colour", "grey"),
    [("#fff", 1.0), ("#000000", 0.0), ("rgb(0, 255, 0)", 0.587), ("url(#gradient)", 0.0), ("silver", 0.75)],
)
def test_colours_become_greys(colour: str, grey: float) -> None:
    assert read_grey(colour) == grey


def test_the_file_counts_in_the_digest_and_is_carried(tmp_path: Path) -> None:
    assert problems(tmp_path, "mark.png", png((9, 9), (0,), "L")) == []
    first = read_spec(tmp_path / "bag.toml")
    assert [name for name, _ in first.files] == ["mark.png"]
    assert problems(tmp_path, "mark.png", png((9, 9), (1,), "L")) == []
    assert read_spec(tmp_path / "bag.toml").digest != first.digest


@pytest.mark.parametrize(
    ("file", "source", "what", "mend"),
    [
        (
            "mark.png",
            None,
            'there is no name mark "mark.png" beside the spec',
            "check its name; it lies in the spec's folder",
        ),
        ("mark.gif", b"GIF89a", '"mark.gif" is not an SVG or PNG file', "save it as an SVG or PNG file"),
        (
            "../mark.png",
            None,
            '"../mark.png" lies outside the spec\'s folder',
            "copy the name mark beside the spec and write its name alone",
        ),
        ("mark.png", b"no picture", '"mark.png" is no PNG picture', "save it as PNG, or as plain SVG"),
        ("mark.png", head(4001, 10), '"mark.png" has 4001 x 10 pixels', "make it at most 4000 pixels wide and high"),
        ("mark.png", head(10, 10), '"mark.png" is damaged', "save it again as PNG"),
        (
            "mark.png",
            png((210, 10), (0,), "L"),
            '"mark.png" is more than 20 times as long as it is wide',
            "draw it less long",
        ),
        (
            "mark.png",
            b"\x89PNG" + b"0" * 2 * 1024 * 1024,
            '"mark.png" is larger than 2 MiB',
            "save it smaller; it is printed at the size of a thumb",
        ),
        (
            "mark.svg",
            SVG.format('<path fill="none" d="M0 0H9V9Z"/>').encode(),
            'nothing in "mark.svg" is painted',
            "fill its shapes, and save it again",
        ),
        ("mark.svg", SVG.format('<path d="M0 0H9"/>').encode(), '"mark.svg" has no area', "draw it as filled shapes"),
        (
            "mark.svg",
            b"<!DOCTYPE svg><svg/>",
            '"mark.svg" has a document type (DOCTYPE), which is not read',
            "save it again as plain SVG, or take out the line that begins with <!DOCTYPE",
        ),
        (
            "mark.svg",
            SVG.format("<text>Alder</text>").encode(),
            'a text without an id in "mark.svg" is text, which is not a path',
            "convert it to a path, hide it, or move it to another group",
        ),
    ],
    ids=range(12),
)
def test_what_is_no_name_mark(tmp_path: Path, file: str, source: bytes | None, what: str, mend: str) -> None:
    folder = tmp_path / "inner"
    folder.mkdir()
    assert problems(folder, file, source) == [f'bag.toml:7: error: {what}\n    written: "{file}"\n    mend:    {mend}']
