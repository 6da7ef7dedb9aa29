"""Goods that hardly suit what is made of them, asked of the maker: a welt thinner than what it parts, a loop of board, a
strap of cloth, one ring for two straps."""

from collections.abc import Iterator
from typing import Final

from docgen.checks.called import is_called
from docgen.checks.questions.question import Question, question
from docgen.checks.trade import Subject

CORDS: Final = ("piping-cord", "cord")
WELTS: Final = ("welt", "filler", "spacer")
THIN_WELT: Final = 0.6  # so much of the leather beside it a welt is thick at least: our choice
STIFF: Final = ("board", "foam")
LEAST_HELD_MM: Final = 6.0  # hardly a row fits on less: our choice
MOST: Final = 200


@question
def ask_thin_welts(subject: Subject) -> Iterator[Question]:
    """Welts by their word that are much thinner than both parts between which they are sewn; what goes round a cord is
    thin."""
    pieces = subject.parts.pieces
    cords = {item.name for item in subject.build.trimmings if item.kind in CORDS}
    for seam in subject.build.seams[:MOST]:
        if any(use.name in cords for use in seam.trimmings):
            continue
        sewn = [pieces[side.part] for side in seam.sides if side.edges and side.part in pieces]
        for welt in dict.fromkeys(sewn):
            others = [subject.parts.full_mm(piece) for piece in sewn if piece is not welt and not piece.lines]
            own = subject.specs.get(welt.name)
            is_welt = is_called(welt, WELTS)
            welt_mm = subject.parts.full_mm(welt)
            if is_welt and own and own.of and others and welt_mm < THIN_WELT * min(others):
                thick, beside = (subject.length(mm) for mm in (welt_mm, min(others)))
                what = f'"{welt.name}" is {thick} thick, and lies between parts of {beside}'
                answer = "look at its material; where it is to be so thin there is nothing to do"
                yield Question(place=own.of.place, what=what, answer=answer)
                return


@question
def ask_stiff_parts(subject: Subject) -> Iterator[Question]:
    """Pieces of board or foam that are folded shut and sewn, and straps of cloth, board or foam that are no webbing."""
    kinds = {item.name: item.kind for item in subject.build.materials}
    sewn = {side.part for seam in subject.build.seams for side in seam.sides if side.edges}
    for piece in subject.build.pieces:
        own = subject.specs.get(piece.name)
        is_folded = any(not fold.is_open and not fold.of_hem for fold in piece.marks.folds)
        if own and own.of and kinds.get(piece.material) in STIFF and is_folded and piece.name in sewn:
            what = f'"{piece.name}" is of {kinds[piece.material]}, and is folded shut and sewn'
            answer = "look at its material; where it is meant so there is nothing to do"
            yield Question(place=own.of.place, what=what, answer=answer)
    places = {one.name: one.of.place for one in subject.spec.straps if one.of}
    straps = subject.build.straps
    odd = [
        one for one in straps if kinds.get(one.material) not in ("leather", None) and one.lining in ("", one.material)
    ]
    others = {piece.material for piece in subject.build.pieces}
    for one in odd if len(odd) < len(straps) or others - {it.material for it in odd} else ():
        if one.name in places:
            what = f'the strap "{one.name}" is of {kinds[one.material]}'
            answer = "look at its material; where it is to be of that there is nothing to do"
            yield Question(place=places[one.name], what=what, answer=answer)


@question
def ask_named_goods(subject: Subject) -> Iterator[Question]:
    """Pieces that have foam or board in their name, and are of something else, where there is such a material."""
    kinds = {item.name: item.kind for item in subject.build.materials}
    there = {*kinds.values()} & {*STIFF}
    for own in subject.spec.pieces:
        kind = kinds.get(own.of.value, "") if own.of else ""
        named = sorted(there & {*own.name.split("-")})
        if own.of and kind and named and kind not in STIFF:
            what = f'"{own.name}" is of "{own.of.value}", which is {kind}, and there is {named[0]} as well'
            answer = "look at its material; where it only lies on that there is nothing to do"
            yield Question(place=own.of.place, what=what, answer=answer)


@question
def ask_shared_rings(subject: Subject) -> Iterator[Question]:
    """Rings of which half as many are bought as copies of one strap end in them, each with one end."""
    counts = {item.name: item.count for item in subject.spec.hardware}
    ends: dict[str, list[tuple[str, int]]] = {}
    for strap in subject.build.straps:
        for end in strap.ends:
            for ring in end.rings:
                ends.setdefault(ring, []).append((strap.name, strap.cut))
    folded = {fold.around for piece in subject.build.pieces for fold in piece.marks.folds}
    for item in subject.build.hardware:
        (name, cut), *more = ends.get(item.name, [("", 0)])
        count = counts.get(item.name)
        if count and not more and item.name not in folded and cut > 1 and item.count * 2 == cut:
            what = f'{cut} of "{name}" are turned round "{item.name}", and {item.count} is bought'
            answer = f"write count = {cut}; where two of them hang in one there is nothing to do"
            yield Question(place=count.place, what=what, answer=answer)


@question
def ask_short_holds(subject: Subject) -> Iterator[Question]:
    """Ends of straps that are held over less than a rivet or a row needs, where the other end or its like is over more."""
    for base in subject.build.pieces:
        longest_mm = max((end.over_mm for end in base.strap_landings), default=0.0)
        for end in base.strap_landings[:MOST]:
            if 0 < end.over_mm < LEAST_HELD_MM < longest_mm:
                over, most = (subject.length(mm) for mm in (end.over_mm, longest_mm))
                what = f'"{end.strap}" lies fast on "{base.name}" over {over}, and another end there over {most}'
                answer = "look at over; where it is held on so little there is nothing to do"
                yield Question(place=end.place, what=what, answer=answer)
