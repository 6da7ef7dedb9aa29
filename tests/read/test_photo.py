"""A maker's own picture: what comes out of good ones, and how wrong ones are told."""

import io
import random
import struct
import subprocess
import sys
import zlib
from pathlib import Path

import pytest
from PIL import Image

from docgen.problems import SpecRejected, render_problem
from docgen.read import read_spec
from docgen.read.photo import BYTES_MOST, KEPT_PIXELS, parse_photo
from docgen.read.svg.svg_file import DrawingError

HEAD = '[spec]\ncode = "mat"\ntitle = "Mat"\nversion = "1"\n'
HIDE = '[materials.hide]\nkind = "leather"\nthickness = "2 mm"\n'


def save(image: Image.Image, kind: str = "PNG", **how: object) -> bytes:
    held = io.BytesIO()
    image.save(held, kind, **how)
    return held.getvalue()


def paint() -> Image.Image:
    """400 x 200: black at the left, white at the right, red at the lower left."""
    image = Image.new("RGB", (400, 200), "white")
    image.paste("black", (0, 0, 200, 200))
    image.paste((255, 0, 0), (0, 100, 200, 200))
    return image


def grey_at(source: bytes, across: float, down: float, file: str = "a.png") -> int:
    picture = parse_photo(source, file)
    return picture.pixels[int(down * picture.rows) * picture.columns + int(across * picture.columns)]


@pytest.mark.parametrize(("kind", "file"), [("PNG", "a.png"), ("JPEG", "a.JPG"), ("JPEG", "a.jpeg")])
def test_colours_become_greys(kind: str, file: str) -> None:
    """Luma of ITU-R BT.601: red is 0.299 of white."""
    source = save(paint(), kind)
    assert grey_at(source, 0.25, 0.25, file) == pytest.approx(0, abs=3)
    assert grey_at(source, 0.75, 0.5, file) == pytest.approx(255, abs=3)
    assert grey_at(source, 0.25, 0.75, file) == pytest.approx(0.299 * 255, abs=3)


# Exif 2.3, tag 274: 3 is upside down, 6 wants a quarter turn to the right, 8 one to the left; from memory.
@pytest.mark.parametrize(("orientation", "turns"), [(1, 0), (3, 180), (6, 90), (8, 270)])
@pytest.mark.parametrize("kind", ["PNG", "JPEG"])
def test_it_is_turned_as_the_camera_was_held(orientation: int, turns: int, kind: str) -> None:
    exif = Image.Exif()
    exif[274] = orientation
    held = save(paint().rotate(turns, expand=True), kind, exif=exif)
    picture = parse_photo(held, "a.png")
    assert (picture.columns, picture.rows) == (400, 200)
    assert grey_at(held, 0.25, 0.25) < 5 < 250 < grey_at(held, 0.75, 0.5)


def test_it_is_made_small_and_keeps_its_proportions() -> None:
    picture = parse_photo(save(Image.new("L", (4000, 3000))), "a.png")
    assert (picture.columns, picture.rows) == (KEPT_PIXELS, KEPT_PIXELS * 3 // 4)
    assert len(picture.pixels) == picture.columns * picture.rows
    small = parse_photo(save(Image.new("L", (40, 30))), "a.png")
    assert (small.columns, small.rows) == (40, 30)


def test_what_is_clear_is_paper() -> None:
    image = Image.new("RGBA", (100, 50), (0, 0, 0, 0))
    image.paste((0, 0, 0, 255), (0, 0, 50, 50))
    held = save(image)
    assert (grey_at(held, 0.2, 0.5), grey_at(held, 0.8, 0.5)) == (0, 255)


@pytest.mark.parametrize("mode", ["1", "L", "P", "LA", "I;16"])
def test_every_mode_of_a_file_is_taken(mode: str) -> None:
    image = Image.new("L", (20, 10), 128)
    held = Image.new("I;16", (20, 10), 128 * 257) if mode == "I;16" else image.convert(mode)
    assert grey_at(save(held), 0.5, 0.5) == pytest.approx(128, abs=130 if mode == "1" else 2)


def test_the_same_file_gives_the_same_pixels() -> None:
    noise = Image.frombytes("L", (300, 300), random.Random(1).randbytes(90_000))
    held = save(noise, "JPEG")
    assert parse_photo(held, "a.jpg") == parse_photo(held, "a.jpg")


def make_header(columns: int, rows: int) -> bytes:
    """A PNG that claims a size and holds nothing of it."""
    header = struct.pack(">IIBBBBB", columns, rows, 8, 2, 0, 0, 0)
    chunks = ((b"IHDR", header), (b"IDAT", zlib.compress(b"")), (b"IEND", b""))
    parts = (struct.pack(">I", len(c)) + k + c + struct.pack(">I", zlib.crc32(k + c)) for k, c in chunks)
    return b"\x89PNG\r\n\x1a\n" + b"".join(parts)


@pytest.mark.parametrize(
    ("source", "what", "mend"),
    [
        (b"", '"a.jpg" is damaged, or no PNG or JPEG', "save it again as PNG or JPEG"),
        (b"GIF89a", '"a.jpg" is damaged, or no PNG or JPEG', "save it again as PNG or JPEG"),
        (save(paint(), "JPEG")[:900], '"a.jpg" is damaged, or no PNG or JPEG', "save it again as PNG or JPEG"),
        (save(paint(), "BMP"), '"a.jpg" is damaged, or no PNG or JPEG', "save it again as PNG or JPEG"),
        (
            make_header(9000, 9000),
            '"a.jpg" has 9,000 x 9,000 pixels; at most 25 million are taken',
            "save it smaller; 2,000 pixels wide is plenty",
        ),
        (make_header(60000, 60000), '"a.jpg" has too many pixels', "save it smaller; 2,000 pixels wide is plenty"),
        (make_header(900, 100), '"a.jpg" is more than 8 times as long as it is wide', "cut it to what matters"),
        (save(paint(), "JPEG") + b"\xff\xda" * 40, '"a.jpg" is saved in too many scans', "save it again as plain JPEG"),
    ],
)
def test_a_wrong_picture_is_told(source: bytes, what: str, mend: str) -> None:
    with pytest.raises(DrawingError) as caught:
        parse_photo(source, "a.jpg")
    assert (caught.value.what, caught.value.mend) == (what, mend)


@pytest.mark.parametrize("seed", range(60))
def test_damage_is_told_and_never_raised(seed: int) -> None:
    chance = random.Random(seed)
    held = bytearray(save(paint(), chance.choice(["PNG", "JPEG"])))
    for _ in range(chance.randint(1, 8)):
        held[chance.randrange(len(held))] = chance.randrange(256)
    try:
        picture = parse_photo(bytes(held), "a.jpg")
    except DrawingError:
        return
    assert len(picture.pixels) == picture.columns * picture.rows


def read(folder: Path, head: str = "", step: str = "") -> list[str]:
    path = folder / "mat.toml"
    path.write_text(f'{HEAD}{head}\n{HIDE}\n[[steps]]\ndo = "Cut."\n{step}\n', encoding="utf-8")
    return [render_problem(problem) for problem in read_spec(path).problems]


def test_a_picture_of_the_head_and_of_a_step_are_read_and_in_the_digest(tmp_path: Path) -> None:
    (tmp_path / "photos").mkdir()
    (tmp_path / "photos" / "one.jpg").write_bytes(save(paint(), "JPEG"))
    assert read(tmp_path, 'picture = "photos/one.jpg"', 'picture = "photos/one.jpg"') == []
    before = read_spec(tmp_path / "mat.toml")
    assert [file for file, _ in before.files] == [file for file, _ in before.pictures] == ["photos/one.jpg"]
    (tmp_path / "photos" / "one.jpg").write_bytes(save(paint().rotate(180), "JPEG"))
    assert read_spec(tmp_path / "mat.toml").digest != before.digest


@pytest.mark.parametrize(
    ("file", "what", "mend"),
    [
        ("none.jpg", 'there is no picture "none.jpg" beside the spec', "check its name; it lies in the spec's folder"),
        ("../up.jpg", '"../up.jpg" lies outside the spec\'s folder', "copy the picture beside the spec"),
        ("a.gif", '"a.gif" is not a PNG or JPEG file', "save it as a PNG or JPEG file"),
        ("big.png", '"big.png" is larger than 8 MiB', "save it smaller"),
        ("bad.png", '"bad.png" is damaged, or no PNG or JPEG', "save it again as PNG or JPEG"),
    ],
)
def test_a_wrong_file_is_told_with_its_line(tmp_path: Path, file: str, what: str, mend: str) -> None:
    (tmp_path / "big.png").write_bytes(b"\0" * (BYTES_MOST + 1))
    (tmp_path / "bad.png").write_bytes(b"\x89PNG")
    (told,) = read(tmp_path, step=f'picture = "{file}"')
    assert told.startswith(f"{tmp_path / 'mat.toml'}:12: error: {what}")
    assert mend in told


def test_a_picture_that_is_a_pipe_or_a_folder_is_never_opened(tmp_path: Path) -> None:
    (tmp_path / "a.png").mkdir()
    (told,) = read(tmp_path, 'picture = "a.png"')
    assert '"a.png" is not an ordinary file' in told
    with pytest.raises(SpecRejected):
        read_spec(tmp_path / "none.toml")


MEASURE = """
import re, sys
from pathlib import Path
from docgen.read.photo import parse_photo
parse_photo(Path(sys.argv[1]).read_bytes(), "large.png")
print(int(re.search(r"VmHWM:\\s+(\\d+) kB", Path("/proc/self/status").read_text())[1]) // 1024)
"""


@pytest.mark.skipif(not sys.platform.startswith("linux"), reason="memory is told in other units elsewhere")
@pytest.mark.parametrize("mode", ["RGBA", "LA", "I;16", "P"])
def test_the_largest_picture_that_is_taken_leaves_room_in_memory(mode: str, tmp_path: Path) -> None:
    path = tmp_path / "large.png"
    Image.new(mode, (5000, 5000)).save(path)
    done = subprocess.run([sys.executable, "-c", MEASURE, str(path)], capture_output=True, text=True, check=True)
    # A process that has loaded the reader takes some 50 MB, the picture of 25 million pixels of 4 bytes 100 MB.
    assert int(done.stdout) < 250


def test_what_is_made_smaller_band_by_band_is_the_same_as_in_one_go() -> None:
    """Against Pillow's own reducing of the whole picture, of a size that is no multiple of a band."""
    picture = Image.effect_noise((3011, 2203), 60)
    content = save(picture)
    found = parse_photo(content, "noise.png")
    whole = picture.reduce(2)
    whole.thumbnail((720, 720), Image.Resampling.LANCZOS)
    assert (found.columns, found.rows) == whole.size
    assert found.pixels == whole.tobytes()
