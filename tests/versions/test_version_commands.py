"""`docgen issue`, `compare`, `trace` and `make --since` as a person calls them: what is said, exit codes, files."""

import re

import pytest
from pypdf import PdfReader

from docgen.read import read_spec

NEXT = ('version = "3"', 'version = "4"')
REPAIR = ('repair = "Worn', 'repair = "All worn')


@pytest.fixture
def issue(issue):
    """issue(path, day) -> the version, issued on the first of March when no day is given."""
    return lambda path, day="2026-03-01": issue(path, day).issued


def words_of(pdf):
    return "".join("".join(page.extract_text() for page in PdfReader(pdf).pages).split())


def test_a_version_is_issued_and_its_pages_are_no_draft_any_more(run, write_bag, here):
    write_bag()
    code, said, _ = run("make", "field-bag.toml", "--only", "care-card", "--out", "first")
    assert code == 0
    assert said.splitlines()[2] == (
        "the pages say DRAFT: version 3 of field-bag is not issued; once it is right: docgen issue field-bag.toml"
    )
    assert "/3-DRAFT/" in words_of(here / "first" / "care-card.pdf")
    code, said, _ = run("issue", "field-bag.toml", "--date", "2026-03-31")
    digest = read_spec("field-bag.toml").digest
    assert (code, said) == (
        0,
        f"issued version 3 of field-bag: digest {digest}, 2026-03-31\n"
        "  issued/field-bag/3  (the spec; keep this folder, for example in git)\n",
    )
    code, said, _ = run("make", "field-bag.toml", "--only", "care-card", "--out", "second")
    assert code == 0
    assert "DRAFT" not in said
    assert "DRAFT" not in words_of(here / "second" / "care-card.pdf")
    assert f"FIELD-BAG/3/{digest}/CARE-CARD/1" in words_of(here / "second" / "care-card.pdf")


def test_an_issued_copy_is_no_draft_where_it_lies(run, write_bag, here, issue):
    copy = issue(write_bag()).spec_path.relative_to(here)
    code, said, _ = run("make", str(copy), "--only", "care-card")
    assert code == 0
    assert "DRAFT" not in said


def test_draft_is_in_the_title_block_of_words_and_of_sheets_and_on_templates(run, write_bag, here):
    write_bag()
    assert run("make", "field-bag.toml", "--only", "pattern", "build-sheet", "--out", "out")[0] == 0
    sheets = [" ".join(page.extract_text().split()) for page in PdfReader(here / "out" / "pattern.pdf").pages[1:]]
    assert all("version 3 DRAFT" in sheet for sheet in sheets)
    assert any(re.search(r"field-bag\s+[0-9A-F]{10}\s+version 3 DRAFT", sheet) for sheet in sheets)
    assert "3 DRAFT" in PdfReader(here / "out" / "build-sheet.pdf").pages[3].extract_text()


def test_contents_other_than_those_issued_make_a_draft_and_never_block(run, write_bag, issue):
    issue(write_bag())
    write_bag(REPAIR)
    code, said, _ = run("make", "field-bag.toml", "--only", "care-card")
    assert code == 0
    assert said.splitlines()[2] == (
        "the pages say DRAFT: version 3 was issued on 2026-03-01 with other contents; "
        "raise the version; docgen compare 3 field-bag.toml tells what differs"
    )


def test_a_damaged_register_makes_a_draft_and_is_told(run, write_bag, issue):
    (issue(write_bag()).folder / "record.toml").unlink()
    code, said, _ = run("make", "field-bag.toml", "--only", "care-card")
    assert code == 0
    assert said.splitlines()[2] == (
        "the pages say DRAFT: this issued version has lost its record; "
        "bring the folder back from a copy, such as git or a backup; docgen has changed nothing"
    )


def test_issuing_other_contents_ends_with_1_and_tells_what_differs(run, write_bag, issue):
    issue(write_bag())
    write_bag(REPAIR)
    assert run("issue", "field-bag.toml") == (
        1,
        "",
        "issued/field-bag/3: error: version 3 of field-bag was issued on 2026-03-01 with other contents\n"
        "    mend:    an issued version does not change: raise the version, "
        'say in "changed" what is new, and issue that\n'
        "what differs:\n"
        "  care card\n"
        '      repair: "All worn stitching and straps are renewed at the bench; write to us.", '
        'was "Worn stitching and straps are renewed at the bench; write to us."\n',
    )


def test_a_wrong_spec_is_not_issued(run, write_bag, here):
    write_bag(('["8 in", "4 3/4 in"]', '["8 in", "4 3/4"]'))
    code, said, wrong = run("issue", "field-bag.toml")
    assert (code, said) == (1, "")
    assert "has no unit" in wrong
    assert not (here / "issued").exists()


def test_two_versions_are_compared_by_number_by_path_and_by_pdf(run, write_bag, issue):
    old = issue(write_bag())
    run("make", "field-bag.toml", "--only", "care-card", "--out", "old")
    new = issue(write_bag(NEXT, REPAIR), "2026-04-01")
    changed = (
        "  care card\n"
        '      repair: "All worn stitching and straps are renewed at the bench; write to us.", '
        'was "Worn stitching and straps are renewed at the bench; write to us."\n'
        "templates:\n"
    )
    heads = {
        ("3", "4"): f"field-bag version 3 ({old.digest}) -> field-bag version 4 ({new.digest})\n",
        ("3", "field-bag.toml"): (
            f"field-bag version 3 ({old.digest}) -> field-bag.toml: field-bag version 4 ({new.digest})\n"
        ),
        ("old/care-card.pdf", "4"): (
            f"care-card.pdf: field-bag version 3 ({old.digest}) -> field-bag version 4 ({new.digest})\n"
        ),
    }
    for sides, head in heads.items():
        code, said, _ = run("compare", *sides)
        assert code == 0
        assert said.startswith(head + changed)
        assert "\nCare card:\n  print        page 1\n  throw away   page 1 of " in said


@pytest.mark.parametrize(
    "edit", [('paper   = "letter"', 'paper   = "a0"'), ('["8 in", "4 3/4 in"]', '["9 in", "8 1/2 in"]')]
)
def test_the_pages_told_are_those_that_each_side_prints(run, write_bag, here, edit):
    """By the names in the files: of the newer one all are kept or printed, of the older one kept or thrown away."""
    write_bag(name="old.toml")
    write_bag(NEXT, edit, name="new.toml")
    told = run("compare", "old.toml", "new.toml")[1].partition("\nPattern:\n")[2].partition("\nCutting list:\n")[0]
    pages = {"still right": []}
    for line in told.splitlines():
        does, names = re.fullmatch(
            r"  (print|still right|throw away) +([^:]*?)(?: of old\.toml)?(?:: .*)?", line
        ).groups()
        pages.setdefault(does, []).extend(re.sub(r"\b(page|sheet)s? ", "", names).replace(" and ", ", ").split(", "))
    for name, side in (("old", "throw away"), ("new", "print")):
        run("make", f"{name}.toml", "--only", "pattern", "--out", name)
        labels = PdfReader(here / name / "pattern.pdf").page_labels
        assert sorted(pages["still right"] + pages[side]) == sorted(label.removeprefix("Pattern ") for label in labels)


def test_a_number_that_is_not_issued_and_one_without_a_build_are_told(run, write_bag, issue):
    write_bag()
    assert run("compare", "2", "field-bag.toml") == (
        1,
        "",
        'issued/field-bag: error: no version "2" of field-bag is issued\n'
        "    mend:    nothing is issued yet: docgen issue SPEC\n",
    )
    assert run("compare", "2", "3") == (
        1,
        "",
        '.: error: "2" is no file, and it is not clear of which build it would be a version\n'
        "    mend:    name one side as a spec, like: docgen compare 2 field-bag.toml\n",
    )
    issue(write_bag())
    assert run("compare", "2", "field-bag.toml")[2] == (
        'issued/field-bag: error: no version "2" of field-bag is issued\n    mend:    issued are 3\n'
    )


def test_only_what_changed_is_made_into_one_file_with_a_cover(run, write_bag, here, issue):
    issue(write_bag())
    write_bag(NEXT, REPAIR)
    code, said, _ = run("make", "field-bag.toml", "--since", "3", "--date", "2026-04-02")
    assert code == 0
    assert said.startswith("wrote out/field-bag-v4\n  changes-since-3.pdf  2 pages\n")
    reader = PdfReader(here / "out" / "field-bag-v4" / "changes-since-3.pdf")
    assert list(reader.page_labels) == ["Changes 1", "Care card 1"]
    cover = " ".join(reader.pages[0].extract_text().split())
    assert "Throw away page 1 of version 3" in cover
    assert "Put in their place page 1 of version 4" in cover
    assert dict(reader.attachments) == {"field-bag.toml": [(here / "field-bag.toml").read_bytes()]}


def test_since_goes_with_the_whole_of_the_documents_only(run, write_bag):
    write_bag()
    for more in (("--only", "pattern"), ("--pieces", "back")):
        assert run("make", "field-bag.toml", "--since", "3", *more) == (
            2,
            "",
            "docgen: --since prints every page that changed: leave out --only, --pieces, --orders and --csv\n",
        )


def test_a_code_is_traced_and_its_spec_saved(run, write_bag, here, issue):
    digest = issue(write_bag()).digest
    code, said, _ = run("trace", f"SPEC:FIELD-BAG/3/{digest}/PATTERN/4", "--save", "back.toml")
    assert (code, said) == (
        0,
        f"field-bag, version 3, Pattern, page 4 (digest {digest})\n"
        '  issued on 2026-03-01; it is the current version; "Pocket 1/4 in deeper; '
        'rivet holes of the handle re-spaced."\n'
        "  the spec lies in issued/field-bag/3/field-bag.toml; --save FILE writes a copy\n"
        "saved back.toml\n",
    )
    assert (here / "back.toml").read_bytes() == (here / "field-bag.toml").read_bytes()


def test_how_a_page_stands_is_told_by_the_exit_code_too(run, write_bag, issue):
    old = issue(write_bag()).digest
    code = f"SPEC:FIELD-BAG/3/{old}/PATTERN/4"
    assert run("trace", code)[0] == 0
    assert run("trace", code.replace("/3/", "/3-DRAFT/"))[0] == 4
    assert run("trace", code.replace(old, "0123456789"))[0] == 5
    assert run("trace", code.replace("/3/", "/3-DRAFT/").replace(old, "0123456789"))[0] == 5
    assert run("trace", code.replace("FIELD-BAG/3", "FIELD-BAG/9"))[0] == 6
    assert run("trace", code.replace("FIELD-BAG/3", "FIELD-BAG/9-DRAFT"))[0] == 4
    new = issue(write_bag(('version = "3"', 'version = "4"'))).digest
    assert run("trace", code)[0] == 4
    assert run("trace", f"SPEC:FIELD-BAG/4/{new}/PATTERN/4")[0] == 0
    assert run("trace", f"SPEC:FIELD-BAG/9-DRAFT/{old}/PATTERN/4")[0] == 6


def test_what_cannot_be_traced_ends_with_2(run, here):
    assert run("trace", "hello") == (
        2,
        "",
        'docgen: "hello" is not the code of a page from docgen; those read SPEC:CODE/VERSION/DIGEST/DOCUMENT/PAGE\n',
    )
    assert run("trace", "photo.png") == (2, "", "docgen: there is no file photo.png\n")
    assert run("trace", "SPEC:FIELD-BAG/3/0123456789/PATTERN/4", "--in", "nowhere") == (
        2,
        "",
        "docgen: there is no folder nowhere\n",
    )
