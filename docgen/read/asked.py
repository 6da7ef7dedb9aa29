"""What a part asks for, held against what a spec sets; and what it lays on pieces of the spec."""

from collections.abc import Iterable, Iterator
from dataclasses import replace
from typing import Any

from docgen.problems import Problem, make_error, suggest
from docgen.read.kinds import list_keys
from docgen.read.renaming import Renaming
from docgen.read.spec import MeasureRange, UseSpec
from docgen.read.spec_parts import PartLandingSpec, PartSpec
from docgen.read.spec_pieces import LandingSpec, PieceSpec


def check_numbers(use: UseSpec, held: PartSpec, problems: list[Problem]) -> None:
    """Numbers that the part does not have, and those beyond their bounds."""
    known = {item.name: item for item in held.numbers}
    for given in use.numbers:
        asked = known.get(given.name)
        place = given.number.place
        if asked is None:
            what = f'the part "{use.name}" has no number "{given.name}"'
            mend = suggest(given.name, known) or (f"it has {', '.join(known)}" if known else "leave it out")
            problems.append(make_error(place, what, mend))
            continue
        least, most = (asked.least.value if asked.least else 0), (asked.most.value if asked.most else None)
        number = given.number.value
        if number < least or (most is not None and number > most):
            span = f"from {least} to {most}" if most is not None else f"from {least} on"
            what = f'"{given.name}" of the part "{use.name}" goes {span}, and {number} is beyond it'
            problems.append(make_error(place, what, "write a number in between"))


def name_ranges(use: UseSpec, held: PartSpec, renaming: Renaming) -> Iterator[MeasureRange]:
    """The ranges of the part's measures, under the names that they have in the spec."""
    for item in held.ranges:
        if item.name in renaming.measures:
            yield MeasureRange(
                name=renaming.measures[item.name],
                told=f'"{item.name}" of the part "{use.name}"',
                least=item.least and renaming.length(item.least),
                most=item.most and renaming.length(item.most),
            )


def land(pieces: tuple[PieceSpec, ...], landings: Iterable[PartLandingSpec]) -> tuple[PieceSpec, ...]:
    """The pieces, with what lands on them."""
    by_name = {piece.name: piece for piece in pieces}
    fields = [part.field for part in list_keys(LandingSpec)]
    for landing in landings:
        host = by_name.get(landing.on.value) if landing.on else None
        if host is not None:
            told: dict[str, Any] = {field: getattr(landing, field) for field in fields}
            one = LandingSpec(**told, place=landing.place)
            by_name[host.name] = replace(host, landings=(*host.landings, one))
    return tuple(by_name.values())
