"""Units that stand alone in a spec: ounces among mm, a stitch in mm among inches, one length in inches among those in
mm; and leather far thicker or thinner than the animal has it that its words name."""

import re
from collections.abc import Hashable, Iterator
from dataclasses import fields, is_dataclass
from functools import cache
from typing import Any, Final, cast

from docgen.checks.questions.question import Question, question
from docgen.checks.trade import Subject
from docgen.read import Value
from docgen.tables.cautions import has_phrase
from docgen.tables.usual import ANIMALS_MM

LENGTH_RE: Final = re.compile(r"(\d+(?:\.\d+)?(?: \d+/\d+)?|\d+/\d+) ?(in|mm|cm)\b")
PITCH_RE: Final = r"^(\d+(?:\.\d+)?) per inch$"
PITCH_MM_RE: Final = re.compile(r"^(\d+(?:\.\d+)?) mm$")
OUNCES_RE: Final = r"^(\d+(?:\.\d+)?) oz$"
LONG_PITCH_MM: Final = 5.2  # a stitch that is longer may be one whose figure is in the other unit
LEAST_OTHERS: Final = 7  # so many other lengths tell which unit a spec is in
LEATHER_MM: Final = (0.6, 6.0)  # what leather mostly is, both figures: our choice
GOODS_SIZED: Final = frozenset(
    {
        "title",
        "note",
        "what",
        "punch",
        "to",
        "tongue",
        "slot",
        "long",
        "thickness",
        "skive",
        "padding",
        "lap",
        "overlap",
    }
)  # tools and goods come in the units of their makers


@question
def ask_units(subject: Subject) -> Iterator[Question]:
    """Units that stand alone among others."""
    brought = tuple(f"{use.name}-" for use in subject.spec.parts)  # a ready part has them in the unit of its file
    own = tuple(item for item in subject.spec.measures if not item.name.startswith(brought))
    found = [
        one for table in (own, subject.spec.pieces, subject.spec.straps, subject.spec.joins) for one in _lengths(table)
    ]
    units = [unit for _, unit in found]
    if units.count("mm") >= LEAST_OTHERS and "in" not in units:
        yield from _ask_ounces(subject)
        yield from _ask_inch_pitches(subject)
    if units.count("in") >= LEAST_OTHERS and "mm" not in units:
        yield from _ask_mm_pitches(subject)
    yield from _ask_alone([*found, *_lengths(subject.spec.inside)])


def _lengths(item: Any) -> Iterator[tuple[Value[str], str]]:
    """Each length below an item that has a unit, nought left out: where it stands, and its unit."""
    if isinstance(item, Value):
        pairs = LENGTH_RE.findall(item.value) if isinstance(item.value, str) else ()
        yield from ((item, unit) for figure, unit in pairs if figure.strip("0."))
    elif isinstance(item, tuple):
        for part in item:
            yield from _lengths(part)
    elif item is not None and is_dataclass(item):
        for name in _sized(cast(Hashable, type(item))):
            yield from _lengths(getattr(item, name))


@cache
def _sized(kind: Any) -> tuple[str, ...]:
    """The keys of a class of tables whose lengths the maker lays out."""
    return tuple(field.name for field in fields(kind) if field.name not in GOODS_SIZED)


def _ask_ounces(subject: Subject) -> Iterator[Question]:
    """A thickness in ounces, in a spec that has all its lengths in mm."""
    thick = [
        item.thickness
        for item in subject.spec.materials
        if item.thickness and item.kind and item.kind.value == "leather"
    ]
    for value in thick:
        found = re.match(OUNCES_RE, value.value)
        if found and sum("oz" in one.value for one in thick) == 1 and LEATHER_MM[0] <= float(found[1]) <= LEATHER_MM[1]:
            what = f'a thickness of "{value.value}" stands alone among lengths in mm'
            answer = f'write "{found[1]} mm" if that is meant; else it is right as it is'
            yield Question(place=value.place, what=what, answer=answer)


def _ask_inch_pitches(subject: Subject) -> Iterator[Question]:
    """Long stitches by the inch, in a spec that has all its lengths in mm."""
    for stitch in subject.spec.stitches:
        found = re.match(PITCH_RE, stitch.pitch.value) if stitch.pitch else None
        if found and stitch.pitch and 25.4 / float(found[1]) > LONG_PITCH_MM:
            told = subject.length(25.4 / float(found[1]))
            what = f'"{stitch.pitch.value}" is a stitch of {told}, and all lengths are in mm'
            answer = f'write "{found[1]} mm" if that is meant; else it is right as it is'
            yield Question(place=stitch.pitch.place, what=what, answer=answer)


def _ask_mm_pitches(subject: Subject) -> Iterator[Question]:
    """Long stitches in mm, in a spec that has all its lengths in inches."""
    for stitch in subject.spec.stitches:
        found = PITCH_MM_RE.match(stitch.pitch.value) if stitch.pitch else None
        if found and stitch.pitch and float(found[1]) > LONG_PITCH_MM:
            what = (
                f'"{stitch.pitch.value}" is a long stitch, {25.4 / float(found[1]):.1f} per inch, and all lengths are '
            )
            answer = f'write "{found[1]} per inch" if that is meant; else it is right as it is'
            yield Question(place=stitch.pitch.place, what=f"{what}in inches", answer=answer)


def _ask_alone(found: list[tuple[Value[str], str]]) -> Iterator[Question]:
    """The one length of a spec that is in the other unit."""
    for unit, other in (("in", "mm"), ("mm", "in"), ("cm", "mm"), ("mm", "cm")):
        alone = [value for value, its in found if its == unit]
        others = sum(its == other for _, its in found)
        if len(alone) == 1 and others >= LEAST_OTHERS:
            value = alone[0]
            what = f'"{value.value}" is in {unit}, and the {others} other lengths here are in {other}'
            meant = re.sub(rf"\b{unit}\b", other, value.value)
            answer = f'write "{meant}" if that is meant; else it is right as it is'
            yield Question(place=value.place, what=what, answer=answer)


@question
def ask_animals(subject: Subject) -> Iterator[Question]:
    """Leather that is not as thick as that of the animal which its words name."""
    for own in subject.spec.materials:
        item = subject.parts.materials.get(own.name)
        if item is None or own.thickness is None or item.kind != "leather" or not item.thickness_mm:
            continue
        words = f"{item.name} {item.title}"
        animals = [animal for animal in ANIMALS_MM if has_phrase(words, animal)]
        for animal in animals[:1] if not has_phrase(words, "split") else ():
            least_mm, most_mm = ANIMALS_MM[animal]
            if not least_mm <= item.thickness_mm <= most_mm:
                mm, least, most = map(subject.length, (item.thickness_mm, least_mm, most_mm))
                what = f'"{own.name}" is {mm} thick, and {animal} mostly {least} to {most}'
                answer = "look at the figure and its unit; where it is so there is nothing to do"
                yield Question(place=own.thickness.place, what=what, answer=answer)
