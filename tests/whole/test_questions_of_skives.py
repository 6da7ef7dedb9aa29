"""What `check` asks of skives beside the edge that is sewn: an edge is thinned where it lies on another (common practice,
no published source)."""

from collections.abc import Callable

Ask = Callable[..., list[str]]

PANELS = """\
<back>
skives = [{ edges = "left bottom right", width = "12 mm", to = "1 mm" }]
<bare front>
<seam round: ["back: left bottom right", "front: left bottom right"]>
"""
STRIPS = """\
<rectangle back: ["200 mm", "150 mm"]>
<strip side: ["60 mm", "140 mm"]>
cut = 2
holes = [{ at = "centre, 20 mm from end", punch = "4 mm" }]
skives = [{ edges = "start", width = "12 mm", to = "1 mm" }]
<strip base: ["60 mm", "solve"]>
skives = [{ edges = "start", width = "12 mm", to = "1 mm" }, { edges = "end", width = "12 mm", to = "1 mm" }]
<join gusset: ["side", "base", "side"], 12 mm>
<seam round: ["back: left bottom right", "gusset: left"]>
"""


def test_a_skive_across_from_what_is_sewn_is_asked_about(ask_only: Callable[..., Ask]) -> None:
    """Of three edges one is that across; one more than is sewn, or as all are sewn elsewhere, is no slip."""
    ask = ask_only("skived")
    slip = ('edges = "left bottom right", width', 'edges = "left top right", width')

    (told,) = ask(PANELS, slip)
    assert '"back" is skived along left top right, and "round" sews it along left bottom right (line' in told
    assert ask(PANELS) == ask(PANELS, (slip[0], 'edges = "left bottom right top", width')) == []
    mouth = '<seam mouth: ["back: left top right", "front: left top right"]>\n'
    assert ask(PANELS + mouth, slip) == []


def test_a_strip_skived_at_the_end_where_its_holes_lie_is_asked_about(ask_only: Callable[..., Ask]) -> None:
    """The holes lie at the mouth, the joint at the other end; a hole on each half says nothing of that."""
    ask = ask_only("skived")
    slip = ('punch = "4 mm" }]\nskives = [{ edges = "start"', 'punch = "4 mm" }]\nskives = [{ edges = "end"')
    (told,) = ask(STRIPS, slip)
    assert '"side" is skived at its end, where its holes lie, and not at its start' in told
    assert ask(STRIPS) == []
    holes = slip[0].replace(" }]", ' }, { at = "centre, 60 mm from start", punch = "4 mm" }]', 1)
    assert ask(STRIPS, (slip[0], holes.replace('edges = "start"', 'edges = "end"'))) == []
