"""Posts from the drawer for what they go through."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from docgen.assemble.assembly import Fastened
from docgen.resolve import Build, Hardware, by_name
from docgen.tables.hardware import KINDS_WITHOUT_SETTER, choose_post, find_post_mm, find_slack_mm


def choose_posts(build: Build, found: Sequence[Fastened]) -> Iterator[Fastened]:
    """Each with the post from the drawer that fits its stack, at its thickest and at its thinnest place."""
    hardware = by_name(build.hardware)
    for one in found:
        item = hardware[one.hardware]
        ends = (one.stack.thickest_mm, one.stack.thinnest_mm)
        wanted = [find_post_mm(item.kind, end_mm, build.limits.post_over_mm(item.kind)) for end_mm in ends]
        if wanted[0] is None or wanted[1] is None:
            yield one
            continue
        least_mm, most_mm = wanted[0][0], wanted[1][1]
        post_mm = choose_post((least_mm, most_mm), item.posts_mm, find_slack_mm(item.kind)) or 0.0
        chosen = replace(one, post_least_mm=least_mm, post_most_mm=most_mm or 0.0, post_mm=post_mm)
        shorter = _shorter_posts(build, item, chosen) if post_mm else ()
        yield replace(chosen, shorter_mm=shorter) if shorter else chosen


def wanted_pressed(build: Build, item: Hardware, one: Fastened) -> tuple[float, float] | None:
    """The shortest and longest post for a stack whose foam is pressed flat, in mm; None without foam, and of what is cut
    off or screwed home. How far foam gives under a setter nobody can tell, and a post that is too long bends."""
    foams = {material.name for material in build.materials if material.kind == "foam"}
    foam_mm = sum(layer.thickness_mm for layer in one.stack.layers if layer.material in foams)
    if not foam_mm or not one.post_most_mm or item.kind in KINDS_WITHOUT_SETTER:
        return None
    return one.post_least_mm - foam_mm, one.post_most_mm - foam_mm


def _shorter_posts(build: Build, item: Hardware, one: Fastened) -> tuple[float, ...]:
    """The posts from the one that fits with the foam pressed flat up to the one that fits it as it is bought."""
    wanted = wanted_pressed(build, item, one)
    pressed_mm = choose_post(wanted, item.posts_mm, find_slack_mm(item.kind)) if wanted else None
    return tuple(post for post in sorted({*item.posts_mm}) if pressed_mm and pressed_mm <= post < one.post_mm)
