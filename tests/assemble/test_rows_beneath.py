"""Rows that were sewn before a lining came in are not seen on it, and of a lining over foam its flesh side is. By hand."""

import pytest
from finished_article import article_of
from short_specs import piece, seam, step
from spec_text import Resolve

from docgen.assemble import Copy, TakenApart

PAD = (
    piece("pad", 200, 150, 'landings = [{ piece = "patch", at = "centre, middle" }]\n')
    + piece("patch", 60, 40)
    + '[pieces.lining]\nof = "thin"\nlike = "pad"\nmarks = false\nshows = "flesh"\nlines = ["pad"]\n'
    + '[pieces.foam]\nof = "pad"\nlike = "pad"\nmarks = false\ninset = "10 mm"\nlines = ["pad"]\n'
    + seam("on", "patch: all", "pad")
    + seam("round", "pad: all", "lining: all")
)
SEWN_ON = step("Sew the patch on.", seams="on")
LINED = step("Lay the foam behind the pad.", pieces="foam lining", tools="glue")
ROUND = step("Sew round.", seams="round")


@pytest.mark.parametrize(("steps", "hidden"), [((SEWN_ON, LINED, ROUND), {"on"}), ((LINED, SEWN_ON, ROUND), set())])
def test_a_row_that_goes_through_the_lining_alone_is_seen_on_it(
    resolve_text: Resolve, steps: tuple[str, ...], hidden: set[str]
) -> None:
    build = resolve_text(PAD + "".join(steps))
    apart = TakenApart(build)
    assert apart.lined.hidden_rows(Copy("pad")) == hidden
    found = article_of(apart)
    places = {one.body.copy: place for place, one in enumerate(found.behind.shown)}
    pad = found.behind.shown[places[Copy("pad")]]
    rows = {line.name for line in pad.body.lines if found.behind._kind(places[Copy("pad")], pad, line) == "stitch"}
    assert rows == {"on", "round"} - hidden


def test_the_flesh_side_of_a_lining_over_foam_is_seen(resolve_text: Resolve) -> None:
    apart = TakenApart(resolve_text(PAD + SEWN_ON + LINED + ROUND))
    assert apart.lined.show_flesh == {Copy("pad")}
