"""Pockets in tiers on one piece, of which seams name some, in a step that names them in any order.

What is written first in `landings` lies beneath (the reference of the keys), so that the highest mouth is laid first; that
what lies beneath is sewn first is common practice, no published source. Orders are worked out by hand.
"""

from collections.abc import Sequence
from itertools import combinations, permutations

import pytest
from spec_text import Resolve
from step_lines import every_line

from docgen.assemble import Assembled, TakenApart, pile_seam
from docgen.calls.outside import tell_undrawn
from docgen.plan import plan_work

SIDE = {"l": "left", "r": "right"}
INNER = {"l": "right", "r": "left"}


def listed(names: Sequence[str]) -> str:
    return ", ".join(f'"{name}"' for name in names)


def wallet(
    count: int, sewn: Sequence[int], named: Sequence[int], *, is_creased: bool = False, order: str = "", up_mm: int = 0
) -> str:
    """A lining with so many tiers on either half, the right ones turned over, each lower by 12 mm than the one beneath;
    the inner sides of some are `sewn`, in the order in which the step has them `named`. `up_mm`: the last tier lands so far
    above the foot."""
    tiers = [f"{half}{k}" for k in range(1, count + 1) for half in SIDE]
    text = '<rectangle cover: ["200 mm", "90 mm"]>\nfolds = [{ at = "centre", open = true, angle = 180 }]\n'
    up = {name: up_mm if name.endswith(str(count)) else 0 for name in tiers}
    lands = [f'{{ piece = "{name}", at = "0 from {SIDE[name[0]]}, {up[name]} mm from bottom" }}' for name in tiers]
    text += f'[pieces.lining]\nlike = "cover"\nof = "thin"\nmarks = false\nlandings = [{", ".join(lands)}]\n'
    for k in range(1, count + 1):
        text += (
            f'<rectangle l{k} of thin: ["94 mm", "{90 - 12 * k} mm"]>\n[pieces.r{k}]\nlike = "l{k}"\nmirror = true\n'
        )
    seams = [f"{half}{k}" for k in named if k in sewn for half in SIDE]
    text += "".join(f'<seam in-{name}: ["{name}: {INNER[name[0]]}", "lining"]>\n' for name in seams)
    text += '<seam round: ["cover: all", "lining: all"]>\n'
    pieces = f"pieces = [{listed([half + str(k) for k in named for half in SIDE])}]\n"
    text += f'[[steps]]\ndo = "Crease the mouths."\n{pieces}' if is_creased else ""
    text += '[[steps]]\ndo = "Lay the pockets on the lining and sew their inner sides."\n'
    text += ("" if is_creased else pieces) + f"seams = [{listed(['in-' + name for name in seams])}]\n{order}"
    text += 'tools = ["contact cement"]\n[[steps]]\ndo = "Glue the lining to the cover and sew round."\n'
    return text + 'seams = ["round"]\ntools = ["contact cement"]\n'


def told_orders(build: Assembled, half: str) -> list[list[str]]:
    """From the lowest up: the tiers of a half in every section that has two or more, in the lines that lay them, and as
    they are placed."""
    found = []
    for once in build.assembly.sewn:
        for pile in ([ply.part for ply in pile] for pile in pile_seam(build, once)):
            tiers = [part for part in pile if part[0] == half and part[1:].isdigit()]
            is_down = bool(tiers) and pile.index("lining") < pile.index(tiers[0])
            found += [tiers if is_down else tiers[::-1]] if len(tiers) > 1 else []
    laid = [word for line in every_line(plan_work(build)) if "lay" in line.lower() for word in line.split()]
    found.append([*dict.fromkeys(word for word in laid if word[0] == half and word[1:].isdigit())])
    placed = [one for one in build.space.parts if one.copy.part[0] == half and one.copy.part[1:].isdigit()]
    levels = sorted((one.level, one.copy.part) for one in placed)
    assert [level for level, _ in levels] == [*range(1, len(levels) + 1)]
    return [*found, [part for _, part in levels]]


CASES = [
    (count, sewn, named)
    for count in (2, 3)
    for size in range(1, count + 1)
    for sewn in combinations(range(1, count + 1), size)
    for named in permutations(range(1, count + 1))
]
CASES += [(4, sewn, named) for sewn in ((1,), (2,), (1, 3), (4, 2)) for named in ((4, 3, 2, 1), (2, 4, 1, 3))]


@pytest.mark.parametrize(("count", "sewn", "named"), CASES)
def test_tiers_lie_as_their_landings_are_written(
    resolve_text: Resolve, count: int, sewn: Sequence[int], named: Sequence[int]
) -> None:
    build = resolve_text(wallet(count, sewn, named))
    for half in SIDE:
        wanted = [f"{half}{k}" for k in range(1, count + 1)]
        for found in told_orders(build, half):
            assert found == [one for one in wanted if one in found]
    assert tell_undrawn([TakenApart(build)]) == ()
    assert not [one for one in build.cautions if one.check == "steps-out-of-order"]


def test_tiers_whose_mouths_are_creased_before_are_drawn(resolve_text: Resolve) -> None:
    """The lining is loose as yet: the pockets are lifted off it, the uppermost the farthest."""
    build = resolve_text(wallet(3, (1,), (3, 2, 1), is_creased=True))
    assert all(found == sorted(found) for found in told_orders(build, "l"))
    assert tell_undrawn([TakenApart(build)]) == ()


CONTRARY = 'step 1 lays "l1" on "lining" after "l2", and it lands beneath that'


@pytest.mark.parametrize(
    ("order", "up_mm", "told"),
    [
        ('order = ["in-l2", "in-l1"]\n', 0, [CONTRARY]),
        ('order = ["l2", "in-l1"]\n', 0, [CONTRARY]),
        ('order = ["in-l1", "in-l2"]\n', 0, []),
        ('order = ["in-l2", "in-l1"]\n', 78, []),  # above the first, which is 78 mm high
        ('order = ["in-l2", "in-l1"]\n', 76, [CONTRARY]),  # 2 mm over it
    ],
)
def test_an_order_against_the_landings_is_told(resolve_text: Resolve, order: str, up_mm: int, told: list[str]) -> None:
    sewn = (1, 2) if "in-l2" in order else (1,)
    build = resolve_text(wallet(2, sewn, (1, 2), order=order, up_mm=up_mm))
    assert [one.what for one in build.cautions if one.check == "steps-out-of-order" and '"l1"' in one.what] == told


def test_what_is_glued_in_too_late_is_told_once(resolve_text: Resolve) -> None:
    """The middle one of three comes in a step of its own."""
    text = wallet(3, (1, 3), (1, 3)).replace('[[steps]]\ndo = "Glue the lining', '{}[[steps]]\ndo = "Glue the lining')
    late = '[[steps]]\ndo = "Glue the middle ones in."\npieces = ["l2", "r2"]\ntools = ["contact cement"]\n'
    told = [
        [one.what for one in resolve_text(text.replace("{}", more)).cautions if one.check == "steps-out-of-order"]
        for more in (late, "")
    ]
    assert sorted(told[0]) == [
        f'step 2 lays "{half}2" on "lining" after "{half}3", which step 1 lays, and it lands beneath that'
        for half in SIDE
    ]
    assert not [what for what in told[1] if "lands beneath" in what]


FEET = """\
<rectangle inside: ["200 mm", "140 mm"]>
landings = [
  { piece = "high", at = "0 from left, 45 mm from bottom" },
  { piece = "middle", at = "0 from left, {up} mm from bottom" },
  { piece = "front", at = "0 from left, 0 from bottom" },
]
<rectangle high: ["94 mm", "52 mm"]>
<rectangle middle: ["94 mm", "52 mm"]>
<rectangle front: ["94 mm", "72 mm"]>
<seam foot-high: ["high: bottom", "inside"]>
<seam foot-middle: ["middle: bottom", "inside"]>
<seam inner: ["high: right", "inside"]>
<rectangle cover: ["200 mm", "140 mm"]>
<seam round: ["inside: left bottom right", "cover: left bottom right"]>
[[steps]]
do = "Sew the pockets to the inside, then their inner side."
seams = ["foot-high", "foot-middle", "inner"]
tools = ["contact cement"]
[[steps]]
do = "Sew round."
seams = ["round"]
tools = ["contact cement"]
"""


@pytest.mark.parametrize(("up_mm", "is_beneath"), [(32, False), (20, False), (0, True)])
def test_a_pocket_is_laid_once_the_rows_across_it_are_sewn(resolve_text: Resolve, up_mm: int, is_beneath: bool) -> None:
    """A row 32 or 20 mm above the foot of the front pocket, 72 mm high, would shut it; one along its foot holds it."""
    build = resolve_text(FEET.replace("{up}", str(up_mm)))
    layers = {once.seam: {ply.part for pile in pile_seam(build, once) for ply in pile} for once in build.assembly.sewn}
    assert ("front" in layers["foot-middle"]) == is_beneath
    assert "front" in layers["inner"]
