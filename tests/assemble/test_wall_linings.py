"""Leather that lines the wall of a box, sewn in with it: by how it is named in the seams, it lies on the inner side."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from in_space import part
from short_specs import step

from docgen.assemble import Assembled, Copy, TakenApart

Resolve = Callable[[str], Assembled]

BENEATH = ('"inner: left", "gusset: right"', '"inner: right", "gusset: left"')  # as a box with its edges outside lies
OUTERMOST = ('"gusset: right", "inner: left"', '"gusset: left", "inner: right"')


def _build(resolve_text: Resolve, leather: str, sides: tuple[str, str], turned: str = "") -> Assembled:
    front, back = sides
    return resolve_text(
        f"""
<leather skin: 0.8 mm>
<back>
<front>
<strip gusset: ["50 mm", "solve"]>
<strip inner of {leather}: ["50 mm", "solve"]>
<seam front: ["front: left bottom right", {front}]>
{turned}
<seam back: ["back: left bottom right", {back}]>
{turned}
"""
        + step("Sew the front.", seams="front")
        + step("Sew the back.", seams="back")
    )


@pytest.mark.parametrize(
    ("leather", "sides", "turned"), [("skin", BENEATH, ""), ("body", BENEATH, ""), ("skin", OUTERMOST, "turned = true")]
)
def test_leather_inside_a_wall_in_both_its_seams_lines_it(
    resolve_text: Resolve, leather: str, sides: tuple[str, str], turned: str
) -> None:
    build = _build(resolve_text, leather, sides, turned)
    inner = part(build.space, "inner")
    assert (inner.how, inner.host, inner.is_inner) == ("lies behind", Copy("gusset"), True)
    told = [*TakenApart(build).tell_withheld()]
    assert len(told) == bool(turned)  # inside out both come from one side, and neither way is free


@pytest.mark.parametrize(
    ("leather", "sides", "turned"),
    [
        ("skin", OUTERMOST, ""),  # the thicker wall would line the thinner leather
        ("skin", (BENEATH[0], '"gusset: left"'), ""),  # at one side alone it may be a facing
        ("skin", BENEATH, "turned = true"),
    ],
)
def test_leather_that_lies_otherwise_lines_no_wall(
    resolve_text: Resolve, leather: str, sides: tuple[str, str], turned: str
) -> None:
    build = _build(resolve_text, leather, sides, turned)
    assert not [lies for lies in build.assembly.lies if lies.is_cover]
