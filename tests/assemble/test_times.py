"""How often a seam is sewn, with which copies, and what hangs together before a step."""

from collections.abc import Callable

import pytest
from short_specs import hole, piece, rivet, seam, step
from spec_text import Resolve

from docgen.assemble import Assembled, Assembly, Copy

Put = Callable[[str], Assembly]
Tell = Callable[[str], str]

POCKET = piece("pocket", 80, 60, "cut = 2\n", of="thin")


def sides(made: Assembly, name: str) -> list[tuple[str, ...]]:
    """Copies of each time that a seam is sewn, like "pocket 2"."""
    return [tuple(f"{c.part} {c.number}" for c in once.sides) for once in made.sewn if once.seam == name]


def test_a_pocket_cut_twice_is_sewn_twice(put_together: Put) -> None:
    places = ", ".join(f'{{ piece = "pocket", at = "{x} mm from left, 20 mm from bottom" }}' for x in (10, 110))
    bag = piece("back", 200, 150, f"landings = [{places}]\n") + POCKET + seam("on", "pocket: left bottom right", "back")
    made = put_together(bag)
    assert sides(made, "on") == [("pocket 1", "back 1"), ("pocket 2", "back 1")]
    assert (made.times("on"), made.doubts) == (2, ())


def test_each_seam_counts_the_places_on_its_own_panel(put_together: Put) -> None:
    """Three pockets, one on the front and two on the back: a seam that names the front is sewn once, the other twice."""
    places = [f'{{ piece = "pocket", at = "{x} mm from left, 20 mm from bottom" }}' for x in (10, 110)]
    bag = piece("front", 200, 150, f"landings = [{places[0]}]\n")
    bag += piece("back", 200, 150, f"landings = [{', '.join(places)}]\n") + POCKET.replace("cut = 2", "cut = 3")
    bag += seam("f", "pocket: left bottom right", "front", more="times = 1\n")
    made = put_together(bag + seam("b", "pocket: left bottom right", "back", more="times = 2\n"))
    assert ([made.times(name) for name in "fb"], made.doubts) == ([1, 2], ())


def test_a_pair_of_panels_each_gets_its_own_pocket(put_together: Put) -> None:
    place = 'cut = 2\nlandings = [{ piece = "pocket", at = "centre, 20 mm from bottom" }]\n'
    made = put_together(piece("panel", 200, 150, place) + POCKET + seam("on", "pocket: left bottom right", "panel"))
    assert sides(made, "on") == [("pocket 1", "panel 1"), ("pocket 2", "panel 2")]


def test_two_seams_share_what_is_cut_twice(put_together: Put) -> None:
    bag = piece("front", 200, 150) + piece("back", 200, 150)
    bag += piece("lining", 200, 150, "cut = 2\n", of="cloth")
    bag += seam("front", "front: top", "lining: top") + seam("back", "back: top", "lining: top")
    made = put_together(bag)
    assert sides(made, "front") == [("front 1", "lining 1")]
    assert sides(made, "back") == [("back 1", "lining 2")]


def test_sides_that_stand_between_two_panels_are_two(put_together: Put) -> None:
    """Each seam takes an edge of one of them once: four seams, and each copy has a seam on both its edges."""
    bag = piece("front", 200, 150) + piece("back", 200, 150) + piece("side", 60, 150, "cut = 2\n")
    bag += seam("a", "front: left", "side: left") + seam("b", "front: right", "side: right")
    bag += seam("c", "back: left", "side: right") + seam("d", "back: right", "side: left")
    made = put_together(bag)
    assert [sides(made, name) for name in "abcd"] == [
        [("front 1", "side 1")],
        [("front 1", "side 2")],
        [("back 1", "side 1")],
        [("back 1", "side 2")],
    ]
    assert made.doubts == ()


def test_each_side_has_its_own_lining_before_it_is_sewn_in(put_together: Put) -> None:
    bag = piece("front", 200, 150) + piece("side", 60, 150, "cut = 2\n")
    bag += piece("side-lining", 60, 150, "cut = 2\n", of="cloth")
    bag += seam("line", "side: left", "side-lining: left")
    bag += seam("a", "front: left", "side: left") + seam("b", "front: right", "side: left")
    made = put_together(bag + step("Line.", seams="line") + step("Close.", seams="a b"))
    assert made.times("line") == 2
    assert [made.times(name) for name in "ab"] == [1, 1]
    assert [made.stack(name).usual_mm for name in "ab"] == pytest.approx([4.5, 4.5])


def test_a_piece_sewn_to_its_own_twin_takes_two(put_together: Put) -> None:
    made = put_together(piece("panel", 200, 150, "cut = 2\n") + seam("s", "panel: left bottom", "panel: left bottom"))
    assert sides(made, "s") == [("panel 1", "panel 2")]


def test_a_ring_of_two_is_sewn_at_both_ends(put_together: Put) -> None:
    made = put_together(piece("panel", 200, 150, "cut = 2\n") + seam("s", "panel: left", "panel: right"))
    assert sides(made, "s") == [("panel 1", "panel 2"), ("panel 2", "panel 1")]


def test_a_join_of_strips_cut_for_two_is_made_twice(put_together: Put) -> None:
    strips = piece("side", 60, 100, "cut = 4\n") + piece("base", 60, 120, "cut = 2\n")
    join = '[joins.gusset]\nof = ["side", "base", "side"]\noverlap = "12 mm"\nstitch = "main"\n'
    made = put_together(strips + join)
    assert [copy for copy in made.copies if copy.part == "gusset"] == [Copy("gusset", 1), Copy("gusset", 2)]
    (run,) = made.runs
    assert run.runs == 4, "two joints in each of two"
    assert (run.length_mm, run.stitches) == (pytest.approx(52), 13), "60 mm less 4 at both sides, in stitches of 4"


def test_the_spec_may_say_how_often_and_which(put_together: Put) -> None:
    bag = piece("back", 200, 150) + piece("strip", 20, 150, "cut = 3\n")
    made = put_together(bag + seam("s", "strip 2: left", "back: left", more="times = 1\n"))
    assert sides(made, "s") == [("strip 2", "back 1")]


DOUBTS = {
    "more times than there are": (
        piece("back", 200, 150) + piece("strip", 20, 150, "cut = 3\n"),
        seam("s", "strip: left", "back: left", more="times = 2\n"),
        'a.toml:32: error: the seam "s" is sewn 2 times, and there is 1 of "back"\n'
        "    written: [seams.s]\n"
        "    mend:    write times = 1, or cut more\n",
    ),
    "no such copy": (
        piece("back", 200, 150) + piece("strip", 20, 150),
        seam("s", "strip 2: left", "back: left"),
        'a.toml:31: error: the seam "s" means copy 2 of "strip", and 1 is cut\n'
        "    written: [seams.s]\n"
        '    mend:    write "strip 1", or cut more\n',
    ),
    "copies that do not share out": (
        piece("pocket", 80, 60, "cut = 3\n", of="thin") + piece("a", 200, 150) + piece("b", 200, 150),
        seam("one", "pocket: left", "a") + seam("two", "pocket: left", "b"),
        'a.toml:36: error: "pocket" is cut 3 times, and 2 seams take its left: "one" may be sewn 1 or 2 times\n'
        "    written: [seams.one]\n"
        "    mend:    write times = ... in these seams\n"
        'a.toml:39: error: "pocket" is cut 3 times, and 2 seams take its left: "two" may be sewn 1 or 2 times\n'
        "    written: [seams.two]\n"
        "    mend:    write times = ... in these seams\n",
    ),
    "a copy left over": (
        piece("back", 200, 150) + piece("strip", 20, 150, "cut = 2\n"),
        seam("s", "strip: left", "back: left"),
        'a.toml:31: caution: 2 of "strip" are cut, and its seams sew 1\n'
        "    written: 2\n"
        '    mend:    write cut = 1, or cut = 2 for "back"\n'
        "    check:   copies-left-over, at strip\n",
    ),
}


@pytest.mark.parametrize("case", DOUBTS)
def test_what_does_not_add_up_is_told_with_both_numbers(doubts: Tell, case: str) -> None:
    pieces, seams, told = DOUBTS[case]
    assert doubts(pieces + seams) == told


def test_a_seam_that_may_mean_two_unlike_copies_tells_both_readings(doubts: Tell) -> None:
    """One of two panels has a pocket of 1 mm flush on its bottom: 2 + 2 + 1 mm with that one, 2 + 2 with the other."""
    place = 'cut = 2\nlandings = [{ piece = "pocket", at = "centre, 0 from bottom" }]\n'
    bag = piece("panel", 200, 150, place) + piece("pocket", 80, 60, of="thin") + piece("base", 200, 80, "cut = 2\n")
    bag += seam("on", "pocket: left right".replace(" right", ""), "panel")
    named = bag + seam("foot", "panel: bottom", "base: top", more="times = 1\n")
    steps = step("Pocket.", seams="on") + step("Foot.", seams="foot")
    told = doubts(named + steps)
    assert (
        'the seam "foot" may sew copy 1 of "panel", through 5 mm at most, or copy 2, through 4 mm\n'
        "    written: [seams.foot]\n"
        '    mend:    write "panel 1: ..." or "panel 2: ..." in it\n'
    ) in told
    assert "may sew" not in doubts(named.replace("panel: bottom", "panel 2: bottom") + steps)


def test_parts_hang_together_from_the_step_that_joins_them(put_together: Put) -> None:
    bag = piece("a", 200, 150) + piece("b", 200, 150) + piece("c", 200, 150) + piece("d", 200, 150)
    bag += seam("ab", "a: left", "b: left") + seam("cd", "c: left", "d: left") + seam("bc", "b: right", "c: right")
    made = put_together(bag + "".join(step("Sew.", seams=name) for name in ("ab", "cd", "bc")))
    groups = [[tuple(copy.part for copy in group) for group in made.groups_before(at)] for at in range(4)]
    assert groups == [[], [("a", "b")], [("a", "b"), ("c", "d")], [("a", "b", "c", "d")]]


def test_a_rivet_joins_what_it_goes_through(put_together: Put) -> None:
    back = piece("back", 200, 150, hole("centre, 30 mm from top", more=', through = ["flap"]'))
    bag = back + piece("flap", 200, 80) + rivet()
    made = put_together(bag + step("Rivet.", hardware="rivet") + step("Look at it."))
    assert [len(group) for group in made.groups_before(1)] == [2]
    assert made.doubts == ()


def test_a_piece_that_nothing_holds_is_told(doubts: Tell) -> None:
    bag = piece("a", 200, 150) + piece("b", 200, 150) + seam("ab", "a: left", "b: left") + piece("patch", 30, 30)
    assert doubts(bag) == (
        'a.toml:34: caution: nothing holds "patch": no seam, join, landing or hardware joins it to another part\n'
        "    written: [pieces.patch]\n"
        "    mend:    name it in a seam, or say where it lands\n"
        "    check:   piece-loose, at patch\n"
    )


def test_a_tab_goes_into_its_buckle(doubts: Tell) -> None:
    """25 mm of leather into 20 mm of buckle does not go; 20 does."""
    tab = 'folds = [{ at = "middle", around = "buckle" }]\n'
    buckle = '[hardware.buckle]\nwhat = "buckle, 3/4 in"\ncount = 1\ninside = "20 mm"\nbar = "3 mm"\n'
    assert doubts(piece("tab", 25, 60, tab) + buckle) == (
        'a.toml:27: error: "tab" is 25 mm (31/32 in) wide where it goes round the buckle, 3/4 in, which '
        "is 20 mm (25/32 in) inside\n"
        '    written: "middle"\n'
        "    mend:    make it 20 mm (25/32 in) wide or less there, or take a wider one\n"
    )
    assert doubts(piece("tab", 20, 60, tab) + buckle) == ""


def test_a_lining_goes_on_with_the_piece_it_lies_behind(put_together: Put) -> None:
    """Sewn along one edge and then along the other: the same two copies meet each time."""
    bag = piece("side", 60, 150, "cut = 2\n") + piece("side-lining", 60, 150, "cut = 2\n", of="cloth")
    bag += seam("left", "side: left", "side-lining: left") + seam("right", "side: right", "side-lining: right")
    made = put_together(bag)
    assert sides(made, "left") == sides(made, "right") == [("side 1", "side-lining 1"), ("side 2", "side-lining 2")]


def test_each_of_two_straps_is_held_by_its_own_first_end(put_together: Put) -> None:
    """Two straps cut, each with its first end on the back: two copies hang there, not one by both of its ends."""
    lands = ", ".join(
        f'{{ strap = "tie", at = "{at}, 20 mm from top" }}' for at in ("40 mm from left", "40 mm from right")
    )
    strap = '[straps.tie]\nof = "body"\nwidth = "20 mm"\nfinished = "200 mm"\ncut = 2\n'
    back = piece("back", 200, 150, f"landings = [{lands}]\n")
    made = put_together(back + strap + step("Glue the straps to the back.", pieces="back", straps="tie"))
    (group,) = made.groups_before(1)
    assert [(copy.part, copy.number) for copy in group] == [("back", 1), ("tie", 1), ("tie", 2)]


@pytest.mark.parametrize(
    ("order", "wanted"),
    [
        ("", ["seams foot", "seams top", "dividers pocket"]),
        ("pocket: dividers", ["dividers pocket", "seams foot", "seams top"]),
        ("foot|pocket: dividers", ["seams foot", "dividers pocket", "seams top"]),
    ],
)
def test_the_order_of_a_step_moves_dividing_lines(put_together: Put, order: str, wanted: list[str]) -> None:
    """Also in a step that does not name their piece."""
    pocket = piece("pocket", 200, 80, 'dividers = [{ at = "100 mm from left", stitch = "main", on = "back" }]\n')
    back = piece("back", 200, 150, 'landings = [{ piece = "pocket", at = "centre, 0 mm from bottom" }]\n')
    parts = back + pocket + piece("flap", 200, 80) + seam("foot", "pocket: bottom", "back")
    parts += seam("top", "flap: top", "back: top") + step("Sew.", seams="foot top")
    if order:
        parts += "order = [" + ", ".join(f'"{name}"' for name in order.split("|")) + "]\n"
    made = put_together(parts)
    done = [f"{event.kind} {event.name}" for event in made.events if event.kind in ("seams", "dividers")]
    assert done == wanted


def test_dividing_lines_are_sewn_in_the_step_that_speaks_of_it(put_together: Put) -> None:
    """The last step that names the pocket and sews; where no step names it, that of its seam."""
    pocket = piece("pocket", 200, 80, 'dividers = [{ at = "100 mm from left", stitch = "main", on = "back" }]\n')
    parts = piece("back", 200, 150) + pocket + seam("foot", "pocket: bottom", "back")
    named = step("Cut the pocket.", pieces="pocket") + step("Sew it on.", seams="foot")
    named += step("Sew the lines of the pocket.", pieces="pocket")
    for steps, place in ((named, 2), (step("Cut all.", pieces="back") + step("Sew it on.", seams="foot"), 1)):
        made = put_together(parts + steps)
        assert [event.step for event in made.events if event.kind == "dividers"] == [place]


@pytest.mark.parametrize("number", [1, 2])
def test_a_pocket_lies_on_the_copy_that_its_seam_names(resolve_text: Resolve, number: int) -> None:
    """Both copies of a lining bear the mark; the pocket is cut once."""
    build = resolve_text(
        piece("lining", 200, 150, 'cut = 2\nlandings = [{ piece = "pocket", at = "centre, 30 mm from top" }]\n')
        + piece("pocket", 100, 60)
        + seam("on", "pocket: left bottom right", f"lining {number}")
        + seam("round", "lining 1: left bottom right", "lining 2: left bottom right")
        + step("Sew on the pocket.", seams="on")
        + step("Close.", seams="round")
    )
    assert isinstance(build, Assembled)
    (lies,) = build.assembly.lies
    assert (lies.host, lies.copy) == (Copy("lining", number), Copy("pocket"))
    placed = build.space.part(Copy("pocket"))
    assert placed is not None
    assert placed.host == Copy("lining", number)
    assert "edges-apart" not in {one.check for one in build.cautions}
