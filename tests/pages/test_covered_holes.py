"""What a lining covers is not drawn on it: holes, slits and hardware of its leather, and the joint of a ring. Lines are
counted by hand."""

from collections import Counter
from collections.abc import Mapping
from pathlib import Path

import pytest
from short_specs import piece, seam, step
from spec_text import Resolve

from docgen.assemble import Assembled, TakenApart
from docgen.assemble.space.vectors import times
from docgen.checks import resolve_build
from docgen.pages.pictures.article import Article, set_article
from docgen.pages.pictures.covered import is_covered
from docgen.read import read_spec

CUP = Path(__file__).parents[1] / "bench" / "slips" / "builds" / "dice-cup.toml"
LINING = '[pieces.lining]\nlike = "panel"\nmirror = true\nmarks = false\nlines = ["panel"]\n'
ROUND = seam("round", "panel: left bottom right top", "lining: right bottom left top")
OPEN = 'holes = [{ at = "centre, 40 mm from top", punch = "6 mm" }]\n'
SLIT = 'slits = [{ start = "centre, 44 mm from top", end = "centre, 60 mm from top" }]\n'


def article_of(resolve_text: Resolve, text: str, **keys: str) -> Article:
    build = resolve_text(text + step("Line.", **keys))
    assert isinstance(build, Assembled)
    apart = TakenApart(build)
    found = set_article(apart.closed, build.space.kind, apart.lined)
    assert found is not None
    return found


def kinds_of(article: Article) -> Mapping[str, list[bool]]:
    """For holes and slits whether any line of theirs is drawn from the front, and from behind."""
    drawn = [Counter(kind for kind, _, _ in one.draw(1.0).legs) for one in (article.front, article.behind)]
    return {kind: [bool(one[kind]) for one in drawn] for kind in ("hole", "slit")}


@pytest.mark.parametrize(("of_lining", "is_seen"), [("", False), (OPEN, True)], ids=["whole lining", "punched as well"])
def test_a_hole_is_seen_behind_where_the_lining_has_one(
    resolve_text: Resolve, of_lining: str, *, is_seen: bool
) -> None:
    text = piece("panel", 200, 150, OPEN + SLIT) + LINING + of_lining + ROUND
    kinds = kinds_of(article_of(resolve_text, text, seams="round"))
    assert kinds == {"hole": [True, is_seen], "slit": [True, False]}


def test_without_a_lining_both_are_seen(resolve_text: Resolve) -> None:
    text = piece("panel", 200, 150, OPEN + SLIT) + piece("pocket", 80, 40)
    text = text.replace(OPEN, OPEN + 'landings = [{ piece = "pocket", at = "centre, 10 mm from bottom" }]\n')
    kinds = kinds_of(article_of(resolve_text, text + seam("on", "pocket: left bottom right", "panel"), seams="on"))
    assert kinds == {"hole": [True, True], "slit": [True, True]}


def test_a_ring_in_a_tab_between_panel_and_lining_is_left_out_by_name(resolve_text: Resolve) -> None:
    tab = piece("tab", 24, 80, 'folds = [{ at = "middle", around = "ring" }]\n')
    lands = 'landings = [{ piece = "tab", at = "centre, 60 mm from bottom", inside = true }]\n'
    ring = '[hardware.ring]\nwhat = "D ring, 26 mm"\ncount = 1\ninside = "26 mm"\nbar = "3 mm"\n'
    text = piece("panel", 200, 150, lands) + LINING + tab + ring + seam("tab", "tab: bottom", "panel") + ROUND
    first = step("Tab.", pieces="tab", seams="tab", hardware="ring")
    article = article_of(resolve_text, text + first, pieces="lining", seams="round")
    assert not any(kind == "metal" for one in (article.front, article.behind) for kind, _, _ in one.draw(1.0).legs)
    assert any("D ring" in note for note in article.notes)


@pytest.mark.parametrize("is_lined", [True, False])
def test_where_a_lined_ring_closes_is_seen_from_outside_alone(*, is_lined: bool) -> None:
    build = resolve_build(read_spec(str(CUP)))
    (ring,) = (one for one in TakenApart(build).closed.bodies if one.placed.item.is_ring and not one.placed.is_inner)
    closing = [line for line in ring.lines if line.kind == "edge" and abs(line.start[2] - line.end[2]) > 10]
    assert closing
    for line in closing:
        out = ring.placed.out(line.bands[0])
        assert not is_covered(ring, line, (), out, is_lined=is_lined)
        assert is_covered(ring, line, (), times(out, -1.0), is_lined=is_lined) == is_lined
