"""Glue that goes all over: not on what a seam holds along some of its edges, which stays open at the others."""

from short_specs import piece, seam, step
from spec_text import Resolve

from docgen.pages.work.acts import tell
from docgen.plan import plan_work

FOAM = '[materials.foam]\nkind = "foam"\nthickness = "3 mm"\n'


def test_a_flap_within_three_edges_is_glued_along_these_alone(resolve_text: Resolve) -> None:
    """The cover reaches from the right edge over part of the inner, held by the seam round at three of its sides."""
    build = resolve_text(
        FOAM
        + piece("outer", 200, 150)
        + piece("inner", 200, 150, 'landings = [{ piece = "cover", at = "0 from right, 0 from bottom" }]\n')
        + piece("pad", 180, 130, 'lines = ["outer"]\n', of="foam")
        + piece("cover", 80, 150)
        + seam("round", "inner: all", "outer: all")
        + step("Glue and sew.", pieces="pad cover", seams="round").rstrip()
        + '\ntools = ["spray glue"]\n'
    )
    (only,) = plan_work(build).steps
    told = [tell(act).replace("\xa0", " ") for act in only.acts]
    assert [line for line in told if "spray glue" in line] == [
        "Put spray glue all over the faces that meet before each part is laid: pad, inner and outer.",
        "Put spray glue on the flesh side of cover and on inner beneath it, in a band 4 mm wide along bottom, right and "
        "top.",
    ]
