"""A maker's own pictures on the pages, in what is kept and on the web; other libraries read what comes out."""

import io
import subprocess
import sys

import pypdfium2
import pytest
from PIL import Image
from pypdf import PdfReader

from docgen.cli import main
from docgen.topics import WHOLE, read_topic

LINK = '\n[shop]\nlink = "https://example.org/b"\n'


def save(path, left="black", right="white", size=(1200, 800)):
    image = Image.new("RGB", size, right)
    image.paste(left, (0, 0, size[0] // 2, size[1]))
    image.save(path)


@pytest.fixture
def bench(tmp_path, monkeypatch):
    """A folder with two pictures and a spec that names them; the folder that commands run in."""
    (tmp_path / "photos").mkdir()
    save(tmp_path / "photos" / "front.png")
    save(tmp_path / "photos" / "step-1.jpg", "white", "black", (600, 900))
    write(tmp_path)
    monkeypatch.chdir(tmp_path)
    return tmp_path


def write(folder, version="1", front='picture = "photos/front.png"', step='picture = "photos/step-1.jpg"'):
    text = read_topic(WHOLE).replace('version = "1"', f'version = "{version}"\n{front}')
    (folder / "sleeve.toml").write_text(f"{text}{step}\n{LINK}", encoding="utf-8")


def images_of(path):
    """Page number -> size in pixels and greys at the left and right edge of each picture."""
    found = {}
    for number, page in enumerate(PdfReader(path).pages, 1):
        for image in page.images:
            grey = image.image.convert("L")
            sides = [grey.getpixel((across, grey.height // 2)) for across in (5, grey.width - 5)]
            found.setdefault(number, []).append((grey.size, sides))
    return found


@pytest.mark.parametrize("paper", ["letter", "a4"])
def test_front_and_step_carry_their_pictures_in_grey(bench, paper):
    assert main(["make", "sleeve.toml", "--paper", paper, "--out", "out"]) == 0
    found = images_of(bench / "out" / "build-sheet.pdf")
    (front,), (step,) = found.values()
    assert front[0] == (720, 480)
    assert step[0] == (480, 720)
    assert front[1] == pytest.approx([0, 255], abs=4)
    assert step[1] == pytest.approx([255, 0], abs=4)
    assert not images_of(bench / "out" / "pattern.pdf")
    assert not images_of(bench / "out" / "care-card.pdf")
    assert sum(map(len, images_of(bench / "out" / "packet.pdf").values())) == 2


@pytest.mark.parametrize("paper", ["letter", "a4"])
def test_on_the_paper_they_are_as_large_as_they_should_be(bench, paper):
    """pypdfium2 tells where each image lies, in points."""
    main(["make", "sleeve.toml", "--paper", paper, "--out", "out"])
    sizes = []
    for page in pypdfium2.PdfDocument(bench / "out" / "build-sheet.pdf"):
        wide, high = page.get_size()
        for item in page.get_objects(filter=[pypdfium2.raw.FPDF_PAGEOBJ_IMAGE]):
            left, bottom, right, top = item.get_bounds()
            assert 0 < left < right < wide
            assert 0 < bottom < top < high
            sizes.append((round((right - left) / 72 * 25.4), round((top - bottom) / 72 * 25.4)))
    assert sizes == [(90, 60), (40, 60)]


def test_the_same_files_give_the_same_bytes(bench):
    for folder in ("one", "two"):
        assert main(["make", "sleeve.toml", "--date", "2026-03-31", "--out", folder]) == 0
    assert (bench / "one" / "packet.pdf").read_bytes() == (bench / "two" / "packet.pdf").read_bytes()


def test_an_issued_version_keeps_its_pictures_and_its_web_page_shows_the_front(bench, capsys):
    assert main(["issue", "sleeve.toml", "--date", "2026-03-31"]) == 0
    kept = bench / "issued" / "key-sleeve" / "1" / "photos"
    for file in ("front.png", "step-1.jpg"):
        assert (kept / file).read_bytes() == (bench / "photos" / file).read_bytes()
    for _ in range(2):
        assert main(["site", "public"]) == 0
    (picture,) = (bench / "public").rglob("*.png")
    shown = Image.open(io.BytesIO(picture.read_bytes()))
    assert (shown.size, shown.mode) == ((720, 480), "L")
    assert [shown.getpixel((across, 240)) for across in (5, 715)] == pytest.approx([0, 255], abs=4)
    page = (picture.parent / "index.html").read_text(encoding="utf-8")
    assert '<img src="picture.png" width="720" height="480"' in page
    assert "default-src 'none'; style-src 'unsafe-inline'; img-src 'self'" in page
    others = [path for path in (bench / "public").rglob("index.html") if path.parent != picture.parent]
    cards = [path for path in others if "CARE-CARD" in str(path)]
    assert len(cards) > 5
    for path in cards:
        assert '<img src="../../picture.png" width="720" height="480"' in path.read_text(encoding="utf-8")
        assert (path.parent / "../../picture.png").resolve() == picture.resolve()
    assert not [path for path in others if path not in cards and "img" in path.read_text(encoding="utf-8")]


def test_another_picture_is_told_when_versions_are_compared(bench, capsys):
    main(["issue", "sleeve.toml", "--date", "2026-03-31"])
    save(bench / "photos" / "front.png", "white", "black")
    write(bench, version="2", step="")
    capsys.readouterr()
    assert main(["compare", "1", "sleeve.toml"]) == 0
    told = capsys.readouterr().out
    assert "photos/front.png (" in told
    assert "photos/step-1.jpg (" in told


def test_without_a_picture_nothing_of_it_is_loaded(bench):
    write(bench, front="", step="")
    words = "import sys; from docgen.cli import main; main(['check', 'sleeve.toml']); sys.exit('PIL' in sys.modules)"
    run = subprocess.run([sys.executable, "-c", words], capture_output=True, timeout=60)
    assert run.returncode == 0


def test_a_picture_that_cannot_be_read_is_told_where_it_is_named(bench, capsys):
    (bench / "photos" / "front.png").write_bytes(b"no picture")
    assert main(["check", "sleeve.toml"]) == 1
    line = (bench / "sleeve.toml").read_text(encoding="utf-8").split("\n").index('picture = "photos/front.png"') + 1
    said = "".join(capsys.readouterr())
    assert f'sleeve.toml:{line}: error: "photos/front.png" ' in said
    assert '    written: "photos/front.png"\n    mend:    ' in said
