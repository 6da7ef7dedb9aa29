"""What the spec cannot tell, asked of the maker: each once, with what answers it. A question is no fault: nothing is in
its way, and where it stays open the build sheet leaves it to whoever makes the thing."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from typing import Final

from docgen.assemble import FACES_UNTOLD, LINE_UNTOLD, NO_HOLD, PLACE_UNTOLD, SPOT_UNTOLD, Assembled, TakenApart
from docgen.checks.asking_shapes import ask_shapes
from docgen.checks.question import Question
from docgen.geometry.outline import WHOLE
from docgen.problems import Place, make_caution
from docgen.read import Spec, own_words
from docgen.resolve import Parts, Seam, SeamSide, Step, find_parts
from docgen.tables.consumables import is_glue
from docgen.tables.sewing import LONG_UNMATCHED_MM
from docgen.tables.trimmings import TRIMMING_KINDS
from docgen.written.units.telling import format_length

# What a step begins with, or goes on with, that glues; "glued" and "the glue" speak of what was glued before.
GLUES: Final = re.compile(r"(?:^|[.,;:]\s|\b(?:and|then)\s)\s*(?:glue|cement)\b", re.IGNORECASE)


def ask_maker(spec: Spec, builds: Sequence[Assembled]) -> tuple[Question, ...]:
    """What is asked about any of the variants, each question once, in the order of the file; of a part in a file of its
    own by the names that stand there."""
    found = dict.fromkeys(_own(question, spec) for build in builds for question in _ask_of(spec, build))
    return tuple(sorted(found, key=lambda question: (question.place.path, question.place.line)))


def _own(question: Question, spec: Spec) -> Question:
    told = own_words(make_caution(question.place, question.what, question.answer), spec)
    return Question(place=told.place, what=told.what, answer=told.mend)


def _ask_of(spec: Spec, build: Assembled) -> Iterator[Question]:
    parts = find_parts(build)
    yield from ask_shapes(spec, build, parts)
    yield from _ask_places(build, parts)
    yield from _ask_glue(build)
    yield from _ask_notches(build, parts)
    yield from _ask_rows(build, parts)
    yield from _ask_goods(build)
    yield from _ask_straps(build, parts)


def _ask_places(build: Assembled, parts: Parts) -> Iterator[Question]:
    """Which side of a part faces out, and where a part lies; once for a part, and of two that face alike for one."""
    told: set[str] = set()
    for copy, why in TakenApart(build).withheld.items():
        name, placed = copy.part, build.space.part(copy)
        host = placed.host.part if placed and placed.host else ""
        if name in told:
            continue
        if why == FACES_UNTOLD and placed and placed.how == "back to back" and host:
            told |= {name, host}
            what = f'nothing says which side of "{name}" faces out: it is sewn to "{host}", and both face one way'
            answer = 'write shows = "flesh" for the one whose grain side looks inward, as that of a lining does'
            yield Question(place=_place_of(parts, name), what=what, answer=answer)
        elif why in (LINE_UNTOLD, PLACE_UNTOLD, SPOT_UNTOLD) and name in parts.pieces:
            told.add(name)
            yield _ask_where(parts, name, host, why)


def _ask_where(parts: Parts, name: str, host: str, why: str) -> Question:
    """On which side of its seam a piece lies, or where at all."""
    on = f'landings of "{host}"' if host in parts.pieces else "landings of the piece that it lies on"
    answer = f'write in {on}: {{ piece = "{name}", at = ... }}, with inside = true where it lies on the hidden side'
    side = f'on which side of its seam "{name}" lies' + (f', on "{host}" or beside it' if host else "")
    what = f"nothing says {side}" if why == LINE_UNTOLD else f'nothing says where "{name}" lies'
    return Question(place=_place_of(parts, name), what=what, answer=answer)


def _place_of(parts: Parts, name: str) -> Place:
    """Where the table of a part begins."""
    if name in parts.pieces:
        return parts.pieces[name].place
    return parts.joins[name].place if name in parts.joins else parts.straps[name].piece.place


def _ask_glue(build: Assembled) -> Iterator[Question]:
    for number, step in enumerate(build.steps, 1):
        if GLUES.search(step.do) and not any(is_glue(tool) for tool in step.tools):
            what = f"step {number} glues, and nothing says with what"
            answer = 'name it in tools of the step, for example "contact cement"; its drying time is told then, too'
            yield Question(place=step.place, what=what, answer=answer)


def _ask_notches(build: Assembled, parts: Parts) -> Iterator[Question]:
    """Long seams round corners on one side, along an edge without any on the other, with no mark in between."""
    for seam in build.seams:
        pair = _find_unmatched(seam, parts)
        if pair is None:
            continue
        round_, plain = pair
        long = format_length(seam.length_mm, build.show)
        corners = f'the {" ".join(round_.edges)} of "{round_.part}"'
        what = f'nothing says where "{plain.part}" meets {corners}: no notch in all {long} of the seam "{seam.name}"'
        answer = f'write notches for "{round_.part}" and "{plain.part}", as far from one end of the seam on both'
        yield Question(place=seam.place, what=what, answer=answer)


def _find_unmatched(seam: Seam, parts: Parts) -> tuple[SeamSide, SeamSide] | None:
    """The side that goes round corners and the one that has none, where the seam is long and neither has a notch."""
    sides = [side for side in seam.sides if side.edges]
    if seam.length_mm <= LONG_UNMATCHED_MM or any(side.part not in parts.pieces for side in sides):
        return None  # the lap of a join is a mark, too
    if any(_has_notch(parts, side) for side in sides):
        return None
    corners = [side for side in sides if len(side.edges) > 1]
    plain = [side for side in sides if len(side.edges) == 1 and side.edges != (WHOLE,)]
    return (corners[0], plain[0]) if corners and plain else None


def _has_notch(parts: Parts, side: SeamSide) -> bool:
    return any(notch.edge in side.edges for notch in parts.pieces[side.part].marks.notches)


def _ask_rows(build: Assembled, parts: Parts) -> Iterator[Question]:
    """Seams of one part by itself, in a build of several: a row for its looks, or a partner that is left out. Along a hem
    the row holds that, and goods by length are sewn in by it."""
    for seam in build.seams if len(parts.pieces) > 1 else ():
        side = seam.sides[0]
        piece = parts.pieces.get(side.part)
        hemmed = {edge for hem in piece.hems for edge in hem.edges} if piece else set()
        if len(seam.sides) == 1 and not seam.trimmings and hemmed.isdisjoint(side.edges):
            what = f'the seam "{seam.name}" goes through "{side.part}" alone: is it a row for its looks?'
            answer = "leave it where it is; else name in meet what it is sewn to"
            yield Question(place=side.place if side.place.line else seam.place, what=what, answer=answer)


def _ask_goods(build: Assembled) -> Iterator[Question]:
    """Goods by length that are sewn on or in, of which no seam, edge, piece or step says what holds them."""
    fastening = {name for step in build.steps if _fastens(step) for name in step.trimmings}
    for item in build.trimmings:
        is_held = any(cut.seams or cut.joins or cut.on or cut.where for cut in item.cuts)
        if TRIMMING_KINDS[item.kind].is_sewn and not is_held and item.name not in fastening:
            answer = (
                f'name it in a seam, meet = [..., "{item.name}: left"], in its own along, in laid of a piece, or in the '
                "step that sews or rivets it"
            )
            yield Question(place=item.place, what=f'nothing says what holds "{item.name}" ({item.what})', answer=answer)


def _fastens(step: Step) -> bool:
    return bool(step.seams or step.joins or step.hardware) or any(is_glue(tool) for tool in step.tools)


def _ask_straps(build: Assembled, parts: Parts) -> Iterator[Question]:
    """Straps that nothing holds in a build whose steps are not written: where they are, a check tells it. What hooks or
    buckles on, or closes on itself, is left."""
    loose = {one.copy.part for one in build.space.unplaced if one.why == NO_HOLD}
    for strap in build.straps if build.assembly.is_proposed and build.seams else ():
        if strap.name in loose and not (strap.partner or strap.hole_tips_mm or any(end.rings for end in strap.ends)):
            answer = f'write a landing for it, {{ strap = "{strap.name}", at = ... }}, or name it in through of a hole'
            what = f'nothing says what holds "{strap.name}"'
            yield Question(place=_place_of(parts, strap.name), what=what, answer=answer)
