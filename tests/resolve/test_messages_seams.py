"""Seams that cannot be sewn: every message whole."""

# ruff: noqa: E501 - messages stand here as they are printed

from __future__ import annotations

from collections.abc import Callable

import pytest
from cases import read_cases

Messages = Callable[[str], str]


MESSAGES = read_cases("""
=== an unreadable partner
<back>
<front>
<seam s: ["back: left", "front left"]>
---
a.toml:22: error: cannot read this partner of the seam
    written: "front left"
    mend:    write "piece: edges", for example "back: left bottom right"
=== an unknown partner
<back>
<front>
<seam s: ["back: left", "frnt: left"]>
---
a.toml:22: error: there is no piece, join or strap "frnt"
    written: "frnt: left"
    mend:    did you mean "front"?
=== a partner nobody could mean
<back>
<front>
<seam s: ["back: left", "zz: left"]>
---
a.toml:22: error: there is no piece, join or strap "zz"
    written: "zz: left"
    mend:    name a piece, a join or a strap
=== no edges
<back>
<front>
<seam s: ["back", "front"]>
---
a.toml:22: error: the seam "s" names no edges
    written: "back"
    mend:    write for example "back: left bottom right"
=== an unknown edge
<back>
<front>
<seam s: ["back: lft", "front: left"]>
---
a.toml:22: error: there is no edge "lft" on this piece
    written: "back: lft"
    mend:    did you mean "left"?
=== edges that do not touch
<back>
<front>
<seam s: ["back: left right", "front: left"]>
---
a.toml:22: error: the seam "s" cannot run here: the edges 'left' and 'right' do not touch
    written: "back: left right"
    mend:    name neighbouring edges, in the order they are sewn
=== an inset too large
<back>
<front>
<stitch deep: by hand, Tex 280 linen, 4 mm, 120 mm>
[seams.s]
stitch = "deep"
meet = ["back: left bottom right", "front: left bottom right"]
---
a.toml:27: error: the stitch line of the seam "s" does not fit: an inset of 120 mm is too large for this shape: nothing is left of the edge 'bottom'
    written: "back: left bottom right"
    mend:    give its stitch a smaller inset
=== unequal sides
<back>
<front>
size = ["200 mm", "151 mm"]
<seam s: ["back: left bottom right", "front: left bottom right"]>
---
a.toml:23: error: the sides of the seam "s" are not equally long: back left bottom right is 484 mm (19 1/16 in), 122 stitches, front left bottom right is 486 mm (19 1/8 in), 122 stitches
    written: "front: left bottom right"
    mend:    make front left bottom right 2 mm (3/32 in) shorter, or write "solve" for its length, or ease it in with ease = "2 mm"
=== a side too short
<back>
<front>
size = ["200 mm", "140 mm"]
<seam>
---
a.toml:23: error: the sides of the seam "s" are not equally long: back left is 150 mm (5 29/32 in), 38 stitches, front left is 140 mm (5 1/2 in), 35 stitches
    written: "front: left"
    mend:    make front left 10 mm (13/32 in) longer, or write "solve" for its length
=== nothing to solve by
<back>
<strip gusset: ["60 mm", "solve"]>
---
a.toml:21: error: nothing fixes the length of "gusset"
    written: "solve"
    mend:    name it in a seam whose other side is known, or write its length
=== two open strips meet
<back>
<strip gusset: ["60 mm", "solve"]>
[pieces.lining]
like = "gusset"
size = ["60 mm", "solve"]
<seam s: ["gusset: left", "lining: left"]>
---
a.toml:21: error: nothing fixes the length of "gusset"
    written: "solve"
    mend:    name it in a seam whose other side is known, or write its length
a.toml:24: error: nothing fixes the length of "lining"
    written: "solve"
    mend:    name it in a seam whose other side is known, or write its length
=== the wrong measure is open
<back>
<strip gusset: ["solve", "60 mm"]>
<seam s: ["back: left", "gusset: left"]>
---
a.toml:21: error: nothing fixes the length of "gusset"
    written: "solve"
    mend:    name it in a seam whose other side is known, or write its length
=== no length is left
<back>
<strip gusset: ["60 mm", "solve"]>
<strip side: ["60 mm", "260 mm"]>
cut = 2
<join g: ["side", "gusset", "side"], 10 mm>
<seam s: ["back: left bottom right", "g: left"]>
---
a.toml:21: error: the seam "s" leaves no length for "gusset": the rest of its side is 16 mm too long already
    written: "solve"
    mend:    shorten the rest, or leave this one out
=== a seam with a mistake solves nothing
<back>
<strip gusset: ["60 mm", "solve"]>
<seam s: ["back: lft", "gusset: left"]>
---
a.toml:24: error: there is no edge "lft" on this piece
    written: "back: lft"
    mend:    did you mean "left"?
=== a stitch with a mistake solves nothing
<stitch bad: by hand, linen, 4 mm, 4 mm>
<back>
<strip gusset: ["60 mm", "solve"]>
[seams.s]
stitch = "bad"
meet = ["back: left", "gusset: left"]
---
a.toml:16: error: "linen" does not say the size of the thread
    written: "linen"
    mend:    write its Tex, ticket or V number first, like "Tex 135 bonded nylon" or "V138 bonded nylon"
=== a join by its end
<back>
<strip side: ["60 mm", "155 mm"]>
cut = 2
<join g: ["side", "side"], 10 mm>
<seam s: ["back: left", "g: end"]>
---
a.toml:29: error: the seam "s" cannot run here: strips joined end to end have the edges "left" and "right"
    written: "g: end"
    mend:    name one of them
=== a row too many
<stitch wide: by machine, Tex 135 bonded nylon, 4 mm, 4 mm>
rows = 3
row-gap = "40 mm"
<rectangle tab: ["20 mm", "30 mm"]>
<back>
[seams.s]
stitch = "wide"
meet = ["tab: left bottom right", "back"]
---
a.toml:19: error: row 2 of "s", 44 mm from the edge, does not fit on "tab": an inset of 44 mm is too large for this shape: nothing is left of the edge 'left'
    written: 3
    mend:    use fewer rows, or a smaller row-gap
=== names taken twice
<back>
<strip g: ["60 mm", "80 mm"]>
[pieces.h]
like = "g"
<join g: ["g", "h"], 10 mm>
[straps.back]
of = "body"
width = "20 mm"
finished = "200 mm"
<seam s: ["back: left", "g: left"]>
---
a.toml:24: error: a piece is called "g" already
    written: [joins.g]
    mend:    give the join another name
a.toml:28: error: a piece is called "back" already
    written: [straps.back]
    mend:    give the strap another name
""")


@pytest.mark.parametrize("case", MESSAGES)
def test_each_mistake_is_told_once_and_whole(messages: Messages, case: str) -> None:
    given, told, _ = MESSAGES[case]
    assert messages(given) == told
