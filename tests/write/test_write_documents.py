"""Finished files, read back with pypdf: what each holds, says of itself and carries."""

from dataclasses import replace
from pathlib import Path

import pypdfium2
import pytest
from pypdf import PdfReader

import docgen
from docgen.geometry.path import circle_path
from docgen.geometry.shapes import Point
from docgen.pages.marks.page import Document, Packet, Page, PathMark, Stroke, TextMark
from docgen.pages.setting.tag import draw_code
from docgen.write import finish_documents, replace_files

SOURCE = 'name = "Reed satchel"\nwidth = "12 ½ in"\r\n'.encode()


def make_page(label: str, words: str, width_mm: float = 215.9, height_mm: float = 279.4) -> Page:
    payload = f"SPEC:REED-SATCHEL/3/9F2C61AB04/{label}"
    marks = (
        TextMark(x_mm=20.0, y_mm=200.0, text=words, size_mm=6.0, face="bold"),
        PathMark(path=circle_path(Point(100.0, 100.0), 30.0), stroke=Stroke(width_mm=0.3)),
        draw_code(payload, 180.0, 12.0),
    )
    return Page(width_mm=width_mm, height_mm=height_mm, marks=marks, label=label, payload=payload)


def make_packet() -> Packet:
    pattern = tuple(make_page(f"P-{number}", f"Gusset {number}") for number in (1, 2, 3))
    return Packet(
        documents=(
            Document(name="pattern", title="Pattern: Reed satchel", pages=pattern),
            Document(name="care_card", title="Care card", pages=(make_page("C-1", "Wipe dry", 105.0, 148.0),)),
        ),
        title="Reed satchel, version 3",
        author="Example Workshop Ä",
        source_name="reed-satchel.toml",
        source=SOURCE,
        date="2026-03-01",
    )


@pytest.fixture(scope="module")
def files(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Path]:
    """The made-up packet written once: name -> file."""
    folder = tmp_path_factory.mktemp("written")
    return {path.stem: path for path in replace_files(folder, finish_documents(make_packet()))}


def test_each_document_and_the_packet_become_a_file(tmp_path: Path) -> None:
    folder = tmp_path / "not" / "there yet"
    paths = replace_files(folder, finish_documents(make_packet()))
    assert paths == tuple(folder / name for name in ("pattern.pdf", "care_card.pdf", "packet.pdf"))
    assert sorted(folder.iterdir()) == sorted(paths)


def test_only_the_names_asked_for_are_written(tmp_path: Path) -> None:
    paths = replace_files(tmp_path, finish_documents(make_packet(), only=("packet", "care_card")))
    assert [path.name for path in paths] == ["care_card.pdf", "packet.pdf"]
    assert len(PdfReader(paths[1]).pages) == 4
    assert [
        path.name for path in replace_files(tmp_path / "b", finish_documents(make_packet(), only=["care_card"]))
    ] == ["care_card.pdf"]


def test_a_name_that_is_not_there_is_refused(tmp_path: Path) -> None:
    with pytest.raises(ValueError, match="no document") as caught:
        replace_files(tmp_path / "out", finish_documents(make_packet(), only=("patern",)))
    assert str(caught.value) == 'no document is named "patern"; there are pattern, care_card, packet'
    assert not (tmp_path / "out").exists()


def test_a_document_without_pages_is_refused(tmp_path: Path) -> None:
    packet = replace(make_packet(), documents=(Document(name="empty", title="Empty list", pages=()),))
    with pytest.raises(ValueError, match="no pages") as caught:
        replace_files(tmp_path, finish_documents(packet))
    assert str(caught.value) == '"Empty list" has no pages'


def test_progress_is_told_in_words(tmp_path: Path) -> None:
    said: list[str] = []
    replace_files(tmp_path, finish_documents(make_packet(), progress=said.append))
    assert said == ["drawing 4 pages", "finishing pattern.pdf", "finishing care_card.pdf", "finishing packet.pdf"]


def test_pages_have_their_sizes_words_and_labels(files: dict[str, Path]) -> None:
    card, packet = PdfReader(files["care_card"]), PdfReader(files["packet"])
    assert [page.extract_text().split("\n")[0] for page in packet.pages] == [
        "Gusset 1",
        "Gusset 2",
        "Gusset 3",
        "Wipe dry",
    ]
    assert packet.page_labels == ["P-1", "P-2", "P-3", "C-1"]
    assert card.page_labels == ["C-1"]
    for page in (card.pages[0], packet.pages[3]):
        assert float(page.mediabox.width) * 25.4 / 72 == pytest.approx(105.0, abs=0.001)
        assert float(page.mediabox.height) * 25.4 / 72 == pytest.approx(148.0, abs=0.001)


def test_a_page_looks_the_same_alone_and_in_the_packet(files: dict[str, Path]) -> None:
    def look(name: str, number: int) -> bytes:
        page = pypdfium2.PdfDocument(files[name])[number]
        return bytes(page.render(scale=1.0, grayscale=True).buffer)

    assert look("care_card", 0) == look("packet", 3)
    assert look("pattern", 1) == look("packet", 1)
    assert look("pattern", 1) != look("packet", 2)


@pytest.mark.parametrize("name", ["pattern", "care_card", "packet"])
def test_the_spec_is_enclosed_byte_for_byte(files: dict[str, Path], name: str) -> None:
    reader = PdfReader(files[name])
    assert dict(reader.attachments) == {"reed-satchel.toml": [SOURCE]}
    root = reader.trailer["/Root"]
    file = root["/Names"]["/EmbeddedFiles"]["/Names"][1].get_object()
    assert file["/EF"]["/F"]["/Subtype"] == "/application/toml"
    assert file["/EF"]["/F"]["/Params"]["/Size"] == len(SOURCE)
    assert file["/AFRelationship"] == "/Source"
    assert root["/AF"][0].get_object() == file


def test_the_enclosed_spec_is_found_by_another_library(files: dict[str, Path]) -> None:
    document = pypdfium2.PdfDocument(files["pattern"])
    assert document.count_attachments() == 1
    assert document.get_attachment(0).get_name() == "reed-satchel.toml"
    assert bytes(document.get_attachment(0).get_data()) == SOURCE


def test_a_packet_without_a_spec_has_no_attachment(tmp_path: Path) -> None:
    (path,) = replace_files(tmp_path, finish_documents(replace(make_packet(), source=b""), only=("pattern",)))
    assert dict(PdfReader(path).attachments) == {}


@pytest.mark.parametrize("name", ["pattern", "care_card", "packet"])
def test_files_are_pdf_1_7_and_ask_the_print_dialog_for_true_size(files: dict[str, Path], name: str) -> None:
    assert files[name].read_bytes().startswith(b"%PDF-1.7\n")
    # PDF 32000-1:2008, 12.2: PrintScaling None; /Enforce from ISO 32000-2 (from memory)
    wishes = PdfReader(files[name]).trailer["/Root"]["/ViewerPreferences"]
    assert wishes["/PrintScaling"] == "/None"
    assert list(wishes["/Enforce"]) == ["/PrintScaling"]


def test_files_say_what_they_are(files: dict[str, Path]) -> None:
    says = PdfReader(files["pattern"]).metadata
    assert dict(says or {}) == {
        "/Title": "Pattern: Reed satchel",
        "/Author": "Example Workshop Ä",
        "/Subject": "Reed satchel, version 3",
        "/Creator": f"docgen {docgen.__version__}",
        "/Producer": f"docgen {docgen.__version__}",
        "/CreationDate": "D:20260301000000Z",
        "/ModDate": "D:20260301000000Z",
    }
    packet = PdfReader(files["packet"]).metadata
    assert packet is not None
    assert packet.title == "Reed satchel, version 3"
    assert packet.subject == "Pattern: Reed satchel, Care card"


def test_the_packet_has_an_outline_entry_for_each_document(files: dict[str, Path]) -> None:
    packet = PdfReader(files["packet"])
    entries = [(item.title, packet.get_destination_page_number(item)) for item in packet.outline]
    assert entries == [("Pattern: Reed satchel", 0), ("Care card", 3)]
    assert PdfReader(files["pattern"]).outline == []


def read_identifier(path: Path) -> bytes:
    first, second = PdfReader(path).trailer["/ID"]
    assert first == second
    return bytes(first.original_bytes)


def test_the_identifier_follows_the_content(files: dict[str, Path], tmp_path: Path) -> None:
    assert len({read_identifier(path) for path in files.values()}) == 3
    changed = replace(make_packet(), source=SOURCE + b"# one more line\n")
    (path,) = replace_files(tmp_path, finish_documents(changed, only=("pattern",)))
    assert len(read_identifier(path)) == 16
    assert read_identifier(path) != read_identifier(files["pattern"])
