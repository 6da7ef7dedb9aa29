"""A lining that is sewn to its part alone, face to face, and turned: until then it does not lie behind it."""

import pytest
from short_specs import piece, seam, step
from spec_text import Resolve
from step_lines import lines

from docgen.assemble import Assembled, TakenApart, find_faced, inner, pile_seam
from docgen.plan import plan_work

LINING = '[pieces.lining]\nof = "drill"\nlike = "front"\nmarks = false\n'
CLOTH = '[materials.drill]\nkind = "fabric"\nthickness = "0.4 mm"\nwidth = "1 m"\n'
ZIP = "<zip: coil zip, 30 mm, 0.6 mm>\n"
TURNED = "turned = true\n"


def resolved(resolve_text: Resolve, mouth: str, *steps: str) -> Assembled:
    back = '[pieces.back]\nlike = "front"\n' + seam("round", "front: left bottom right", "back: left bottom right")
    text = CLOTH + piece("front", 200, 150) + LINING + back + mouth + "".join(steps) + step("Close.", seams="round")
    build = resolve_text(text)
    assert isinstance(build, Assembled)
    return build


@pytest.mark.parametrize(("between", "goods"), [((), ""), (("zip: left",), ZIP)])
def test_the_lining_lies_on_the_outer_side_while_its_mouth_is_sewn(
    resolve_text: Resolve, between: tuple[str, ...], goods: str
) -> None:
    """In the order of the seam, outer sides together: the zip comes between. In the picture the lining comes off the grain
    side of the front."""
    mouth = goods + seam("mouth", "front: top", *between, "lining: top", more=TURNED)
    build = resolved(resolve_text, mouth, step("Line it.", seams="mouth"))
    once = next(once for once in build.assembly.sewn if once.seam == "mouth")
    (pile,) = pile_seam(build, once)
    parts = [(ply.part, ply.grain) for ply in pile]
    assert parts == [("front", "down"), *([("zip", "")] if between else []), ("lining", "")]
    bodies, (heap,) = TakenApart(build).heaps(0)
    (moved,) = heap.moved
    (still,) = heap.base
    host, lining = (
        (bodies[still], bodies[moved.copies[0]]) if still.part == "front" else (bodies[moved.copies[0]], bodies[still])
    )
    toward = 1 if still.part == "front" else -1
    assert lining.placed.copy.part == "lining"
    grain = host.faces[0].grain
    assert toward * inner(moved.way, grain) == pytest.approx(1)


@pytest.mark.parametrize(
    ("mouth", "steps"),
    [
        (seam("mouth", "front: top", "lining: top"), ()),
        (
            seam("mouth", "front: top", "lining: top", more=TURNED),
            (step("Glue in the lining.", pieces="front lining", tools="glue"),),
        ),
        (seam("mouth", "front: top", "lining: top", "back: top", more=TURNED), ()),
    ],
)
def test_a_lining_that_is_glued_in_or_goes_with_its_part_lies_behind_it(
    resolve_text: Resolve, mouth: str, steps: tuple[str, ...]
) -> None:
    build = resolved(resolve_text, mouth, *steps, step("Sew the mouth.", seams="mouth"))
    assert find_faced(build, next(seam for seam in build.seams if seam.name == "mouth")) is None


def test_its_words_lay_it_face_to_face(resolve_text: Resolve) -> None:
    mouth = seam("mouth", "front: top", "lining: top", more=TURNED)
    plan = plan_work(resolved(resolve_text, mouth, step("Line it.", seams="mouth")))
    told = lines(plan, 1)
    assert "Lay front on lining, grain side on right side, edges level: the top edge on the top edge." in told
    assert not any("flesh side" in line for line in told)
