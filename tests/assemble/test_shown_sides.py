"""Which side of a lined part a picture draws, by what the lining and the part show: by hand."""

from collections.abc import Callable

import pytest
from finished_article import article_of
from short_specs import piece, seam, step

from docgen.assemble import Assembled, TakenApart, find_sections, inner
from docgen.pages.pictures.step_drawing import set_scene

Resolve = Callable[[str], Assembled]
ROUND = "left bottom right top"


def lined(resolve_text: Resolve, of: str, front: str = "", lining: str = "") -> Assembled:
    """A front of leather with a lining of its shape, glued in and sewn all round."""
    text = piece("front", 200, 120, front)
    text += f'[pieces.lining]\nlike = "front"\nof = "{of}"\nlines = ["front"]\n{lining}'
    text += seam("rim", f"front: {ROUND}", f"lining: {ROUND}")
    return resolve_text(text + step("Glue the lining in and sew round.", pieces="front lining", seams="rim"))


def is_hatched(build: Assembled) -> tuple[bool, bool]:
    """Whether the finished article has a flesh side in sight from the front, and from behind."""
    article = article_of(TakenApart(build))
    front, behind = (
        any(leg[0].startswith("hatch") for leg in drawing.draw(1.0).legs) for drawing in (article.front, article.behind)
    )
    return front, behind


@pytest.mark.parametrize(
    ("of", "front", "lining", "hatched"),
    [
        ("thin", "", "", (False, False)),
        ("thin", "", 'shows = "flesh"\n', (False, True)),
        ("cloth", "", "", (False, False)),
        ("cloth", 'shows = "flesh"\n', "", (True, False)),
    ],
)
def test_what_is_seen_of_a_lined_part(
    resolve_text: Resolve, of: str, front: str, lining: str, hatched: tuple[bool, bool]
) -> None:
    """From the front what the part shows, from behind what its lining does: only a flesh side is hatched."""
    assert is_hatched(lined(resolve_text, of, front, lining)) == hatched


@pytest.mark.parametrize("shows", ["grain", "flesh"])
def test_a_lining_is_drawn_with_the_side_out_that_its_section_has(resolve_text: Resolve, shows: str) -> None:
    """Front, grain up, over its lining: of that the side in the section that looks down looks away in the picture."""
    build = lined(resolve_text, "thin", "", f'shows = "{shows}"\n')
    pile = next(section.pile for section in find_sections(build) if section.pile)
    assert [(ply.part, ply.grain) for ply in pile] == [
        ("front", "up"),
        ("lining", "down" if shows == "grain" else "up"),
    ]
    apart = TakenApart(build)
    bodies, (heap,) = apart.heaps(0)
    scene = set_scene(bodies, heap, apart.joined(heap, 0, bodies))
    front, own = (
        next(one.body for one in scene.drawing.shown if one.body.copy.part == part) for part in ("front", "lining")
    )
    assert (inner(own.faces[0].grain, front.faces[0].grain) > 0) == (shows == "flesh")
