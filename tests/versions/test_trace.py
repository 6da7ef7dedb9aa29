"""A page, a code or a PDF traced back: which version it is, whether it is current, and where its spec is.

Outside checks: pypdfium2 draws the pages, pillow makes pictures of them.
"""

import sys
from dataclasses import replace
from functools import cache
from io import BytesIO
from pathlib import Path
from tempfile import TemporaryDirectory

import pypdfium2
import pytest
from PIL import Image
from pypdf import PdfReader, PdfWriter

from docgen.checks import resolve_build
from docgen.pages import choices_of, lay_out
from docgen.pages.setting.tag import code_rows
from docgen.plan import plan_work
from docgen.read import read_spec
from docgen.versions.compared.words import describe_refusal, describe_trace
from docgen.versions.kept.codes import NotOurs
from docgen.versions.traced.scan import ScanMissing
from docgen.versions.traced.trace import save_spec, trace
from docgen.write import NotReadable, WriteFailed, finish_documents, replace_files

POCKET = ('["8 in", "4 3/4 in"]', '["8 in", "5 in"]')
NEXT = (('version = "3"', 'version = "4"'), ('changed = "Pocket 1/4 in deeper', 'changed = "Pocket deeper again'))
CHANGED = (
    "    piece front (Front panel)\n"
    "        landing of pocket: up to 1/4 in (6.4 mm) from where it was\n"
    "        stitch line pocket-to-front: up to 1/4 in (6.4 mm) from where it was\n"
    "    piece pocket (Outer pocket)\n"
    "        height: 5 in (127 mm), was 4 3/4 in (120.7 mm); 1/4 in (6.4 mm) more\n"
    "        area: 0.28 sq ft (2.6 dm²), was 0.26 sq ft (2.4 dm²)\n"
    "    seam pocket-to-front (Pocket to front)\n"
    "        length: 15 7/8 in (403 mm), was 15 3/8 in (390.3 mm); 1/2 in (12.7 mm) more\n"
    "        stitches: 127, was 123; 4 more\n"
)


@pytest.fixture
def tmp_path(tmp_path):
    """Two folders down: what is looked for from above it is this test's own, and no other's that runs beside it."""
    folder = tmp_path / "shop" / "bags"
    folder.mkdir(parents=True)
    return folder


@pytest.fixture
def both(write_bag, issue):
    """Versions 3 and 4, issued a month apart."""
    older = issue(write_bag(), "2026-03-01")
    return older.issued, issue(write_bag(POCKET, *NEXT), "2026-04-01").issued


@cache
def lay_source(source: bytes, is_draft: bool):
    """The packet of a spec called field-bag.toml; the same words are laid out only once."""
    with TemporaryDirectory() as folder:
        path = Path(folder) / "field-bag.toml"
        path.write_bytes(source)
        build = resolve_build(read_spec(path))
    return lay_out(plan_work(build), choices=choices_of(build.printing), date="2026-04-02", is_draft=is_draft)


def write_pdf(path: Path, folder: Path, name: str, is_draft: bool = False) -> Path:
    assert path.name == "field-bag.toml"
    return replace_files(folder, finish_documents(lay_source(path.read_bytes(), is_draft), only=[name]))[0]


def draw(pdf: Path, page: int, dpi: int) -> Image.Image:
    document = pypdfium2.PdfDocument(BytesIO(pdf.read_bytes()))
    return document[page].render(scale=dpi / 72, grayscale=True).to_pil().convert("L")


def draw_stranger(text: str) -> Image.Image:
    rows = code_rows(text)
    code = Image.new("L", (len(rows), len(rows)), 255)
    code.putdata([0 if cell == "1" else 255 for row in rows for cell in row])
    return code.resize((210, 210), Image.Resampling.NEAREST)


# A code, and what is told of it; {old} and {new} are the digests on record, {own} that of a spec of version 5.
CODES = {
    "the current version": (
        "SPEC:FIELD-BAG/4/{new}/BUILD-SHEET/2",
        """\
field-bag, version 4, Build sheet, page 2 (digest {new})
  issued on 2026-04-01; it is the current version; "Pocket deeper again; rivet holes of the handle re-spaced."{later}
  the spec lies in {issued}/4/field-bag.toml; --save FILE writes a copy""",
    ),
    "an older version, with all that changed since": (
        "HTTPS://EXAMPLE.ORG/B/FIELD-BAG/3/{old}/PATTERN/4",
        """\
field-bag, version 3, Pattern, page 4 (digest {old})
  issued on 2026-03-01; "Pocket 1/4 in deeper; rivet holes of the handle re-spaced."
  NOT current: version 4 was issued on 2026-04-01{later}
  changed since, up to version 4:
{CHANGED}  the spec lies in {issued}/3/field-bag.toml; --save FILE writes a copy""",
    ),
    "a digest that is not on record": (
        "SPEC:FIELD-BAG/3/0123456789/PATTERN/4",
        """\
field-bag, version 3, Pattern, page 4 (digest 0123456789)
  caution: on record, version 3 has the digest {old}, not 0123456789:
  this page was made from other contents under the same number; do not cut by it{later}""",
    ),
    "a draft with the contents that were issued": (
        "SPEC:FIELD-BAG/4-DRAFT/{new}/PATTERN/4",
        """\
field-bag, version 4, DRAFT, Pattern, page 4 (digest {new})
  a draft, printed before version 4 was issued on 2026-04-01 with the same contents{later}
  the spec lies in {issued}/4/field-bag.toml; --save FILE writes a copy""",
    ),
    "a draft that was changed before it was issued": (
        "SPEC:FIELD-BAG/4-DRAFT/0123456789/PATTERN/4",
        """\
field-bag, version 4, DRAFT, Pattern, page 4 (digest 0123456789)
  a draft, with other contents than version 4, issued on 2026-04-01; do not cut by it{later}""",
    ),
    "a draft that is still what the spec says": (
        "SPEC:FIELD-BAG/5-DRAFT/{own}/PATTERN/1",
        """\
field-bag, version 5, DRAFT, Pattern, page 1 (digest {own})
  a draft, not issued; {spec} still says the same
  the current version is 4, issued on 2026-04-01""",
    ),
    "a draft that is nowhere any more": (
        "SPEC:FIELD-BAG/5-DRAFT/0123456789/PATTERN/1",
        """\
field-bag, version 5, DRAFT, Pattern, page 1 (digest 0123456789)
  a draft, not issued, and no spec here has these contents any more
  the current version is 4, issued on 2026-04-01{later}""",
    ),
    "a version that is not on record": (
        "SPEC:FIELD-BAG/9/0123456789/PATTERN/1",
        """\
field-bag, version 9, Pattern, page 1 (digest 0123456789)
  not on record here; say where its register is with --in FOLDER
  the current version on record is 4, issued on 2026-04-01
  caution: the page is of a later one: the record of version 9 may be lost{later}""",
    ),
    "a build that is not on record": (
        "SPEC:BOOK-SLEEVE/9/0123456789/PATTERN/1",
        """\
book-sleeve, version 9, Pattern, page 1 (digest 0123456789)
  not on record here; say where its register is with --in FOLDER""",
    ),
}


@pytest.mark.parametrize("case", CODES)
def test_a_code_is_told_whole(both, write_bag, tmp_path, case):
    spec = write_bag(('version = "3"', 'version = "5"'))
    later = f"""
  {spec} says version 5, later than any on record:
  if that was issued, its record is lost, and the current version is another than the record says"""
    known = {"old": both[0].digest, "new": both[1].digest, "own": read_spec(spec).digest}
    code, said = CODES[case]
    told = said.format(**known, issued=tmp_path / "issued" / "field-bag", spec=spec, later=later, CHANGED=CHANGED)
    assert describe_trace(trace(code.format(**known), tmp_path)) == told


def test_a_damaged_register_is_told_and_nothing_is_said_for_sure(both, tmp_path):
    (both[0].folder / "record.toml").unlink()
    said = describe_trace(trace(f"SPEC:FIELD-BAG/3/{both[0].digest}/PATTERN/4", tmp_path))
    assert said == (
        f"field-bag, version 3, Pattern, page 4 (digest {both[0].digest})\n"
        "  the register is damaged, so that nothing can be said for sure:\n"
        f"  {both[0].folder / 'record.toml'}: error: this issued version has lost its record\n"
        "      mend:    bring the folder back from a copy, such as git or a backup; docgen has changed nothing"
    )


@pytest.mark.parametrize("where", [".", "..", "../..", "issued"])
def test_registers_are_found_two_folders_down_and_from_inside(both, tmp_path, where):
    folder = (tmp_path / where).resolve()
    found = trace(f"SPEC:FIELD-BAG/4/{both[1].digest}/PATTERN/4", folder).found[0]
    assert found.standing == "current"


def test_a_pdf_of_ours_is_traced_by_the_spec_inside_and_its_printed_code(both, tmp_path):
    pdf = write_pdf(both[0].spec_path, tmp_path / "out", "build-sheet")
    pages = len(PdfReader(pdf).pages)
    assert describe_trace(trace(str(pdf), tmp_path)) == (
        f"{pdf}: {pages} pages, with the spec field-bag.toml inside\n"
        "  told by its codes and the spec inside; what is drawn on the pages is not held against them\n"
        f"field-bag, version 3 (digest {both[0].digest})\n"
        '  issued on 2026-03-01; "Pocket 1/4 in deeper; rivet holes of the handle re-spaced."\n'
        "  NOT current: version 4 was issued on 2026-04-01\n"
        "  changed since, up to version 4:\n"
        f"{CHANGED}"
        f"  the spec lies in {both[0].spec_path}; --save FILE writes a copy"
    )


def test_a_pdf_with_another_spec_inside_than_its_pages_say_is_called_out(both, tmp_path):
    pdf = write_pdf(both[0].spec_path, tmp_path / "out", "care-card")
    writer = PdfWriter(clone_from=pdf)
    writer.root_object.pop("/Names")
    writer.add_attachment("field-bag.toml", both[1].source)
    writer.write(pdf)
    lines = describe_trace(trace(str(pdf), tmp_path)).splitlines()
    assert lines[0] == f"{pdf}: 1 page, with the spec field-bag.toml inside"
    assert lines[1] == "  caution: the spec inside is not the one its pages were made from; their digests differ"


def test_the_spec_comes_back_from_the_register_and_from_a_pdf(both, write_bag, tmp_path):
    found = trace(f"SPEC:FIELD-BAG/3/{both[0].digest}/PATTERN/4", tmp_path)
    assert save_spec(found, tmp_path / "back" / "old.toml") == (tmp_path / "back" / "old.toml",)
    assert (tmp_path / "back" / "old.toml").read_bytes() == both[0].source
    spec = write_bag(('version = "3"', 'version = "7"'))
    pdf = write_pdf(spec, tmp_path / "out", "care-card", is_draft=True)
    held = spec.read_bytes()
    spec.unlink()
    save_spec(trace(str(pdf), tmp_path), spec)
    assert spec.read_bytes() == held


def test_saving_never_overwrites(both, tmp_path):
    taken = tmp_path / "taken.toml"
    taken.write_text("mine")
    found = trace(f"SPEC:FIELD-BAG/3/{both[0].digest}/PATTERN/4", tmp_path)
    with pytest.raises(WriteFailed) as caught:
        save_spec(found, taken)
    assert str(caught.value) == f"cannot write {taken}: it is there already"
    assert taken.read_text() == "mine"


def test_what_is_nowhere_cannot_be_saved(both, tmp_path):
    found = trace("SPEC:FIELD-BAG/3/0123456789/PATTERN/4", tmp_path)
    with pytest.raises(NotReadable) as caught:
        save_spec(found, tmp_path / "new.toml")
    assert str(caught.value) == (
        "the spec of this code is neither on record here nor in a PDF at hand; nothing was saved"
    )
    assert not (tmp_path / "new.toml").exists()


def test_a_sheet_of_cards_and_a_card_cut_out_of_it_are_traced_from_both_sides(both, tmp_path, write_bag):
    """A sheet has the codes of its cards alone, and they are one answer."""
    older, _ = both
    source = older.source.replace(b'card   = "A6"', b'card   = "A6"\nsides  = 2')
    assert source != older.source
    (tmp_path / "bag").mkdir()
    path = tmp_path / "bag" / "field-bag.toml"
    path.write_bytes(source)
    build = resolve_build(read_spec(path))
    packet = lay_out(plan_work(build), choices=replace(choices_of(build.printing), paper="a4"), date="2026-04-02")
    (pdf,) = replace_files(tmp_path / "box", finish_documents(packet, only=["care-card"]))
    for number in (0, 1):
        sheet = draw(pdf, number, 150).convert("L")
        half = sheet.width // 2, sheet.height // 2
        for name, picture in (
            ("sheet", sheet),
            ("card", sheet.crop((0, 0, *half)).rotate(91, expand=True, fillcolor=255)),
        ):
            photo = tmp_path / f"{name}-{number}.png"
            picture.save(photo)
            (found,) = trace(str(photo), tmp_path).found
            assert (found.code.code, found.code.document) == ("FIELD-BAG", "CARE-CARD")
            assert found.code.digest == build.digest.upper()
            assert f"version 3, Care card (digest {build.digest.upper()})" in describe_trace(
                trace(str(photo), tmp_path)
            )


@pytest.mark.parametrize("ending", ["png", "jpg"])
def test_a_photo_of_a_page_is_traced(both, tmp_path, ending):
    pdf = write_pdf(both[1].spec_path, tmp_path / "out", "build-sheet")
    photo = tmp_path / f"photo.{ending}"
    draw(pdf, 1, 150).convert("RGB").rotate(7, expand=True, fillcolor="white").save(photo, quality=70)
    assert describe_trace(trace(str(photo), tmp_path)).splitlines()[0] == (
        f"field-bag, version 4, Build sheet, page 2 (digest {both[1].digest})"
    )


def test_all_codes_of_a_picture_are_told_each_once_and_strangers_named(both, tmp_path):
    pdf = write_pdf(both[1].spec_path, tmp_path / "out", "build-sheet")
    pages = [draw(pdf, page, 150) for page in (0, 2)]
    sheet = Image.new("L", (sum(page.width for page in pages), pages[0].height + 400), 255)
    sheet.paste(pages[0], (0, 0))
    sheet.paste(pages[1], (pages[0].width, 0))
    sheet.paste(draw_stranger("HELLO WORLD"), (100, sheet.height - 300))
    photo = tmp_path / "two.png"
    sheet.save(photo)
    found = trace(str(photo), tmp_path)
    assert sorted(item.code.page for item in found.found) == [1, 3]
    assert describe_trace(found).splitlines()[-1] == "also found: HELLO WORLD, which is not from docgen"


def test_a_scan_saved_as_pdf_is_read_from_its_pages(both, tmp_path):
    pdf = write_pdf(both[1].spec_path, tmp_path / "out", "build-sheet")
    scan = tmp_path / "scan.pdf"
    draw(pdf, 3, 150).save(scan, resolution=150)
    assert describe_trace(trace(str(scan), tmp_path)).splitlines()[0] == (
        f"field-bag, version 4, Build sheet, page 4 (digest {both[1].digest})"
    )


def test_a_picture_without_a_code_is_told(tmp_path):
    blank = tmp_path / "blank.png"
    Image.new("L", (400, 300), 255).save(blank)
    with pytest.raises(NotReadable) as caught:
        trace(str(blank), tmp_path)
    assert str(caught.value) == (
        f"no code is found on {blank}; take the picture from nearer, flat and in good light, "
        "or type what is printed beside the code"
    )


def test_a_picture_with_only_a_stranger_s_code_is_refused(tmp_path):
    sheet = Image.new("L", (400, 400), 255)
    sheet.paste(draw_stranger("HELLO"), (95, 95))
    sheet.save(tmp_path / "other.png")
    with pytest.raises(NotOurs) as caught:
        trace(str(tmp_path / "other.png"), tmp_path)
    assert str(caught.value) == (
        '"HELLO" is not the code of a page from docgen; those read SPEC:CODE/VERSION/DIGEST/DOCUMENT/PAGE'
    )


@pytest.mark.parametrize("name", ["photo.png", "photo.jpg", "paper.pdf"])
def test_files_that_cannot_be_read_are_told(tmp_path, name):
    path = tmp_path / name
    with pytest.raises(NotReadable) as caught:
        trace(str(path), tmp_path)
    assert str(caught.value) == f"there is no file {path}"
    path.write_bytes(b"nothing of the kind")
    with pytest.raises(NotReadable) as caught:
        trace(str(path), tmp_path)
    kind = "PDF" if name.endswith("pdf") else "picture in PNG or JPEG"
    assert str(caught.value) == f"{path} is damaged, or no {kind}"


def test_a_pdf_from_elsewhere_is_told(tmp_path):
    writer = PdfWriter()
    writer.add_blank_page(200, 200)
    path = tmp_path / "other.pdf"
    writer.write(path)
    with pytest.raises(NotReadable) as caught:
        trace(str(path), tmp_path)
    assert str(caught.value) == f"{path} was not made by docgen: it has no build spec inside"


def test_without_the_extra_packages_a_picture_says_how_to_get_them(tmp_path, monkeypatch):
    photo = tmp_path / "photo.png"
    Image.new("L", (40, 30), 255).save(photo)
    monkeypatch.setitem(sys.modules, "zxingcpp", None)
    with pytest.raises(ScanMissing) as caught:
        trace(str(photo), tmp_path)
    assert str(caught.value) == (
        'to read codes from a picture, docgen needs three more packages; in its own folder: pip install ".[scan]"\n'
        "or type what is printed beside the code: docgen trace SPEC:..."
    )


def test_without_the_extra_packages_a_pdf_of_ours_is_still_traced(both, tmp_path, monkeypatch):
    pdf = write_pdf(both[1].spec_path, tmp_path / "out", "care-card")
    for name in ("zxingcpp", "PIL", "pypdfium2"):
        monkeypatch.setitem(sys.modules, name, None)
    assert trace(str(pdf), tmp_path).found[0].standing == "current"


def test_a_damaged_version_is_told_whole(both):
    (both[1].spec_path).write_bytes(b"")
    from docgen.versions.kept.register import VersionRefused, read_issued

    with pytest.raises(VersionRefused) as caught:
        read_issued(both[1].folder)
    assert describe_refusal(caught.value).startswith(f"{both[1].spec_path}: error: this copy is not as it was issued\n")
