"""`trace PDF --save FILE`: only the spec and its drawings, beside FILE, and only what the pages were made from."""

from dataclasses import replace
from pathlib import Path

import pytest
from pypdf import PdfReader, PdfWriter
from pypdf.generic import ArrayObject, DecodedStreamObject, DictionaryObject, NameObject, TextStringObject
from short_specs import PATCH
from short_specs import PATCH_DRAWING as DRAWING
from spec_text import write_out

from docgen.cli import main
from docgen.problems import CallRejected, SpecRejected
from docgen.read import make_digest
from docgen.versions.traced.trace import save_spec, trace
from docgen.write.room import stage, write_journal

SPEC = write_out(PATCH)


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
    "name",
    [
        "../evil.txt",
        "/tmp/docgen-evil.txt",
        "sub/evil.txt",
        ".profile",
        "a\\b.txt",
        "c:evil.txt",
        "a\nb.txt",
        "note.toml",
    ],
)
def test_what_else_is_attached_changes_nothing_and_is_not_saved(pdf, tmp_path, name, capsys):
    before = main(["trace", str(pdf)]), capsys.readouterr().out.partition("made")[2]
    attach(pdf, {name: b"evil = 1"})
    assert (main(["trace", str(pdf)]), capsys.readouterr().out.partition("made")[2]) == before
    assert main(["compare", str(pdf), "shop/patch.toml"]) == 0
    held = listing(tmp_path)
    assert main(["trace", str(pdf), "--save", "back/new.toml"]) == 4
    assert listing(tmp_path) == sorted([*held, "back/new.toml", "back/patch.svg"])


@pytest.mark.parametrize("name", ["patch.svg/below.txt", "PATCH.TOML", "other.toml"])
def test_what_stands_in_the_way_of_spec_or_drawing_changes_nothing(pdf, tmp_path, name):
    other = SPEC.replace('title = "Patch"', 'title = "Other"')
    assert other != SPEC
    attach(pdf, {name: other.encode()})
    assert main(["trace", str(pdf), "--save", "back/new.toml"]) == 4
    assert (tmp_path / "back" / "new.toml").read_text() == SPEC


@pytest.mark.parametrize("name", [".patch.svg", "art/.patch.svg", "con.svg"])
def test_a_drawing_whose_name_is_not_plain_is_not_saved(pdf, tmp_path, name):
    found = trace(str(pdf), tmp_path)
    spec = SPEC.replace("patch.svg", name).encode()
    held = replace(found.file.enclosed, files=(("patch.toml", spec), (name, DRAWING.encode())))
    digest = make_digest(spec, ((name, DRAWING.encode()),))
    code = replace(found.found[0].code, digest=digest)
    believed = replace(found, found=(replace(found.found[0], code=code),), file=replace(found.file, enclosed=held))
    with pytest.raises(SpecRejected):
        save_spec(believed, tmp_path / "back" / "new.toml")
    assert not (tmp_path / "back").exists()


def test_it_is_saved_beside_the_very_same_drawing_and_not_beside_another(pdf, tmp_path, capsys):
    (tmp_path / "back").mkdir()
    (tmp_path / "back" / "patch.svg").write_text(DRAWING)
    stood = (tmp_path / "back" / "patch.svg").stat().st_ino
    assert main(["trace", str(pdf), "--save", "back/new.toml"]) == 4
    assert (tmp_path / "back" / "patch.svg").stat().st_ino == stood
    assert capsys.readouterr().out.splitlines()[-1] == f"saved {Path('back/new.toml')}"
    (tmp_path / "back" / "new.toml").unlink()
    (tmp_path / "back" / "patch.svg").write_text("mine")
    assert main(["trace", str(pdf), "--save", "back/new.toml"]) == 3
    assert listing(tmp_path / "back") == ["patch.svg"]
    (tmp_path / "back" / "new.toml").write_text(SPEC)
    (tmp_path / "back" / "patch.svg").write_text(DRAWING)
    assert main(["trace", str(pdf), "--save", "back/new.toml"]) == 3, "the spec itself is always new"


def rewrite(pdf, change):
    """The same file, changed in its objects by `change`, which is given the writer."""
    writer = PdfWriter(clone_from=pdf)
    change(writer)
    writer.write(pdf)


def give_second_contents(name):
    """A change that puts other contents under the second name of an attached file."""

    def change(writer):
        pairs = writer.root_object["/Names"]["/EmbeddedFiles"]["/Names"]
        held = next(spec.get_object() for key, spec in zip(pairs[::2], pairs[1::2], strict=True) if key == name)
        other = DecodedStreamObject()
        other.set_data(b"# other\n")
        held["/EF"].get_object()[NameObject("/UF")] = writer._add_object(other)

    return change


@pytest.mark.parametrize("name", ["patch.toml", "patch.svg"])
def test_a_file_with_other_contents_under_its_second_name_is_told_and_not_saved(pdf, tmp_path, name, capsys):
    rewrite(pdf, give_second_contents(name))
    assert main(["trace", str(pdf)]) == 5
    told = f'"{name}" inside {pdf} has other contents under its second name: others may see those'
    assert f"  caution: {told}\n" in capsys.readouterr().out
    assert main(["trace", str(pdf), "--save", "back/new.toml"]) == 1
    assert not (tmp_path / "back").exists()
    assert main(["compare", str(pdf), "shop/patch.toml"]) == 1


def test_a_further_file_with_two_contents_is_told_and_no_more(pdf, capsys):
    attach(pdf, {"note.txt": b"one"})
    rewrite(pdf, give_second_contents("note.txt"))
    assert main(["trace", str(pdf)]) == 4
    assert '"note.txt" inside' in capsys.readouterr().out


ACTION = {"/S": NameObject("/JavaScript"), "/JS": TextStringObject("app.alert(1)")}


def as_object(held):
    return DictionaryObject({NameObject(key): value for key, value in held.items()})


def add_opening(writer):
    writer.root_object[NameObject("/OpenAction")] = as_object(ACTION)


def add_link(writer):
    link = as_object({"/S": NameObject("/URI"), "/URI": TextStringObject("https://example.org")})
    note = as_object({"/Subtype": NameObject("/Link"), "/A": link})
    writer.pages[0][NameObject("/Annots")] = ArrayObject([writer._add_object(note)])


def add_launch(writer):
    launch = as_object({"/S": NameObject("/Launch"), "/F": TextStringObject("calc")})
    writer.pages[0][NameObject("/AA")] = as_object({"/O": launch})


@pytest.mark.parametrize(
    ("change", "told"),
    [
        (add_opening, "acts when it is opened, runs JavaScript"),
        (add_link, "opens a web address"),
        (add_launch, "acts when a page or field is looked at, starts a program"),
    ],
)
def test_a_file_that_acts_by_itself_is_told(pdf, capsys, change, told):
    main(["trace", str(pdf)])
    assert "acts by itself" not in capsys.readouterr().out
    rewrite(pdf, change)
    assert main(["trace", str(pdf)]) == 4
    words = f"{pdf} acts by itself, which no file from docgen does: it {told}"
    assert f"  caution: {words}\n" in capsys.readouterr().out
    main(["compare", str(pdf), "shop/patch.toml"])
    assert words in capsys.readouterr().err


def test_what_trace_vouches_for_is_said(pdf, capsys):
    main(["trace", str(pdf)])
    told = "told by its codes and the spec inside; what is drawn on the pages is not held against them"
    assert f"  {told}\n" in capsys.readouterr().out


def test_compare_takes_no_spec_that_the_pages_were_not_made_from(pdf, capsys):
    attach(pdf, {"patch.toml": SPEC.replace("2 mm", "3 mm").encode()})
    assert main(["compare", str(pdf), "shop/patch.toml"]) == 1
    assert "the spec inside is not the one its pages were made from: their digests differ" in capsys.readouterr().err


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


def test_a_pdf_in_a_folder_that_is_half_done_says_so(pdf, capsys):
    room = pdf.parent / ".docgen-unfinished-1"
    room.mkdir()
    (room / "0.before").write_bytes(b"older")
    guest = stage(room, 1, "care-card.pdf", pdf.read_bytes())
    write_journal(room, [guest])
    told = f"a run that put files into the folder of {pdf} was stopped, or is at work still: "
    assert main(["trace", str(pdf)]) == 4
    assert f"  caution: {told}" in capsys.readouterr().out
    main(["compare", str(pdf), "shop/patch.toml"])
    assert told in capsys.readouterr().err
    (room / "journal").unlink()
    main(["trace", str(pdf)])
    assert told not in capsys.readouterr().out, "before its journal a run has moved nothing"
