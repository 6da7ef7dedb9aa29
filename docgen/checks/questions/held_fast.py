"""Holes that do not go with what is held: half of a snap where its strap lies fast, holes of a part of which what goes
through them names others; and handles of which one panel of two has none."""

from collections.abc import Iterator
from itertools import combinations
from typing import Final

from docgen.checks.called import is_called
from docgen.checks.questions.places import PLACE_RE
from docgen.checks.questions.question import Question, question, told_by
from docgen.checks.sizes_said import plain_mm
from docgen.checks.trade import Subject
from docgen.geometry.outline import outline_box
from docgen.geometry.path import path_box
from docgen.geometry.vector import distance
from docgen.problems import count_words
from docgen.resolve import Fold, Piece, Strap

MOST: Final = 200  # of more nothing is asked: a stranger's file
HANDLES: Final = ("handle", "handles", "grip")
BEYOND_MM: Final = 5.0  # so far what lies fast may reach over the edge of what bears it: our choice
TINY_MM: Final = 0.1
OVER_EDGE: Final = "strap-end-over-edge"
HALF_ROUND_DEG: Final = 180.0
LEAST_WEB_MM: Final = 1.0  # less leather than that between two round holes tears: common practice, no published source


@question
def ask_held_halves(subject: Subject) -> Iterator[Question]:
    """Halves of a snap in the part of a strap that lies fast, where the other half is in something else."""
    snaps = {item.name for item in subject.build.hardware if item.kind == "snap"}
    for base in subject.build.pieces if snaps else ():
        for landing in base.strap_landings[:MOST]:
            strap = subject.parts.straps.get(landing.strap)
            for hole in strap.piece.marks.holes if strap else ():
                along_mm = strap.cut_length_mm - hole.at.y if strap and landing.end else hole.at.y
                if hole.takes in snaps and along_mm < landing.over_mm - hole.diameter_mm / 2:
                    away, over = map(subject.length, (along_mm, landing.over_mm))
                    what = f'"{hole.takes}" is set {away} from the end of "{landing.strap}" that lies fast on '
                    what += f'"{base.name}" over {over}'
                    answer = "look from which end it is measured; where it closes there there is nothing to do"
                    yield Question(place=hole.place, what=what, answer=answer)


@question
def ask_beyond_edges(subject: Subject) -> Iterator[Question]:
    """Ends of straps that are said to lie fast over more than there is of their piece, and goods by length that are laid
    so near to an edge that they reach over it."""
    told = {
        (one.at, end.strap)
        for one in told_by(subject, OVER_EDGE)
        for end in subject.parts.pieces[one.at].strap_landings
        if f'"{end.strap}"' in one.what
    }
    for base in subject.build.pieces:
        box = outline_box(base.outline)
        for landing in base.strap_landings[:MOST]:
            if (base.name, landing.strap) in told:
                continue
            lies = path_box(landing.outline)
            off_mm = max(box.left - lies.left, lies.right - box.right, box.bottom - lies.bottom, lies.top - box.top)
            if off_mm > BEYOND_MM:
                what = f'the end of "{landing.strap}" that lies fast on "{base.name}" reaches {subject.length(off_mm)} '
                answer = "look at its place, at leads and at over; where it is to reach over there is nothing to do"
                yield Question(place=landing.place, what=f"{what}over its edge", answer=answer)
    widths = {item.name: item.width_mm for item in subject.build.trimmings}
    for own in subject.spec.pieces:
        for item in own.laid:
            match = PLACE_RE.match(item.at.value) if item.at else None
            away_mm, half_mm = (
                plain_mm(match[1]) if match else 0.0,
                widths.get(item.goods.value, 0.0) / 2 if item.goods else 0.0,
            )
            if item.at and match and item.goods and 0 < away_mm < half_mm - TINY_MM:
                away, half = map(subject.length, (away_mm, half_mm))
                what = f'"{item.goods.value}" is laid {away} from the {match[2]} of "{own.name}", and half of it is {half} '
                answer = "measure to its middle; where it is to reach over the edge there is nothing to do"
                yield Question(place=item.at.place, what=f"{what}wide", answer=answer)


@question
def ask_touching_holes(subject: Subject) -> Iterator[Question]:
    """Two round holes of a strap with hardly any leather between them."""
    for strap in subject.build.straps:
        holes = [hole for hole in strap.piece.marks.holes[strap.row_holes :] if not hole.long_mm]
        for one, other in combinations(holes[: MOST // 10], 2):
            web_mm = distance(one.at, other.at) - (one.diameter_mm + other.diameter_mm) / 2
            if 0 <= web_mm < LEAST_WEB_MM:
                later = max(one, other, key=lambda hole: hole.place.line)
                what = f'two holes of "{strap.name}" leave {subject.length(web_mm)} of leather between them'
                answer = "measure both again; where they are meant to touch there is nothing to do"
                yield Question(place=later.place, what=what, answer=answer)
                break


@question
def ask_unmet_holes(subject: Subject) -> Iterator[Question]:
    """Plain holes of a part that nothing else holds, more of them by one, or by those of a copy, than the holes that are
    said to go through it, or one fewer."""
    pieces = {piece.name: piece for piece in subject.build.cut}
    through: dict[str, int] = {}
    for piece in pieces.values():
        for hole in piece.marks.holes:
            for name in hole.through:
                through[name] = through.get(name, 0) + subject.counts[piece.name]
    lands = {end.strap for piece in subject.build.pieces for end in piece.strap_landings} | subject.sewn.keys()
    for name in sorted(through.keys() & pieces.keys() - lands):
        piece, count = pieces[name], through[name]
        if any(_is_shut(fold) for fold in piece.marks.folds):
            continue
        plain = [hole for hole in piece.marks.holes if not hole.takes and not hole.through and not hole.long_mm]
        there = len(plain) * subject.counts[name]
        if plain and there - count in (-1, 1, len(plain)) and count and not _is_row(subject, piece):
            copies = f"{subject.counts[name]} of " if subject.counts[name] > 1 else ""
            what = (
                f'{copies}"{name}" have {count_words(there, "hole")}'
                if copies
                else f'"{name}" has {count_words(there, "hole")}'
            )
            what += f", and {count_words(count, 'hole')} of other parts {'goes' if count == 1 else 'go'} through it"
            answer = "look whether one is missing, or one copy too many is cut; where they serve otherwise there is "
            own = subject.specs.get(name)
            is_copy = there - count == len(plain)
            place = own.cut.place if own and own.cut and is_copy else piece.place
            yield Question(place=place, what=what, answer=f"{answer}nothing to do")


def _is_shut(fold: Fold) -> bool:
    return not fold.is_open or fold.angle_deg >= HALF_ROUND_DEG


def _is_row(subject: Subject, piece: Piece) -> bool:
    strap = subject.parts.straps.get(piece.name)
    return strap is not None and strap.row_holes > 0


@question
def ask_lone_handles(subject: Subject) -> Iterator[Question]:
    """One handle, both ends of it on the front, where the back like that has none; a handle on the back alone is usual."""
    for base in subject.build.pieces:
        twin = subject.parts.pieces.get("back") if base.name == "front" else None
        if twin is None or twin.model != base.model or twin.strap_landings or base.cut != 1:
            continue
        for strap in subject.build.straps:
            ends = {(end.end, end.leads) for end in base.strap_landings if end.strap == strap.name}
            is_handle = is_called(strap, HANDLES)
            if strap.cut == 1 and len(ends) == 2 and is_handle and _is_level(base, strap):
                own = next((one for one in subject.spec.straps if one.name == strap.name), None)
                what = f'both ends of the one "{strap.name}" lie on "{base.name}", and "{twin.name}" has none'
                answer = "write cut = 2; where one panel alone has a handle there is nothing to do"
                place = own.cut.place if own and own.cut else own.place if own else base.place
                yield Question(place=place, what=what, answer=answer)


def _is_level(base: Piece, strap: Strap) -> bool:
    """Whether both ends of a handle stand side by side, and lead the same way."""
    ends = [end for end in base.strap_landings if end.strap == strap.name]
    return len(ends) == 2 and len({end.leads for end in ends}) == 1 and abs(ends[0].at.y - ends[1].at.y) < LEAST_WEB_MM
