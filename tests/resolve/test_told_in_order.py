"""What is told of one hole is told in the order in which the spec names it, whatever order the machine keeps names in."""

from short_specs import piece, rivet, step
from spec_text import Resolve

from docgen.assemble import Assembled

LAYERS = ("welt", "back", "facing", "shim", "apron")


def test_cautions_at_one_hole_come_in_the_order_of_what_it_goes_through(resolve_text: Resolve) -> None:
    through = ", ".join(f'"{name}"' for name in LAYERS)
    rows = [f'{{ at = "centre, {mm} mm from top", punch = "4 mm"%s }}' for mm in (20, 80)]
    pair = ", ".join(row % f', takes = "rivet", through = [{through}]' for row in rows)
    text = piece("front", 100, 150, f"holes = [{pair}]\n")
    for k, name in enumerate(LAYERS):
        apart = ", ".join(f'{{ at = "centre, {mm} mm from top", punch = "4 mm" }}' for mm in (20, 90 + 6 * k))
        text += piece(name, 100, 150, f"holes = [{apart}]\n")
    text += rivet(2) + step("Rivet it.", pieces=" ".join(("front", *LAYERS)), hardware="rivet")
    build = resolve_text(text)
    assert isinstance(build, Assembled)
    told = [
        name
        for one in build.cautions
        if one.check == "holes-spread"
        for name in LAYERS
        if f'go through "{name}"' in one.what
    ]
    assert told == [*LAYERS]
