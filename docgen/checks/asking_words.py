"""Words and lists of one entry that do not agree, asked of the maker: steps that speak of another piece than they list, or
list nothing; and goods that are told by a width which is not said."""

import re
from collections.abc import Iterator
from typing import Final

from docgen.assemble import Assembled
from docgen.checks.question import Question
from docgen.read import Spec

WORD_RE: Final = re.compile(r"[a-z0-9]+(?:-[a-z0-9]+)*")
ANY_PART: Final = frozenset(
    {"side", "end", "edge", "top", "foot", "left", "right", "middle"}
)  # words for parts of a part
BY_WIDTH: Final = ("zip", "webbing", "elastic", "binding")

PUNCHES: Final = re.compile(r"(?:punch|cut|mark)\b", re.IGNORECASE)


def ask_words(spec: Spec, build: Assembled) -> Iterator[Question]:
    yield from _ask_widths(spec)
    yield from _ask_step_words(spec, build)
    yield from _ask_empty_steps(spec, build)
    yield from _ask_unlisted(spec, build)


def _ask_widths(spec: Spec) -> Iterator[Question]:
    """Goods that are told by their width, of which it is not said."""
    for item in spec.trimmings:
        if item.kind and item.kind.value in BY_WIDTH and item.width is None:
            what = f'nothing says how wide "{item.name}" is ({item.what.value if item.what else item.kind.value})'
            yield Question(place=item.place, what=what, answer='write width = "...", as it is sold')


def _ask_step_words(spec: Spec, build: Assembled) -> Iterator[Question]:
    """Steps that list one piece which their words do not name, where these name another that the step does not have."""
    names = {piece.name for piece in build.pieces} - ANY_PART
    for step in spec.steps:
        listed = {one.value: one for one in step.pieces}
        if not step.do or not listed:
            continue
        words = {*WORD_RE.findall(step.do.value.lower())}
        words |= {word.removesuffix("s") for word in words}
        said = {name for name in names if name in words}
        in_seams = {
            side.part for seam in build.seams if seam.name in {one.value for one in step.seams} for side in seam.sides
        }
        unsaid = [name for name in listed if name not in said]
        missing = said - {*listed} - in_seams
        if len(unsaid) == 1 < len(listed) and missing and not words & {*unsaid[0].split("-")}:
            told = " and ".join(f'"{name}"' for name in sorted(missing))
            what = f'a step names "{unsaid[0]}" in pieces, and its words speak of {told}'
            answer = "look at both; where the words mean something else there is nothing to do"
            yield Question(place=listed[unsaid[0]].place, what=what, answer=answer)


def _ask_empty_steps(spec: Spec, build: Assembled) -> Iterator[Question]:
    """Steps whose words name a piece, and that list nothing at all."""
    names = {piece.name for piece in build.pieces} - ANY_PART
    for step in spec.steps:
        lists = (
            step.pieces,
            step.seams,
            step.straps,
            step.joins,
            step.hardware,
            step.skives,
            step.trimmings,
            step.first,
        )
        words = {*WORD_RE.findall(step.do.value.lower())} if step.do and step.tools and not any(lists) else set()
        said = sorted(names & (words | {word.removesuffix("s") for word in words}))
        if said:
            told = " and ".join(f'"{name}"' for name in said)
            what = f"a step speaks of {told}, and has nothing in hand"
            yield Question(place=step.place, what=what, answer=f"write pieces = [{told.replace(' and ', ', ')}]")


def _ask_unlisted(spec: Spec, build: Assembled) -> Iterator[Question]:
    """Steps that begin by punching or cutting two pieces and more by name, and list other things alone."""
    names = {piece.name for piece in build.pieces} - ANY_PART
    for step in spec.steps:
        is_bare = (step.straps or step.hardware) and not (step.pieces or step.seams or step.joins or step.skives)
        if step.do and is_bare and PUNCHES.match(step.do.value):
            words = {*WORD_RE.findall(step.do.value.lower())}
            said = sorted(names & (words | {word.removesuffix("s") for word in words}))
            if len(said) > 1:
                told = " and ".join(f'"{name}"' for name in said)
                what = f"a step punches or cuts {told}, and lists no piece"
                yield Question(place=step.place, what=what, answer=f"write pieces = [{told.replace(' and ', ', ')}]")
