"""Marks that cannot be placed: every message whole."""

# ruff: noqa: E501 - messages stand here as they are printed

from __future__ import annotations

from collections.abc import Callable

import pytest
from cases import read_cases

Messages = Callable[[str], str]


MESSAGES = read_cases("""
=== an unknown edge
<back>
holes = [{ at = "20 mm from tpo, 20 mm from left", punch = "3 mm" }]
---
a.toml:18: error: there is no edge "tpo" on this piece
    written: "20 mm from tpo, 20 mm from left"
    mend:    did you mean "top"?
=== an edge nobody could mean
<back>
holes = [{ at = "20 mm from zz, 20 mm from left", punch = "3 mm" }]
---
a.toml:18: error: there is no edge "zz" on this piece
    written: "20 mm from zz, 20 mm from left"
    mend:    edges here: bottom, right, top, left
=== a comma left out, spelt the American way
<back>
holes = [{ at = "center 20 mm from top", punch = "3 mm" }]
---
a.toml:18: error: cannot tell where "centre 20 mm from top" is
    written: "center 20 mm from top"
    mend:    write a comma after "centre"
=== words that are no place
<back>
holes = [{ at = "near the top", punch = "3 mm" }]
---
a.toml:18: error: cannot tell where "near the top" is
    written: "near the top"
    mend:    write for example "1 in from top, 2 in from left", or "centre, 1 in from bottom"
=== one measure only
<back>
holes = [{ at = "20 mm from top", punch = "3 mm" }]
---
a.toml:18: error: this does not fix a point: it needs one measure each way
    written: "20 mm from top"
    mend:    write for example "1 in from top, 2 in from left", or "centre, 1 in from bottom"
=== two measures the same way
<back>
holes = [{ at = "20 mm from top, 30 mm from bottom", punch = "3 mm" }]
---
a.toml:18: error: this does not fix a point: it needs one measure each way
    written: "20 mm from top, 30 mm from bottom"
    mend:    write for example "1 in from top, 2 in from left", or "centre, 1 in from bottom"
=== three measures
<back>
holes = [{ at = "20 mm from top, 30 mm from left, centre", punch = "3 mm" }]
---
a.toml:18: error: this does not fix a point: it needs one measure each way
    written: "20 mm from top, 30 mm from left, centre"
    mend:    write for example "1 in from top, 2 in from left", or "centre, 1 in from bottom"
=== a hole outside
<back>
holes = [{ at = "20 mm from top, 230 mm from left", punch = "3 mm" }]
---
a.toml:18: error: a hole lies outside the piece "back"
    written: "20 mm from top, 230 mm from left"
    mend:    measure again; its centre must lie on the leather
=== a hole outside the model
<back>
holes = [{ at = "20 mm from top, 230 mm from left", punch = "3 mm" }]
[pieces.b]
like = "back"
[pieces.c]
like = "b"
---
a.toml:18: error: a hole lies outside the piece "back"
    written: "20 mm from top, 230 mm from left"
    mend:    measure again; its centre must lie on the leather
=== a hole outside the smaller like
<back>
holes = [{ at = "20 mm from top, 180 mm from left", punch = "3 mm" }]
[pieces.b]
like = "back"
size = ["100 mm", "100 mm"]
---
a.toml:18: error: a hole lies outside the piece "b"
    written: "20 mm from top, 180 mm from left"
    mend:    measure again; its centre must lie on the leather
=== a measure from a curve
<circle>
diameter = "80 mm"
holes = [{ at = "20 mm from edge, centre", punch = "3 mm" }]
---
a.toml:18: error: the edge "edge" is curved
    written: "20 mm from edge, centre"
    mend:    measure from a straight edge, or from left, right, top or bottom
=== holes that run together
<back>
hole-rows = [{ start = "20 mm from top, 20 mm from left", end = "20 mm from top, 20 mm from right", count = 60, punch = "4 mm" }]
---
a.toml:18: error: 60 holes of 4 mm stand 2.7 mm apart, and run into each other
    written: 60
    mend:    use fewer holes, a smaller punch or a longer row
=== a notch on no edge
<back>
notches = [{ on = "botom" }]
---
a.toml:18: error: there is no edge "botom" on this piece
    written: "botom"
    mend:    did you mean "bottom"?
=== a notch beyond the edge
<back>
round = "30 mm"
notches = [{ on = "bottom", at = "20 mm from left" }]
---
a.toml:19: error: the notch does not lie on the edge "bottom"
    written: "20 mm from left"
    mend:    measure again along the edge
=== a notch measured from afar
<back>
notches = [{ on = "bottom", at = "20 mm from top" }]
---
a.toml:18: error: cannot tell where on "bottom" the notch is
    written: "20 mm from top"
    mend:    write "middle", or "2 in from left" or "2 in from right"
=== a notch on a circle
<circle>
diameter = "80 mm"
notches = [{ on = "edge", at = "halfway" }]
---
a.toml:18: error: cannot tell where on "edge" the notch is
    written: "halfway"
    mend:    write "middle", or "2 in from edge"
=== a fold beside the piece
<back>
folds = [{ at = "160 mm from top" }]
---
a.toml:18: error: the fold line does not cross the piece
    written: "160 mm from top"
    mend:    measure again from the edge
=== a fold at a point
<back>
folds = [{ at = "20 mm from top, centre" }]
---
a.toml:18: error: this names a point, and a line is wanted
    written: "20 mm from top, centre"
    mend:    write one measure: "1 in from top"
=== a slit of no length
<back>
slits = [{ start = "20 mm from top, centre", end = "20 mm from top, centre" }]
---
a.toml:18: error: this slit begins and ends at one place
    written: "20 mm from top, centre"
    mend:    measure one of its ends again
=== a slit outside
<back>
slits = [{ start = "20 mm from top, centre", end = "160 mm from top, centre" }]
---
a.toml:18: error: a slit lies outside the piece "back"
    written: "160 mm from top, centre"
    mend:    measure again; both its ends must lie on the leather
=== a skive on no edge
<back>
skives = [{ edges = "left botom", width = "10 mm", to = "1 mm" }]
---
a.toml:18: error: there is no edge "botom" on this piece
    written: "left botom"
    mend:    did you mean "bottom"?
=== a skive on edges apart
<back>
skives = [{ edges = "left right", width = "10 mm", to = "1 mm" }]
---
a.toml:18: error: the skived band cannot run here: the edges 'left' and 'right' do not touch
    written: "left right"
    mend:    name neighbouring edges, in the order they are sewn
=== a skive too wide
<back>
skives = [{ edges = "all", width = "80 mm", to = "1 mm" }]
---
a.toml:18: error: the skived band cannot be drawn: an inset of 80 mm is too large for this shape: nothing is left of the edge 'right'
    written: "80 mm"
    mend:    make the band narrower
=== a landing on itself
<back>
landings = [{ piece = "back", at = "centre, middle" }]
---
a.toml:18: error: "back" cannot land on itself
    written: "back"
    mend:    name another piece
=== a landing one way
<rectangle tab: ["20 mm", "30 mm"]>
<back>
landings = [{ piece = "tab", at = "centre" }]
---
a.toml:22: error: this does not say where "tab" lands: it needs one measure each way
    written: "centre"
    mend:    write for example "centre, 1 in from bottom"
=== a landing beside the piece
<rectangle tab: ["20 mm", "30 mm"]>
<back>
landings = [{ piece = "tab", at = "centre, 170 mm from bottom" }]
---
a.toml:22: error: "tab" would land beside this piece
    written: "centre, 170 mm from bottom"
    mend:    measure again
""")


@pytest.mark.parametrize("case", MESSAGES)
def test_each_mistake_is_told_once_and_whole(messages: Messages, case: str) -> None:
    given, told, _ = MESSAGES[case]
    assert messages(given) == told
