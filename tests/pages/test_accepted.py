"""What the maker accepts stands on the pages in words: what was found, where, and why it may stay."""

from dataclasses import replace

import pytest
from demos import demo_build
from on_paper import PAPERS, make_setup, texts

from docgen.fonts import text_width_mm
from docgen.pages.lists.cutting_list import lay_out_cutting_list
from docgen.pages.marks.page import Document, TextMark
from docgen.pages.work.build_sheet import lay_out_build_sheet
from docgen.plan import join_plans, plan_work
from docgen.problems import Place, Problem, make_caution
from docgen.resolve import Accepted, Build


def find(at: str, what: str = "the hole lies near the edge") -> Problem:
    return make_caution(Place(), what, "move it", "hole-near-edge", at)


def accept(*items: tuple[Problem, str]) -> Build:
    return replace(demo_build(), accepted=tuple(Accepted(problem=item, reason=reason) for item, reason in items))


def lay(build: Build, paper: str = "letter") -> tuple[Document, Document]:
    setup, plan = make_setup(paper), plan_work(build)
    return lay_out_cutting_list(plan, setup), lay_out_build_sheet(plan, setup)


def marks(document: Document) -> list[TextMark]:
    return [mark for page in document.pages for mark in page.marks if isinstance(mark, TextMark)]


def told(document: Document) -> str:
    return " ".join(texts(document))


@pytest.mark.parametrize("at", range(2))
def test_it_stands_under_its_own_heading_with_part_words_and_reason(at: int) -> None:
    found = told(lay(accept((find("buckle-tab"), "the cap covers it")))[at])
    assert "Accepted where found while checking accepted, because" in found
    assert "Buckle tab the hole lies near the edge the cap covers it" in found
    assert "move it" not in found


@pytest.mark.parametrize("at", range(2))
def test_parts_are_told_by_their_titles_as_everywhere_on_the_pages(at: int) -> None:
    found = told(lay(accept((find("buckle-tab", 'the hole in "buckle-tab" misses "front"'), "it is punched on")))[at])
    assert 'the hole in "Buckle tab" misses "Front panel"' in found
    assert '"buckle-tab"' not in found


@pytest.mark.parametrize("at", range(2))
def test_nothing_accepted_takes_no_heading(at: int) -> None:
    assert "Accepted" not in told(lay(demo_build())[at])


@pytest.mark.parametrize(
    ("at", "title"),
    [
        ("gusset-to-back", "Gusset to back"),
        ("gusset", "Gusset"),
        ("ring", "D ring, 1 in"),
        ("pad", "Panel foam"),
        ("lining", "cotton canvas"),
        ("closing", "Closing strap"),
        ("light", "light"),
        ("", "the whole build"),
    ],
)
def test_the_part_is_called_by_its_title(at: str, title: str) -> None:
    assert f"{title} the hole lies near the edge I know" in told(lay(accept((find(at), "I know")))[0])


@pytest.mark.parametrize("paper", PAPERS)
def test_long_words_stay_inside_the_page(paper: str) -> None:
    for document in lay(accept((find("W" * 90, "W" * 200), "x" * 300)), paper):
        right = [mark.x_mm + text_width_mm(mark.text, mark.face, mark.size_mm) for mark in marks(document)]
        assert max(right) <= PAPERS[paper][0] - 6 + 1e-6


def test_a_list_for_all_variants_has_what_any_of_them_accepts_once() -> None:
    first, second = find("back"), find("front")
    plans = [plan_work(accept((first, "a"))), plan_work(accept((first, "a"), (second, "b")))]
    assert [item.problem.at for item in join_plans(plans, "Bags").build.accepted] == ["back", "front"]
