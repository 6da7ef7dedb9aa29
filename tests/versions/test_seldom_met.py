"""What goes wrong seldom: a disk that fails while a record is read, a stranger's files, versions nobody understands."""

import errno
import os
import sys
import tempfile
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest
from PIL import Image
from pypdf import PdfReader, PdfWriter
from pypdf.generic import NameObject
from spec_text import write_out

from docgen.problems import Place, SpecRejected, make_error
from docgen.read import make_digest
from docgen.versions.compared import compare, inside
from docgen.versions.kept import register, shelf
from docgen.versions.kept.printed import read_pages
from docgen.versions.traced import trace
from docgen.write import enclosed

Run = Callable[..., tuple[int, str, str]]

SPEC = write_out("""\
<spec box: Box, version 1>

<leather hide: 2 mm>

[pieces.lid]
of = "hide"
shape = "rectangle"
size = ["80 mm", "60 mm"]
folds = [{ at = "20 mm from top" }]
""")


@pytest.fixture
def spec(here: Path) -> Path:
    (here / "box.toml").write_text(SPEC)
    return here / "box.toml"


@pytest.fixture
def card(run: Run, spec: Path) -> Path:
    """The care card of a draft."""
    assert run("make", "box.toml", "--only", "care-card", "--out", ".", "--date", "2026-03-31")[0] == 0
    return Path("care-card.pdf")


@pytest.fixture
def issued(run: Run, spec: Path) -> Path:
    """Version 1, on record."""
    assert run("issue", "box.toml", "--date", "2026-03-31")[0] == 0
    return Path("issued/box/1")


def raises(error: Exception) -> Callable[..., None]:
    def call(*given: object, **named: object) -> None:
        raise error

    return call


def os_error(code: int) -> OSError:
    return OSError(code, os.strerror(code))


def not_understood(*given: object) -> None:
    raise SpecRejected([make_error(Place(path="box.toml"), "no longer understood", "")])


def attach(pdf: Path, name: str, content: bytes) -> None:
    writer = PdfWriter(clone_from=pdf)
    writer.add_attachment(name, content)
    writer.write(pdf)


# A stranger's PDF.


def test_a_further_file_that_looks_like_a_spec_and_is_none_changes_nothing(run: Run, card: Path) -> None:
    said = run("trace", card)
    assert said[0] == 4
    attach(card, "notes.toml", b"\xff\xfe no text")
    assert run("trace", card) == said
    assert run("compare", card, "box.toml")[0] == 0


def test_a_pdf_of_ours_without_its_words_is_looked_at_as_a_picture(
    run: Run, card: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    writer = PdfWriter(clone_from=card)
    for page in writer.pages:
        del page[NameObject("/Contents")]
    writer.write(card)
    assert run("trace", card) == (2, "", f"docgen: no code is found on the pages of {card}\n")
    assert (
        "no code is found on the pages of care-card.pdf, so that nothing tells" in run("compare", card, "box.toml")[2]
    )
    monkeypatch.setitem(sys.modules, "zxingcpp", None)
    code, _, wrong = run("trace", card)
    assert code == 2
    assert wrong.startswith(f"docgen: no code is found on the pages of {card}\nto read codes from ")


def test_a_spec_inside_that_cannot_be_read_is_not_saved(run: Run, card: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    broken = b"[spec]\ncode = \n"
    writer = PdfWriter(clone_from=card)
    writer.root_object.pop("/Names")
    writer.add_attachment("box.toml", broken)
    writer.write(card)
    codes = tuple(replace(code, digest=make_digest(broken, ())) for code in inside.find_codes(enclosed.read_here(card)))
    monkeypatch.setattr(inside, "find_codes", lambda held: codes)
    code, _, wrong = run("trace", card, "--save", "back.toml")
    assert code == 1
    assert "care-card.pdf: error: the spec inside cannot be read: " in wrong
    assert "; nothing was saved\n    mend:    ask who sent it for another copy" in wrong
    assert not Path("back.toml").exists()


@pytest.mark.parametrize(
    ("limit", "most", "told"),
    [
        ("BYTES_MOST", 10, "care-card.pdf is larger than 0 MiB"),
        ("PAGES_MOST", 0, "care-card.pdf has 1 pages; docgen reads 0"),
    ],
)
def test_a_pdf_larger_than_any_of_ours_is_told(
    run: Run, card: Path, monkeypatch: pytest.MonkeyPatch, limit: str, most: int, told: str
) -> None:
    monkeypatch.setattr(enclosed, limit, most)
    assert run("trace", card) == (2, "", f"docgen: {told}\n")


def test_a_disk_that_fails_while_a_pdf_is_read_is_told(run: Run, card: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("pypdf.PdfReader", raises(os_error(errno.EIO)))
    assert run("trace", card) == (2, "", f"docgen: {card} cannot be read: the disk reports a fault\n")


def test_a_full_disk_where_files_out_of_a_pdf_are_laid_is_told(
    run: Run, card: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    attach(card, "note.txt", b"from an archive")
    with monkeypatch.context() as patch:
        patch.setattr(tempfile, "TemporaryDirectory", raises(os_error(errno.ENOSPC)))
        code, _, wrong = run("compare", card, "box.toml")
        assert (code, wrong.splitlines()[0]) == (
            3,
            f"cannot write {tempfile.gettempdir()}: there is no space left on the disk",
        )
    monkeypatch.setattr(inside, "open", raises(os_error(errno.ENOSPC)), raising=False)
    code, _, wrong = run("compare", card, "box.toml")
    assert (code, "there is no space left on the disk" in wrong) == (3, True)


# A register on a failing disk, or changed by hand.


@pytest.mark.parametrize(
    ("error", "told"),
    [
        (os_error(errno.EIO), "box.toml: error: this copy cannot be read: the disk reports a fault"),
        (ValueError("embedded null byte"), "record.toml: error: the record names a file that no disk takes"),
    ],
)
def test_a_copy_that_cannot_be_read_is_told(
    run: Run, issued: Path, monkeypatch: pytest.MonkeyPatch, error: Exception, told: str
) -> None:
    real = register.read_ordinary

    def read(path: Path, most_bytes: int) -> bytes:
        if path.name == "box.toml":
            raise error
        return real(path, most_bytes)

    monkeypatch.setattr(register, "read_ordinary", read)
    code, _, wrong = run("compare", "1", "box.toml")
    assert (code, told in wrong) == (1, True), wrong


def test_a_record_that_goes_while_it_is_read_has_no_sum(here: Path) -> None:
    assert shelf.hash_record(here / "gone") == ""


PAGES = {"paper": "a4", "margin_mm": 6.0, "overlap_mm": 10.0, "join": "overlap", "has_full_straps": False}
SHEET = {"page": 1, "name": "A1", "pieces": ["lid"]}
DOCUMENT = {"variant": "", "name": "pattern", "pages": 1, "sheets": [SHEET]}


@pytest.mark.parametrize(
    "document",
    [
        {**DOCUMENT, "sheets": 1},
        {**DOCUMENT, "sheets": [{**SHEET, "page": 2}]},
        {**DOCUMENT, "sheets": [{**SHEET, "name": "A\x1b1"}]},
        {**DOCUMENT, "name": 3},
        {key: held for key, held in DOCUMENT.items() if key != "pages"},
    ],
)
def test_what_names_pages_is_as_docgen_wrote_it_or_nothing(document: dict[str, object]) -> None:
    assert read_pages({**PAGES, "documents": [DOCUMENT]}) is not None
    assert read_pages({**PAGES, "documents": [document]}) is None
    assert read_pages({**PAGES, "documents": document}) is None


# Versions that this docgen does not understand any more.


def test_a_page_of_an_older_version_is_called_so_where_nobody_can_tell_what_changed(
    run: Run, issued: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    assert run("make", "box.toml", "--only", "care-card", "--out", ".", "--date", "2026-03-31")[0] == 0
    Path("box.toml").write_text(SPEC.replace('"1"', '"2"', 1).replace("80 mm", "82 mm"))
    assert run("issue", "box.toml", "--date", "2026-04-01")[0] == 0
    code, said, _ = run("trace", "care-card.pdf")
    assert (code, "82" in said) == (4, True)
    for module in (trace, compare):
        with monkeypatch.context() as patch:
            patch.setattr(module, "build_issued", not_understood)
            code, said, _ = run("trace", "care-card.pdf")
            assert (code, "82" in said) == (4, False)
            assert "version 2" in said


# What is seldom told of two versions.


def test_pieces_that_came_and_went_and_longer_slots_are_told(run: Run, issued: Path) -> None:
    slot = 'holes = [{ at = "30 mm from top, centre", punch = "3 mm", long = "%s mm", lies = "across" }]\n'
    Path("old.toml").write_text(SPEC + slot % 20 + '[pieces.foot]\nlike = "lid"\n')
    Path("new.toml").write_text(SPEC + slot % 24 + '[pieces.wall]\nlike = "lid"\n')
    code, said, wrong = run("compare", "old.toml", "new.toml")
    assert code == 0, wrong
    assert "it is no longer in the build" in said
    assert "1/8 in (3 mm) wide, 15/16 in (24 mm) long, was 1/8 in (3 mm) wide, 25/32 in (20 mm) long" in said
    Path("box.toml").write_text(SPEC.replace('"1"', '"2"', 1).replace("pieces.lid", "pieces.wall"))
    assert run("make", "box.toml", "--since", "1", "--out", ".", "--date", "2026-04-01")[0] == 0
    cover = "".join(page.extract_text() for page in PdfReader("changes-since-1.pdf").pages)
    assert "Throw away lid" in cover
    assert "New: wall" in cover


# The site.


def test_a_picture_of_the_finished_thing_is_beside_its_page(run: Run, spec: Path) -> None:
    Image.new("L", (40, 30), 128).save("box.png")
    head = 'version = "1"\npicture = "box.png"'
    spec.write_text('[shop]\nlink = "https://example.org/b"\n' + SPEC.replace('version = "1"', head, 1))
    assert run("issue", "box.toml", "--date", "2026-03-31")[0] == 0
    Path("issued/empty").mkdir()
    code, _, wrong = run("site", "web")
    assert code == 0, wrong
    (picture,) = Path("web").rglob("*.png")
    with Image.open(picture) as opened:
        assert opened.size == (40, 30)
        assert opened.convert("L").getpixel((20, 15)) == 128
