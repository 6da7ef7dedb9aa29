"""Check of a leather's thickness whose unit has slipped: what is sewn and riveted tells it."""

import re
from collections.abc import Iterator
from dataclasses import replace

from docgen.assemble import put_together
from docgen.checks.trade.check import Found, Subject, check
from docgen.checks.trade.hardware import find_wrong_posts
from docgen.checks.trade.sewing import find_thick_stacks
from docgen.checks.trade.thread import find_light_threads
from docgen.problems import Place, Problem, has_errors
from docgen.resolve import resolve_spec

LEAST = 2  # so many figures that do not go with the thickness are no chance: our choice
UNITS = {"mm": "oz", "oz": "mm"}
UNIT_RE = r"(mm|oz)$"


@check(
    "thickness-in-other-unit",
    f"Where {LEAST} posts, threads or machines or more do not go with a leather's thickness, and all do in the other unit, "
    "that is meant.",
    "by trial: the build is put together with it; how many it takes is our choice",
    needs_whole=True,
    waits_for=("thickness-unusual", "hardware-unusual"),
)
def find_slipped_units(subject: Subject) -> Iterator[Found]:
    """The first leather of which the other unit puts all of them right."""
    doubts = _doubts(subject)
    figures = len({place for place, _ in doubts})
    for spec in subject.spec.materials if figures >= LEAST else ():
        words = spec.thickness.value.strip() if spec.thickness else ""
        unit = re.search(UNIT_RE, words)
        if spec.kind is None or spec.kind.value != "leather" or spec.thickness is None or unit is None:
            continue
        other = words[: unit.start()] + UNITS[unit[1]]
        if not _is_right(subject, spec.name, other):
            continue
        told = "; ".join(words for _, words in doubts)
        what = f'"{spec.name}" is {words} thick, and {figures} figures do not go with that: {told}'
        yield spec.thickness.place, what, f'write thickness = "{other}", if that is meant; else look at each', spec.name
        return


def _doubts(subject: Subject) -> list[tuple[Place, str]]:
    """The figures that do not go with what lies there, each with where it is written: as few words as tell which."""
    kinds = (("posts", find_wrong_posts), ("thread", find_light_threads), ("machine", find_thick_stacks))
    return [
        (place, f'the {word} {"at" if word != "thread" else "of"} "{at}" (line {place.line})')
        for word, find in kinds
        for place, _, _, at in find(subject)
    ]


def _is_right(subject: Subject, name: str, thickness: str) -> bool:
    """Whether all goes together where a material is as thick as that, and of a thickness that is sold."""
    materials = tuple(
        replace(spec, thickness=replace(spec.thickness, value=thickness))
        if spec.name == name and spec.thickness
        else spec
        for spec in subject.spec.materials
    )
    problems: list[Problem] = []
    spec, plain = resolve_spec(replace(subject.spec, materials=materials), "", problems)
    least_mm, most_mm = plain.limits.thickness_mm("leather")
    thick_mm = next((material.thickness_mm for material in plain.materials if material.name == name), 0.0)
    if has_errors(problems) or not least_mm <= thick_mm <= (most_mm or thick_mm):
        return False
    return not _doubts(Subject(spec=spec, build=put_together(plain)))
