"""Which pages are printed again: exactly those that changed, none that is still right.

Outside check: pypdfium2 draws the pages; one that is kept looks like the older one.
"""

from functools import cache
from io import BytesIO
from pathlib import Path

import numpy as np
import pypdfium2
import pytest

from docgen.checks import resolve_build
from docgen.pages import choices_of
from docgen.pages.marks.page import CodeMark, Packet
from docgen.plan import plan_work
from docgen.read import read_spec
from docgen.versions.compared.compare import compare_builds
from docgen.versions.compared.reprint import lay_out_both
from docgen.versions.compared.since import lay_out_since
from docgen.versions.compared.words import describe_comparison
from docgen.write import finish_documents, replace_files

DAY = "2026-03-31"
POCKET = ('["8 in", "4 3/4 in"]', '["8 in", "5 in"]')
NEXT = ('version = "3"', 'version = "4"')


@pytest.fixture(scope="module")
def compare(tmp_path_factory):
    """compare(edit, ...) -> the comparison with all pages, both packets, and the newer build; each is made once."""
    bag = Path(__file__).with_name("field-bag.toml").read_text(encoding="utf-8")
    path = tmp_path_factory.mktemp("bags") / "field-bag.toml"

    def build_bag(*edits):
        text = bag
        for old, new in edits:
            assert old in text
            text = text.replace(old, new)
        path.write_text(text, encoding="utf-8")
        return resolve_build(read_spec(path))

    before = build_bag()

    @cache
    def run(*edits):
        after = build_bag(NEXT, *edits)
        choices = (choices_of(before.printing), choices_of(after.printing))
        packets = lay_out_both(before, after, choices, DAY)
        comparison = compare_builds(before, after, before_label="version 3", after_label="the spec", packets=packets)
        return comparison, packets, after

    return run


def page_of(packet: Packet, printed):
    document = next(item for item in packet.documents if item.name == printed.document)
    return document.pages[printed.number - 1]


def test_when_only_words_of_the_file_differ_every_page_is_still_right(compare):
    comparison, packets, _ = compare(("A lined panel bag", "A lined bag"))
    assert all(verdict.kept == verdict.page for verdict in comparison.pages)
    assert len(comparison.pages) == sum(len(document.pages) for document in packets[1].documents)
    assert comparison.thrown == ()
    digests = f"({comparison.before.digest})", f"({comparison.after.digest})"
    assert describe_comparison(comparison) == (
        f"field-bag version 3 {digests[0]} -> the spec: field-bag version 4 {digests[1]}\n"
        "nothing to make differently: what is cut and printed is still right"
    )


def test_every_page_is_kept_or_printed_and_every_older_one_kept_or_thrown_away(compare):
    comparison, (older, newer), _ = compare(POCKET)
    assert len(comparison.pages) == sum(len(document.pages) for document in newer.documents)
    kept = [verdict.kept for verdict in comparison.pages if verdict.kept]
    assert len(set(kept)) == len(kept)
    assert not set(kept) & set(comparison.thrown)
    assert len(kept) + len(comparison.thrown) == sum(len(document.pages) for document in older.documents)


def test_a_sheet_is_printed_when_a_template_on_it_changed_and_kept_only_with_all_of_them_right(compare):
    comparison, (older, newer), _ = compare(POCKET)
    changed = {"front", "pocket"}
    sheets = [verdict for verdict in comparison.pages if verdict.page.name]
    assert any(verdict.kept for verdict in sheets)
    for verdict in sheets:
        content = page_of(newer, verdict.page).sheet
        names = {part.name for part in content.parts}
        if names & changed:
            assert verdict.kept is None
            assert not verdict.is_moved
        elif verdict.kept:
            assert {part.name for part in page_of(older, verdict.kept).sheet.parts} == names
        else:
            assert verdict.is_moved


def test_only_the_pages_of_words_that_say_something_else_are_printed(compare):
    comparison, _, _ = compare(('repair = "Worn', 'repair = "All worn'))
    printed = [verdict.page for verdict in comparison.pages if verdict.kept is None]
    assert {page.document for page in printed} == {"care-card"}
    assert [page.document for page in comparison.thrown] == ["care-card"] * len(printed)


def test_other_words_in_one_step_change_the_page_of_that_step_only(compare):
    comparison, (_, newer), _ = compare(("Pull hard on both rings", "Pull hard at both rings"))
    (printed,) = [verdict.page for verdict in comparison.pages if verdict.kept is None]
    words = [mark.text for mark in page_of(newer, printed).marks if hasattr(mark, "text")]
    assert printed.document == "build-sheet"
    assert any("Pull hard at both rings" in line for line in words)
    assert [(page.document, page.number) for page in comparison.thrown] == [("build-sheet", printed.number)]


def codes_of(page):
    return [mark for mark in page.marks if isinstance(mark, CodeMark)]


def draw(folder, packet: Packet, name: str):
    path = replace_files(folder, finish_documents(packet, only=[name]))[0]
    document = pypdfium2.PdfDocument(BytesIO(path.read_bytes()))
    return [np.asarray(page.render(scale=60 / 72, grayscale=True).to_numpy(), dtype=int) for page in document]


def test_a_kept_page_looks_like_the_older_one_and_a_printed_one_does_not(compare, tmp_path):
    comparison, (older, newer), _ = compare(POCKET)
    for name in ("pattern", "build-sheet"):
        old, new = draw(tmp_path / "old", older, name), draw(tmp_path / "new", newer, name)
        for verdict in comparison.pages:
            if verdict.page.document != name:
                continue
            if verdict.kept:
                # what differs is the page's number, in words and in its codes, whose mask may be another
                differs = np.abs(old[verdict.kept.number - 1] - new[verdict.page.number - 1]) > 96
                for code in codes_of(page_of(newer, verdict.page)):
                    left, right = (int(x * 60 / 25.4) for x in (code.x_mm - 1, code.x_mm + code.size_mm + 2))
                    low, high = (int(y * 60 / 25.4) for y in (code.y_mm - 1, code.y_mm + code.size_mm + 2))
                    differs[len(differs) - high : len(differs) - low, left:right] = False
                assert differs.mean() < 0.004
            elif verdict.page.number <= len(old):
                assert (old[verdict.page.number - 1] != new[verdict.page.number - 1]).any()


def test_the_packet_of_changes_holds_a_cover_and_exactly_the_pages_to_print(compare):
    comparison, (_, newer), after = compare(POCKET)
    choices = choices_of(after.printing)
    packet = lay_out_since(comparison, newer, plan_work(after), choices, date=DAY, is_draft=False)
    (document,) = packet.documents
    assert document.name == "changes-since-3"
    assert document.title == "Changes: 3 - 4"
    wanted = [page_of(newer, verdict.page) for verdict in comparison.pages if verdict.kept is None]
    covers = [page for page in document.pages if "/CHANGES/" in page.payload]
    assert document.pages == (*covers, *wanted)
    assert 1 <= len(covers) <= 3
    said = [mark.text for page in covers for mark in page.marks if hasattr(mark, "text")]
    assert "Changes" in said
    assert "Exchange these pages" in said
    assert "cut again: Outer pocket (its outline and the marks on it)" in said
    assert after.changed in said
    kept = " ".join(said)
    assert "Shoulder strap, hole part; " in kept
    assert "Shoulder strap, hole part, " not in kept
    thrown = sorted(page.number for page in comparison.thrown if page.document == "build-sheet")
    numbers = ", ".join(map(str, thrown[:-1])) + f" and {thrown[-1]}" if len(thrown) > 1 else str(thrown[0])
    pages = "pages" if len(thrown) > 1 else "page"
    assert f"Throw away {pages} {numbers} of version 3" in said


def test_on_other_paper_every_sheet_is_printed_again_and_the_templates_are_still_right(compare):
    comparison, _, _ = compare(('paper   = "letter"', 'paper   = "a4"'))
    assert all(item.is_kept for item in comparison.templates)
    assert all(verdict.kept is None for verdict in comparison.pages)
    assert all(verdict.is_moved for verdict in comparison.pages if verdict.page.name)
    said = describe_comparison(comparison)
    assert "the pieces on it are unchanged and only lie elsewhere; not needed where they are cut out already" in said
    assert "  still right  Outer pocket: version 3's template" in said


def test_the_whole_of_what_is_said_about_a_deeper_pocket(compare):
    comparison, _, _ = compare(POCKET)
    lines = describe_comparison(comparison).splitlines()
    first = lines.index("templates:")
    assert lines[first : first + 14] == [
        "templates:",
        "  cut again    Front panel: the marks on it changed",
        "  cut again    Outer pocket: its outline and the marks on it changed",
        *(
            f"  still right  {title}: version 3's template"
            for title in (
                "Back panel",
                "Buckle tab",
                "Gusset side",
                "Gusset base",
                "Ring tab",
                "Lining, back and front",
                "Gusset lining",
                "Foam, back and front",
                "Shoulder strap, buckle part",
                "Shoulder strap, hole part",
                "Handle",
            )
        ),
    ]
    heads = [line for line in lines[first + 15 :] if not line.startswith(" ")]
    assert heads == ["Pattern:", "Cutting list:", "Build sheet:", "Care card:"]


@pytest.mark.parametrize(
    "edit",
    [
        ('show    = "in"', 'show    = "mm"'),
        (
            'name    = "Alder Lane Leather"',
            'name    = "Alder Lane Leather"\nlink = "https://example.org/a/rather/long/way/to/b"',
        ),
        ('title   = "Seed collector\'s field bag"', 'title   = "Bag"'),
    ],
    ids=["other units", "a longer code", "another title"],
)
def test_older_sheets_are_named_as_they_were_printed(compare, edit):
    """Unit, link and title change labels, tags and codes, and with them where pieces find room: a sheet of the older
    version is what came out of its own printing, whatever the newer one says."""
    comparison, (older, _), _ = compare(edit)
    _, (own, _), _ = compare()
    sheets = [[page.sheet for page in packet.documents[0].pages if page.sheet] for packet in (own, older)]
    assert sheets[0] == sheets[1]
    kept = {verdict.kept for verdict in comparison.pages if verdict.kept is not None and verdict.kept.name}
    names = {page.sheet.name for page in own.documents[0].pages if page.sheet}
    assert {page.name for page in (*kept, *comparison.thrown) if page.name} == names
