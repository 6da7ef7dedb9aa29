"""Straps that are called left and right, which are not as each other where they lie or in their length, and bands to skive
of which one lies along another edge than in the model of its piece."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from docgen.checks.questions.question import Question, question
from docgen.checks.trade import Subject
from docgen.geometry.outline import SWAPPED, outline_box
from docgen.read import PieceSpec, SkiveSpec
from docgen.resolve import Piece, Strap, StrapLanding

UNLIKE_MM: Final = 1.0
MOST: Final = 200  # of more nothing is asked: a stranger's file


@question
def ask_sided_straps(subject: Subject) -> Iterator[Question]:
    """Two straps whose names differ by left and right alone: once for them, at the second."""
    straps = subject.parts.straps if len(subject.parts.straps) <= MOST else {}
    order = {name: number for number, name in enumerate(straps)}
    for name, strap in straps.items():
        twin = straps.get("-".join(SWAPPED.get(word, word) for word in name.split("-")))
        if twin is None or order[twin.name] <= order[name] or twin.partner or strap.partner:
            continue
        for base in subject.build.pieces:
            ends = [[one for one in base.strap_landings if one.strap == each.name] for each in (strap, twin)]
            if len(ends[0]) == len(ends[1]) == 1 and (told := _tell_places(subject, base, ends[0][0], ends[1][0])):
                yield told
                break
        else:
            yield from _ask_lengths(subject, strap, twin)


def _tell_places(subject: Subject, base: Piece, one: StrapLanding, other: StrapLanding) -> Question | None:
    """What is unlike of two ends that should lie alike left and right of the middle of a piece."""
    middle = outline_box(base.outline).centre.x
    off = [abs(at.x - middle) for at in (one.at, other.at)]
    up_mm, out_mm = abs(one.at.y - other.at.y), abs(off[0] - off[1])
    is_apart = (one.at.x - middle) * (other.at.x - middle) < 0
    ways = (one.leads, other.leads)
    if not is_apart or one.end != other.end:
        return None
    if ways[0] == ways[1] and ways[0] in SWAPPED:
        how = f"and both lead {ways[0]}"
    elif up_mm > UNLIKE_MM and out_mm <= UNLIKE_MM:
        low = outline_box(base.outline).bottom
        how = f"{subject.length(one.at.y - low)} and {subject.length(other.at.y - low)} above its foot"
    elif out_mm > UNLIKE_MM and up_mm <= UNLIKE_MM:
        how = f"{subject.length(off[0])} and {subject.length(off[1])} from its middle"
    else:
        return None
    what = f'"{one.strap}" and "{other.strap}" lie left and right on "{base.name}", {how} (line {one.place.line})'
    answer = "look at both; where they are meant to be unlike there is nothing to do"
    return Question(place=other.place, what=what, answer=answer)


def _ask_lengths(subject: Subject, one: Strap, other: Strap) -> Iterator[Question]:
    """Of two straps that end alike, and are as wide: neither is the other's part with the buckle."""
    ends = [[(end.shape, end.rings, end.takes) for end in strap.ends] for strap in (one, other)]
    high = [outline_box(strap.piece.outline).height for strap in (one, other)]
    is_so = ends[0] == ends[1] and abs(one.width_mm - other.width_mm) < UNLIKE_MM and one.row_holes == other.row_holes
    if is_so and abs(high[0] - high[1]) > UNLIKE_MM:
        long = " and ".join(map(subject.length, high))
        what = f'"{one.name}" and "{other.name}" are alike but for their length, cut {long}'
        place = subject.written_at(subject.spec.straps, other.name, "wears", "finished")
        answer = "look at both figures; where they are meant to be unlike there is nothing to do"
        yield Question(place=place, what=what, answer=answer)


@question
def ask_bands(subject: Subject) -> Iterator[Question]:
    """Pieces that write the bands of their model again, of which one lies along another edge: at the one whose edge is in
    no seam, else at that of the piece itself."""
    for own in subject.spec.pieces:
        model = subject.specs.get(own.like.value) if own.like else None
        if model is None or not 1 < len(own.skives) == len(model.skives) <= MOST:
            continue
        pairs = [
            (one, other) for one, other in zip(own.skives, model.skives, strict=True) if _words(one) != _words(other)
        ]
        if len(pairs) == 1 and (told := _tell_band(subject, own, model, *pairs[0])):
            yield told


def _tell_band(subject: Subject, own: PieceSpec, model: PieceSpec, one: SkiveSpec, other: SkiveSpec) -> Question | None:
    if one.edges is None or other.edges is None or _words(one)[1:] != _words(other)[1:]:
        return None
    is_mirrored = own.mirror is not None and own.mirror.value
    swapped = {SWAPPED.get(edge, edge) for edge in other.edges.value.split()}
    if is_mirrored and swapped == {*one.edges.value.split()}:
        return None
    at, its = (one.edges, other.edges)
    is_idle = [not _is_sewn(subject, name, value.value) for name, value in ((own.name, at), (model.name, its))]
    what = f'"{own.name}" is skived along its {at.value}, and "{model.name}", its model, along its '
    what += f"{its.value}, as wide and as thin (line {its.place.line})"
    answer = "look at both edges; where they are meant to be unlike there is nothing to do"
    return Question(place=its.place if is_idle == [False, True] else at.place, what=what, answer=answer)


def _is_sewn(subject: Subject, name: str, edge: str) -> bool:
    return edge in subject.edges_sewn(name) | subject.edges_sewn(subject.build.join_of.get(name, ""))


def _words(item: SkiveSpec) -> tuple[str, ...]:
    return tuple(value.value if value else "" for value in (item.edges, item.width, item.to))
