"""What is turned back over what it is sewn on, and what goes through a buckle or a ring: which layer lies over which. By
hand; that a strap goes under the far side of its buckle and over the bar is common practice, no published source."""

from collections.abc import Callable

import pytest
from short_specs import piece, seam, step

from docgen.assemble import Assembled, Copy, TakenApart, inner
from docgen.assemble.space.gone_through import list_through
from docgen.assemble.space.placed import Placed

Resolve = Callable[[str], Assembled]
RING = '[hardware.ring]\nwhat = "D ring"\ncount = 1\ninside = "26 mm"\nbar = "4 mm"\n'
BUCKLE = '[hardware.buckle]\nwhat = "buckle"\ncount = 1\ninside = "26 mm"\nbar = "3 mm"\n'


def tab(fold: str, landing: str = "30 mm from left, 40 mm from top") -> str:
    return (
        RING
        + piece("back", 200, 220, f'landings = [{{ piece = "tab", at = "{landing}" }}]\n')
        + piece("tab", 25, 110, f'folds = [{{ at = "{fold}", around = "ring" }}]\n')
        + seam("tab", "tab: top", "tab: bottom", "back")
        + step("Sew the tab on.", seams="tab", hardware="ring")
    )


def lifted(build: Assembled, part: str) -> Placed:
    found = TakenApart(build).lifted.part(Copy(part))
    assert found is not None
    return found


def heights(build: Assembled, part: str, host: str) -> list[float]:
    """By how many layers each band of a part lies over its host, the way that the host looks."""
    one, under = lifted(build, part), lifted(build, host)
    return [round(inner(lift, under.out(0)), 3) for lift in one.lifts]


def test_a_tab_lies_folded_where_its_landing_shows_it(resolve_text: Resolve) -> None:
    """Folded at 55 mm of 110 its lower half stays, with the ring at its head: it lies 40 to 95 mm from the top of 220,
    whichever of its ends a seam names first."""
    build = resolve_text(tab("55 mm from top"))
    (tops,) = {
        (
            round(min(at[1] for _, face in one.sheets(one.ring) for at in face), 3),
            round(max(at[1] for _, face in one.sheets(one.ring) for at in face), 3),
        )
        for one in [lifted(build, "tab")]
    }
    assert tops == (125.0, 180.0)
    assert all(gap.apart_mm < 0.1 for gap in build.space.gaps if gap.seam == "tab")
    assert not build.space.doubtful
    assert sorted(heights(build, "tab", "back")) == [1, 2]


def test_a_tab_that_is_folded_beside_its_middle_lies_by_its_larger_half(resolve_text: Resolve) -> None:
    build = resolve_text(tab("40 mm from top"))
    one = lifted(build, "tab")
    ups = [
        round(at[1], 3) for band, face in one.sheets(one.ring) if band == one.surface.band_of(one.anchor) for at in face
    ]
    assert (min(ups), max(ups)) == (110.0, 180.0)


def strap(lands: str, finished: int, back: int) -> str:
    return (
        BUCKLE
        + piece(
            "front", 200, 220, f'landings = [{{ strap = "chape", at = "{lands}", over = "30 mm", stitch = "main" }}]\n'
        )
        + f'[straps.chape]\nof = "body"\nwidth = "25 mm"\nfinished = "{finished} mm"\n'
        + f'ends = [{{ shape = "square" }}, {{ shape = "turned", back = "{back} mm", around = "buckle", sewn = "main" }}]\n'
        + '[[steps]]\ndo = "Sew it on."\nstraps = ["chape"]\nhardware = ["buckle"]\n'
    )


@pytest.mark.parametrize(
    ("lands", "over", "turned"),
    [
        ("centre, 40 mm from bottom", 2, 1),  # its buckle over the front, 90 mm up
        ("centre, 20 mm from top", 1, 0),  # 30 mm over its top, with what lies back: that lies on nothing
    ],
    ids=["over the front", "beyond its edge"],
)
def test_a_turned_end_lies_between_a_strap_and_what_it_lies_over(
    resolve_text: Resolve, lands: str, over: int, turned: int
) -> None:
    build = resolve_text(strap(lands, 50, 28))
    one = lifted(build, "chape")
    assert heights(build, "chape", "front") == [over, turned]
    assert len(one.surface.bands) == 2


def closing(reach: int) -> str:
    """A billet that is sewn on over a chape with a ring, and reaches so far down."""
    landings = (
        '{ strap = "billet", at = "centre, 20 mm from top", leads = "down", over = "30 mm", stitch = "main" }',
        '{ strap = "chape", at = "centre, 40 mm from bottom", leads = "up", over = "30 mm", stitch = "main" }',
    )
    return (
        RING
        + piece("front", 200, 220, f"landings = [{', '.join(landings)}]\n")
        + '[straps.chape]\nof = "body"\nwidth = "25 mm"\nfinished = "50 mm"\n'
        + 'ends = [{ shape = "square" }, { shape = "turned", back = "28 mm", around = "ring", sewn = "main" }]\n'
        + f'[straps.billet]\nof = "body"\nwidth = "25 mm"\nfinished = "{reach} mm"\n'
        + 'ends = [{ shape = "square" }, { shape = "pointed" }]\n'
        + '[[steps]]\ndo = "Sew them on."\nstraps = ["chape", "billet"]\nhardware = ["ring"]\n'
    )


@pytest.mark.parametrize(("reach", "is_through"), [(150, True), (105, False)], ids=["through", "short of it"])
def test_a_strap_through_a_ring_lies_over_what_holds_it_and_under_its_far_side(
    resolve_text: Resolve, reach: int, is_through: bool
) -> None:
    """The bar of the ring lies at 90 mm, its far side at 109.5: a billet from 200 mm down reaches to 50, or to 95."""
    build = resolve_text(closing(reach))
    lying = TakenApart(build).lifted
    through = [*list_through(lying, lying.parts, {"billet", "chape"})]
    assert through == ([(Copy("billet"), (Copy("chape"), "ring"))] if is_through else [])
    over, under = max(heights(build, "billet", "front")), max(heights(build, "chape", "front"))
    assert (over > under) == is_through
    (ring,) = lying.metal
    far, near = (inner(ring.lift_at(at), ring.axis) for at in (ring.far, ring.at))
    assert (near < over < far) == is_through
