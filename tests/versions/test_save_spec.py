"""`trace PDF --save FILE`: only the spec and its drawings, beside FILE, and only what the pages were made from."""

import pytest
from pypdf import PdfReader, PdfWriter
from spec_text import write_out

from docgen.cli import main
from docgen.problems import CallRejected, SpecRejected
from docgen.versions.traced.trace import save_spec, trace

SPEC = write_out("""\
<spec patch: Patch, version 1>

<leather hide: 2 mm>

[pieces.patch]
of = "hide"
shape = "drawing"
file = "patch.svg"
scale = "1 mm"
""")
DRAWING = '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 100 100"><path d="M0 0H80V60H0Z"/></svg>'


@pytest.fixture
def pdf(tmp_path, monkeypatch):
    """The care card of a draft with one drawing, and nothing else at hand."""
    monkeypatch.chdir(tmp_path)
    shop = tmp_path / "shop"
    shop.mkdir()
    (shop / "patch.toml").write_text(SPEC)
    (shop / "patch.svg").write_text(DRAWING)
    assert main(["make", "shop/patch.toml", "--only", "care-card", "--out", "out", "--date", "2026-03-31"]) == 0
    return tmp_path / "out" / "care-card.pdf"


def attach(pdf, files, keep=True):
    """The same pages with more, or other, files attached."""
    held = {name: parts[0] for name, parts in PdfReader(pdf).attachments.items()}
    writer = PdfWriter(clone_from=pdf)
    writer.root_object.pop("/Names")
    for name, content in {**(held if keep else {}), **files}.items():
        writer.add_attachment(name, content)
    writer.write(pdf)


def listing(folder):
    return sorted(path.relative_to(folder).as_posix() for path in folder.rglob("*") if path.is_file())


def test_spec_and_drawing_come_back(pdf, tmp_path, capsys):
    assert main(["trace", str(pdf), "--save", "back/new.toml"]) == 4
    assert listing(tmp_path / "back") == ["new.toml", "patch.svg"]
    assert (tmp_path / "back" / "new.toml").read_text() == SPEC
    assert (tmp_path / "back" / "patch.svg").read_text() == DRAWING


@pytest.mark.parametrize(
    "name", ["../evil.txt", "/tmp/docgen-evil.txt", "sub/evil.txt", ".profile", "a\\b.txt", "c:evil.txt", "a\nb.txt"]
)
def test_names_that_could_lead_elsewhere_are_refused(pdf, tmp_path, name):
    attach(pdf, {name: b"evil"})
    found = trace(str(pdf), tmp_path)
    assert found.file is not None
    before = listing(tmp_path)
    with pytest.raises(SpecRejected):
        save_spec(found, tmp_path / "back" / "new.toml")
    # Also when the pages were made to say that it belongs to the spec.
    from dataclasses import replace

    believed = replace(found, file=replace(found.file, is_spec_right=True))
    with pytest.raises(SpecRejected) as caught:
        save_spec(believed, tmp_path / "back" / "new.toml")
    assert "inside is no plain name of a file; nothing was saved" in caught.value.problems[0].what
    assert listing(tmp_path) == before
    assert not (tmp_path / "back").exists()


def test_what_the_spec_does_not_name_is_not_saved(pdf, tmp_path):
    from dataclasses import replace

    attach(pdf, {"extra.txt": b"not asked for"})
    found = trace(str(pdf), tmp_path)
    believed = replace(found, file=replace(found.file, is_spec_right=True))
    save_spec(believed, tmp_path / "back" / "new.toml")
    assert listing(tmp_path / "back") == ["new.toml", "patch.svg"]


def test_another_spec_than_the_pages_were_made_from_is_not_saved(pdf, tmp_path, capsys):
    attach(pdf, {"patch.toml": SPEC.replace("2 mm", "3 mm").encode()})
    capsys.readouterr()
    assert main(["trace", str(pdf), "--save", "back/new.toml"]) == 1
    assert capsys.readouterr().err == (
        f"{pdf}: error: the spec inside is not the one its pages were made from: their digests differ; "
        "nothing was saved\n"
        "    mend:    trace the code of one page; where its version is issued, --save takes it from the register\n"
        "1 error\n"
    )
    assert not (tmp_path / "back").exists()


def test_a_drawing_does_not_take_the_place_of_the_spec(pdf, tmp_path):
    with pytest.raises(CallRejected) as caught:
        save_spec(trace(str(pdf), tmp_path), tmp_path / "back" / "Patch.svg")
    assert str(caught.value) == (
        'a drawing of this spec is called "patch.svg"; give --save another name, one that ends in ".toml"'
    )
    assert not (tmp_path / "back").exists()


def test_a_link_under_a_drawing_s_name_is_not_followed(pdf, tmp_path, capsys):
    (tmp_path / "back").mkdir()
    (tmp_path / "back" / "patch.svg").symlink_to(tmp_path / "elsewhere.svg")
    assert main(["trace", str(pdf), "--save", "back/new.toml"]) in (2, 3)
    assert not (tmp_path / "elsewhere.svg").exists()
    assert not (tmp_path / "back" / "new.toml").exists()
