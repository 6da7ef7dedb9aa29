"""What the spec cannot tell, asked of the maker: each once, with what answers it. A question is no fault: nothing is in
its way, and where it stays open the build sheet leaves it to whoever makes the thing."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from typing import Final

from docgen.assemble import (
    FACES_UNTOLD,
    LINE_UNTOLD,
    NO_HOLD,
    NO_HOLE,
    PLACE_UNTOLD,
    SPOT_UNTOLD,
    WAY_UNTOLD,
    Assembled,
    TakenApart,
    folds_either_way,
)
from docgen.checks.asking_agreeing import ask_agreeing
from docgen.checks.asking_alike import ask_alike
from docgen.checks.asking_closing import ask_closing
from docgen.checks.asking_figures import ask_figures
from docgen.checks.asking_held import ask_held
from docgen.checks.asking_hems import ask_hems
from docgen.checks.asking_hung import ask_hung
from docgen.checks.asking_laid import ask_laid
from docgen.checks.asking_laid_over import ask_laid_over
from docgen.checks.asking_measures import ask_measures
from docgen.checks.asking_pieces import ask_pieces
from docgen.checks.asking_rings import ask_rings
from docgen.checks.asking_set import ask_set
from docgen.checks.asking_shapes import ask_shapes
from docgen.checks.asking_sizes import ask_sizes
from docgen.checks.asking_spelling import ask_spelling
from docgen.checks.asking_straps_closing import ask_straps_closing
from docgen.checks.asking_units import ask_units
from docgen.checks.asking_words import ask_words
from docgen.checks.naming import tell_measures
from docgen.checks.question import Question
from docgen.checks.trade.facing import find_other_edge, tell_shown
from docgen.geometry.outline import WHOLE, outline_box
from docgen.problems import Place, make_caution
from docgen.read import Spec, own_words
from docgen.resolve import Parts, Seam, SeamSide, Step, find_parts
from docgen.tables.consumables import is_glue
from docgen.tables.sewing import LONG_UNMATCHED_MM
from docgen.tables.thread import thread_diameter_mm
from docgen.tables.trimmings import TRIMMING_KINDS
from docgen.written.units.telling import format_length, format_pitch, format_short

# What a step begins with, or goes on with, that glues; "glued" and "the glue" speak of what was glued before.
GLUES: Final = re.compile(r"(?:^|[.,;:]\s|\b(?:and|then)\s)\s*(?:glue|cement)\b", re.IGNORECASE)
SEWS: Final = re.compile(r"\b(?:sew|stitch)\b", re.IGNORECASE)
EDGES: Final = {"leather": "bevelled and burnished once they are sewn", "fabric": "sealed with a flame"}
SCREWED: Final = re.compile(r"\b(?:studs?|screws?)\b", re.IGNORECASE)
SCREW_TOLD: Final = re.compile(r"\b(?:screw|post|shank)\b.*\d", re.IGNORECASE)
SEWN_KINDS: Final = ("seams", "joins", "straps", "dividers", "landings")
# So many thread thicknesses long is a stitch of light thread; of linen by hand, which is bought by its thickness for the
# iron, 5 to 7 are usual: common practice, no published source.
LIGHT_FROM: Final = {"machine": 13.0, "hand": 12.5}
LIGHT_LINEN: Final = 9.0
ENDS_IN_WIDTHS: Final = 3.0  # so many widths from its end a strap is held by that: our choice
FRAYING: Final = ("webbing", "binding", "elastic")  # the ends of other goods are told by table


def ask_maker(spec: Spec, builds: Sequence[Assembled], apart: Sequence[TakenApart] = ()) -> tuple[Question, ...]:
    """What is asked about any of the variants, each question once, in the order of the file; of a part in a file of its
    own by the names that stand there. `apart` is what can be drawn of each, where that is worked out already."""
    drawn = apart or [TakenApart(build) for build in builds]
    found = dict.fromkeys(_own(question, spec) for one in drawn for question in _ask_of(spec, one))
    return tuple(sorted(found, key=lambda question: (question.place.path, question.place.line)))


def _own(question: Question, spec: Spec) -> Question:
    measures = tell_measures(question.place, spec)
    what = f"{question.what}; {measures}" if measures else question.what
    told = own_words(make_caution(question.place, what, question.answer), spec)
    return Question(place=told.place, what=told.what, answer=told.mend)


def _ask_of(spec: Spec, apart: TakenApart) -> Iterator[Question]:
    build, parts = apart.build, find_parts(apart.build)
    yield from ask_shapes(spec, build, parts)
    yield from ask_laid(spec, build, parts)
    yield from ask_figures(spec, build, parts)
    yield from ask_units(spec, build)
    yield from ask_set(spec, build, parts)
    yield from ask_rings(spec, build, parts)
    yield from ask_hems(build, parts)
    yield from ask_held(spec, build, parts)
    yield from ask_measures(spec, build, parts)
    yield from ask_closing(spec, build, parts)
    yield from ask_alike(spec, build, parts)
    yield from ask_agreeing(spec, build)
    yield from ask_laid_over(spec, build, parts)
    yield from ask_words(spec, build)
    yield from ask_spelling(spec)
    yield from ask_sizes(spec, build)
    yield from ask_pieces(spec, build)
    yield from ask_straps_closing(build, parts)
    yield from ask_hung(build, parts)
    yield from _ask_places(spec, apart, parts)
    yield from _ask_folds(build)
    yield from _ask_riveted(build, parts)
    yield from _ask_sides(build, parts)
    yield from _ask_fittings(build)
    yield from _ask_glue(build)
    yield from _ask_work(build)
    yield from _ask_finish(build, spec)
    yield from _ask_threads(build, spec)
    yield from _ask_held(build)
    yield from _ask_notches(build, parts)
    yield from _ask_rows(build, parts)
    yield from _ask_goods(build)
    yield from _ask_straps(build, parts)


def _ask_places(spec: Spec, apart: TakenApart, parts: Parts) -> Iterator[Question]:
    """Which side of a part faces out, and where a part lies; once for a part, and of two that face alike for one, unless
    both say it: then a check speaks of their edges. So it does of what stands by itself and has others lying on it, as a
    loose lid does."""
    build, shown = apart.build, tell_shown(spec)
    hosts = {lies.host.part for lies in build.assembly.lies}
    told: set[str] = set()
    mirrors = {piece.name: piece.mirror.place for piece in spec.pieces if piece.mirror}
    for copy, why in apart.withheld.items():
        name, placed = copy.part, build.space.part(copy)
        host = placed.host.part if placed and placed.host else ""
        if name in told:
            continue
        if why == FACES_UNTOLD and placed and placed.how == "back to back" and host:
            told |= {name, host}
            if shown >= {name, host}:
                continue
            what = f'nothing says which side of "{name}" faces out: it is sewn to "{host}", and both face one way'
            answer = _answer_uneven(parts, name, host)
            place = mirrors.get(name) or _place_of(parts, name)
            if (other := find_other_edge(build, name, host)) is not None:
                seam, side, edges = other
                place, third = seam.place_of(side), {"left", "right"} - {*side.edges}
                answer = (
                    f'where the grain side of both faces out, write {edges} for "{name}" in the seam "{seam.name}" (left '
                    'of the one meets right of the other); else shows = "flesh" for the one whose grain side looks inward'
                )
                if len(side.edges) > 1:
                    answer = f"name {third.pop()} of both too where that is to be closed; {answer}"
            yield Question(place=place, what=what, answer=answer)
        elif why == PLACE_UNTOLD and name in hosts:
            continue
        elif why in (LINE_UNTOLD, PLACE_UNTOLD, SPOT_UNTOLD) and name in parts.pieces and not parts.pieces[name].lid_of:
            told.add(name)
            yield _ask_where(parts, name, host, why)


def _answer_uneven(parts: Parts, name: str, host: str) -> str:
    """What lets two parts lie flesh to flesh whose outlines fit on each other one way up alone."""
    like = next((one for one in (name, host) if one in parts.pieces and parts.pieces[one].model != one), "")
    turned = (
        f'write mirror = true for "{like}", or take it out' if like else f'draw "{name}" turned over, left for right'
    )
    return (
        f"{turned}, where the grain side of both is seen: as they are cut they fit with the grain side of one on the flesh "
        f'side of the other; where that is meant, write shows = "flesh" for the one whose flesh side is seen'
    )


def _ask_folds(build: Assembled) -> Iterator[Question]:
    """Which side lies inside a closed fold that may be meant either way; once for a part."""
    found = {
        placed.copy.part: next(fold for fold in placed.item.folds if not fold.is_open and not fold.inside)
        for placed in build.space.parts
        if folds_either_way(build, placed)
    }
    for name, fold in found.items():
        what = f'nothing says which side of "{name}" lies inside its fold: it may go either way there'
        yield Question(place=fold.place, what=what, answer='write inside = "grain" or inside = "flesh" in the fold')


def _ask_riveted(build: Assembled, parts: Parts) -> Iterator[Question]:
    """Where a piece is riveted to another that has no hole for it."""
    unheld = dict.fromkeys(one.copy.part for one in build.space.unplaced if one.why == NO_HOLE)
    for name in (name for name in unheld if name in parts.pieces):
        hole = next(hole for hole in parts.pieces[name].marks.holes if hole.takes and hole.through)
        on = " and ".join(f'"{one}"' for one in hole.through)
        bored = next((strip.name for strip in parts.strips(hole.through[0])), hole.through[0])
        what = f'nothing says where on {on} "{name}" is riveted: the template there has no hole for it'
        punch = format_short(hole.diameter_mm, build.show)
        answer = f'write in holes of "{bored}", without takes: {{ at = ..., punch = "{punch}", through = ["{name}"] }}'
        yield Question(place=_place_of(parts, name), what=what, answer=answer)


def _ask_sides(build: Assembled, parts: Parts) -> Iterator[Question]:
    """On which side of a piece a strap lies that is riveted to it, and has no landing there, or which way it leads."""
    loose = {one.copy.part: one.why for one in build.space.unplaced if one.why in (NO_HOLD, WAY_UNTOLD)}
    found: dict[tuple[str, str], None] = {}
    for fit in build.assembly.fastened:
        if fit.part in parts.pieces and not fit.around:
            landed = {landing.strap for landing in parts.pieces[fit.part].strap_landings}
            straps = [name for name in fit.stack.parts if name in parts.straps and name in loose and name not in landed]
            found.update({(name, fit.part): None for name in straps if _is_held_by_end(parts, name, fit.part)})
    for name, host in found:
        what = f'nothing says on which side of "{host}" "{name}" lies where it is riveted'
        if loose[name] == WAY_UNTOLD:
            what = f'nothing says which way "{name}" leads from its holes on "{host}": they fit both ways'
        answer = f'write in landings of "{host}": {{ strap = "{name}", at = ..., leads = ... }}; it lies outside then'
        yield Question(place=_place_of(parts, name), what=what, answer=answer)


def _is_held_by_end(parts: Parts, strap: str, host: str) -> bool:
    """Whether the holes for that piece lie near open ends of a strap: what lies across has no key for it."""
    piece, title = parts.straps[strap].piece, parts.pieces[host].title
    box = outline_box(piece.outline)
    near_mm = ENDS_IN_WIDTHS * box.width
    holes = [hole for hole in piece.marks.holes if title in hole.meets]
    is_turned = any(end.shape == "turned" for end in parts.straps[strap].ends)
    return not is_turned and all(min(hole.at.y - box.bottom, box.top - hole.at.y) <= near_mm for hole in holes)


def _ask_fittings(build: Assembled) -> Iterator[Question]:
    """Ends of straps that are turned and sewn round what a later step has in hand."""
    for strap in build.straps:
        made = next((k for k, step in enumerate(build.steps) if strap.name in step.straps), len(build.steps))
        for ring in dict.fromkeys(ring for end in strap.ends if not end.takes for ring in end.rings):
            named = [k for k, step in enumerate(build.steps) if ring in step.hardware]
            if named and min(named) > made:
                here, there = made + 1, min(named) + 1
                what = (
                    f'step {here} turns and sews the end of "{strap.name}" round "{ring}", which step {there} has first'
                )
                answer = f'name "{ring}" in hardware of step {here}, or "{strap.name}" in straps of step {there}'
                yield Question(place=build.steps[made].place, what=what, answer=answer)


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


def _ask_work(build: Assembled) -> Iterator[Question]:
    """Steps that sew, and of which nothing tells the stitch."""
    sewn = {event.step for event in build.assembly.events if event.kind in SEWN_KINDS}
    for number, step in enumerate(build.steps):
        if (
            SEWS.search(step.do)
            and number not in sewn
            and not any(SEWS.search(line) for line in (*step.first, *step.last))
        ):
            what = f"step {number + 1} sews, and nothing says with which stitch, where and how often"
            answer = 'name the seam, strap or join in it, or write it line by line: last = ["Sew ...", "..."]'
            yield Question(place=step.place, what=what, answer=answer)


def _ask_finish(build: Assembled, spec: Spec) -> Iterator[Question]:
    """What is done with cut edges and with cut ends, and which colour the thread has."""
    shown = {piece.material for piece in build.cut} | {strap.material for strap in build.straps}
    kinds = {item.name: item.kind for item in build.materials if item.name in shown}
    for goods in spec.materials:
        usual = EDGES.get(kinds.get(goods.name, ""))
        if usual is not None and goods.edges is None:
            what = f'nothing says what is done with the cut edges of "{goods.name}"'
            answer = f'write edges = "{usual}", or edges = "left as cut", in its table'
            yield Question(place=goods.place, what=what, answer=answer)
    used = {seam.stitch for seam in build.seams} | {run.stitch for run in build.assembly.runs}
    for stitch in spec.stitches:
        if stitch.name in used and stitch.colour is None:
            what = f'nothing says which colour the thread of the stitch "{stitch.name}" has'
            yield Question(place=stitch.place, what=what, answer='write colour = "natural", or another, in its table')
    for fitting in build.hardware:
        is_screwed = fitting.kind == "other" and SCREWED.search(fitting.what)
        if is_screwed and not fitting.posts_mm and not SCREW_TOLD.search(fitting.what):
            what = f'nothing says how long the screw of "{fitting.name}" is ({fitting.what})'
            answer = f'write it in what, for example "{fitting.what}, screw 4 mm long"'
            yield Question(place=fitting.place, what=what, answer=answer)
    for item in build.trimmings:
        is_cut = any(not (cut.seams or cut.joins or cut.on) for cut in item.cuts)
        if item.kind in FRAYING and is_cut and not item.finish:
            what = f'nothing says what is done with the cut ends of "{item.name}" ({item.what})'
            answer = 'write finish = "turned under 1/2 in twice and sewn across", or another, in its table'
            yield Question(place=item.place, what=what, answer=answer)


def _ask_threads(build: Assembled, spec: Spec) -> Iterator[Question]:
    """Thread that is light for its stitch, and still holds."""
    stitches = {stitch.name: stitch for stitch in build.stitches}
    for own in spec.stitches:
        stitch = stitches.get(own.name)
        if stitch is None or own.thread is None:
            continue
        times = stitch.pitch_mm / thread_diameter_mm(stitch.thread_tex, stitch.thread_fibre)
        is_linen = stitch.by == "hand" and stitch.thread_fibre == "linen"
        if times > (LIGHT_LINEN if is_linen else LIGHT_FROM[stitch.by]):
            pitch = format_pitch(stitch.pitch_mm)
            what = f"{stitch.thread_words} is light for a stitch of {pitch}, {times:.0f} times as long as it is thick"
            answer = "look at both figures; where a fine thread is meant there is nothing to do"
            yield Question(place=own.thread.place, what=what, answer=answer)


def _ask_held(build: Assembled) -> Iterator[Question]:
    """What is sewn flat on the middle of a piece, where clips do not reach, by a step that names no glue or tape."""
    for number, step in enumerate(build.steps, 1):
        if any(is_glue(tool) for tool in step.tools):
            continue
        for seam in (seam for seam in build.seams if seam.name in step.seams):
            own, flat = ([one for one in seam.sides if bool(one.edges) is has] for has in (True, False))
            if len(own) == 1 and flat and flat[0].part != own[0].part and not step.first:
                what = f'step {number} does not say how "{own[0].part}" is held on "{flat[0].part}" until it is sewn'
                answer = 'name "double-sided tape" or "contact cement" in tools of the step: clips do not reach there'
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
        hemmed = piece.hemmed if piece else frozenset()
        if len(seam.sides) == 1 and not seam.trimmings and hemmed.isdisjoint(side.edges):
            what = f'the seam "{seam.name}" goes through "{side.part}" alone: is it a row for its looks?'
            answer = "leave it where it is; else name in meet what it is sewn to"
            yield Question(place=seam.place_of(side), what=what, answer=answer)


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
