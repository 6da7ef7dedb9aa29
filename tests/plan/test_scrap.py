"""What each stitch is tried on: the thickest stack it sews, from builds made by hand."""

from dataclasses import replace

from docgen.assemble import put_together
from docgen.plan import plan_work
from docgen.resolve import Layer


def test_each_stitch_is_tried_on_its_thickest_stack(make_build, make_piece, make_seam, make_join, body, main) -> None:
    cloth = replace(body, name="cloth", title="canvas", kind="fabric")
    layers = tuple(
        Layer(part=f"p{n}", material=name, thickness_mm=2) for n, name in enumerate(("body", "cloth", "body"))
    )
    seams = (
        make_seam("thin", 400, "back", "front", stack_mm=4.0),
        make_seam("thick", 400, "back", "front", stack_mm=4.5, layers=layers, thickest_mm=6.5),
    )
    light, idle = replace(main, name="light"), replace(main, name="idle")
    build = make_build(
        materials=(body, cloth),
        stitches=(main, idle, light),
        seams=seams,
        joins=(make_join("gusset", "side", "side", stitch="light", stack_mm=3.0),),
        pieces=(make_piece("back", 200, 150), make_piece("front", 200, 150), make_piece("side", 60, 100)),
    )
    first, second = plan_work(build).scraps
    assert (first.stitch, first.title, first.stack_mm) == (main, "Thick", 6.5)
    assert first.materials == ("bridle leather", "canvas", "bridle leather")
    assert (second.stitch, second.title, second.materials) == (
        light,
        "Gusset, joint",
        ("bridle leather", "bridle leather"),
    )


def test_a_seam_of_two_pieces_is_tried_on_both(make_build, make_piece, make_seam) -> None:
    pieces = (make_piece("back", 200, 150), make_piece("front", 200, 150))
    build = make_build(pieces=pieces, seams=(make_seam("s", 400, "back", "front"),))
    (scrap,) = plan_work(put_together(build)).scraps
    assert (scrap.materials, scrap.stack_mm) == (("bridle leather", "bridle leather"), 4.0)


def test_nothing_sewn_is_tried_on_nothing(make_build, make_piece) -> None:
    assert plan_work(make_build(pieces=(make_piece("back", 200, 150),))).scraps == ()
