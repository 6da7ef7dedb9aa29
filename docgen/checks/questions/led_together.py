"""Ways in which ends of straps lead that do not go together: a strap with holes and the part with its buckle that lead the
same way on one line, a handle that leads to the foot of a wall, where the base is sewn in, and an end beside an edge of
which nothing says which way it leads."""

from collections import Counter
from collections.abc import Iterator
from itertools import product
from typing import Final

from docgen.checks.questions.question import Question, question
from docgen.checks.trade import Subject
from docgen.geometry.outline import ACROSS, SIDES, WHOLE, edge_names, outline_box
from docgen.geometry.vector import cross, subtract
from docgen.problems import line_words
from docgen.resolve import Join, Piece, StrapLanding

ON_LINE_MM: Final = 2.0  # what lies so near lies on one line: our choice
BESIDE: Final = ("left", "right")
AT_EDGE: Final = 0.3  # of its height, from the edge of a wall: our choice
FAR: Final = 2.5  # so many times as far as the edge beside it: our choice
MOST: Final = 40  # of more ends nothing is asked: a stranger's file


@question
def ask_led_one_way(subject: Subject) -> Iterator[Question]:
    """A strap with holes and the part that turns round a buckle, both fast on one piece that lies flat, on one line, and
    led alike; once for a piece."""
    buckles = {item.name for item in subject.build.hardware if item.kind == "buckle"}
    for base in subject.build.pieces if buckles else ():
        ends = base.strap_landings[:MOST] if not base.own_folds else ()  # over a fold both may lead alike, and meet
        holed = [one for one in ends if subject.parts.straps[one.strap].hole_tips_mm and not one.end]
        buckled = [one for one in ends if not buckles.isdisjoint(_rings_of(subject, one))]
        found = ((one, other) for one, other in product(holed, buckled) if _is_one_way(one, other))
        for strap, tab in list(found)[:1]:
            what = f'"{tab.strap}" with the buckle and "{strap.strap}" with the holes{line_words(strap.place.line)} lie on '
            what += f'one line of "{base.name}", and both lead {tab.leads}: they do not come to meet'
            answer = "look at leads of both; where the strap goes round and comes from behind there is nothing to do"
            yield Question(place=tab.place, what=what, answer=answer)


def _rings_of(subject: Subject, landing: StrapLanding) -> tuple[str, ...]:
    """What the far end of a strap is turned round."""
    strap = subject.parts.straps[landing.strap]
    return strap.ends[1 - landing.end].rings if strap.ends[1 - landing.end].shape == "turned" else ()


def _is_one_way(one: StrapLanding, other: StrapLanding) -> bool:
    is_apart = one.strap != other.strap and one.leads == other.leads
    return is_apart and abs(cross(one.way, subtract(other.at, one.at))) < ON_LINE_MM


@question
def ask_unsaid_ways(subject: Subject) -> Iterator[Question]:
    """The only end of a strap on a piece, beside one of its edges, of which nothing says that it leads up, along that, and
    the edge there is far; straps that land elsewhere too are asked about with that."""
    landed = Counter((end.strap, end.end) for base in subject.build.pieces for end in base.strap_landings)
    for base in subject.build.pieces:
        own = subject.specs.get(base.name)
        unsaid = {item.place for item in own.landings if item.strap and item.leads is None} if own else set()
        box = outline_box(base.outline)
        for end in base.strap_landings[:MOST] if unsaid and own and len(base.strap_landings) <= MOST else ():
            strap, off_mm = subject.parts.straps[end.strap], {side: box.off(end.at, side) for side in SIDES}
            near = min(SIDES, key=lambda side: off_mm[side])
            is_lone = strap.cut == landed[end.strap, end.end] == 1 and not landed[end.strap, 1 - end.end]
            is_beside = near in BESIDE and FAR * off_mm[near] < off_mm["top"] and off_mm[near] > strap.width_mm / 2
            if end.place in unsaid and is_lone and is_beside:
                near_words, top = subject.length(off_mm[near]), subject.length(off_mm["top"])
                what = (
                    f'"{end.strap}" lies on "{base.name}" {near_words} from its {near}, and leads up, as nothing else '
                )
                what += f"is said, to the edge {top} off"
                answer = f'write leads = "{near}"; where it leads up there is nothing to do'
                yield Question(place=end.place, what=what, answer=answer)


@question
def ask_led_to_base(subject: Subject) -> Iterator[Question]:
    """Both ends of a handle that lead to the edge of a wall at which a seam closes it with a base, and holes that all lie
    beside that; once for a wall."""
    for seam in subject.build.seams:
        bases = [side.part for side in seam.sides if _is_closed(subject.parts.pieces.get(side.part), side.edges)]
        for side in seam.sides if bases else ():
            join = subject.parts.joins.get(side.part)
            is_wall = join is not None and join.is_ring and len(side.edges) == 1
            strap = _led_to(subject, join, side.edges[0]) if join and is_wall else ""
            if join and is_wall and not strap and _has_holes_at(subject, join, side.edges[0]):
                edge = side.edges[0]
                what = f'the holes of "{side.part}" lie beside its {edge}, where "{seam.name}" sews "{bases[0]}" in'
                answer = (
                    "look at this edge, and from which one they are measured; where it is meant there is nothing to do"
                )
                yield Question(place=seam.place_of(side), what=what, answer=answer)
                break
            if strap:
                what = f'both ends of "{strap}" lead to the {side.edges[0]} of "{side.part}", and "{seam.name}" sews '
                what += f'"{bases[0]}" in there'
                answer = (
                    "look at the edge that is named here, and at leads; where it goes beneath there is nothing to do"
                )
                yield Question(place=seam.place_of(side), what=what, answer=answer)
                break


def _is_closed(piece: Piece | None, edges: tuple[str, ...]) -> bool:
    """Whether a side is all the edge of a piece, as that of a base is."""
    return piece is not None and bool(edges) and (edges == (WHOLE,) or {*edges} == {*edge_names(piece.outline)})


def _has_holes_at(subject: Subject, join: Join, edge: str) -> bool:
    """Whether all holes in the strips of a join lie beside this edge of it, and nothing is sewn to the edge across."""
    strips = subject.parts.strips(join.name)
    boxes = [outline_box(strip.outline) for strip in strips]
    off = [
        box.off(hole.at, edge) < AT_EDGE * box.width
        for strip, box in zip(strips, boxes, strict=True)
        for hole in strip.marks.holes
    ]
    return edge in BESIDE and len(off) > 1 and all(off) and ACROSS[edge] not in subject.edges_sewn(join.name)


def _led_to(subject: Subject, join: Join, edge: str) -> str:
    """The strap of which both ends lie fast on strips of a join, and all of them lead to that edge."""
    ends = [end for strip in subject.parts.strips(join.name) for end in strip.strap_landings]
    for name in dict.fromkeys(end.strap for end in ends):
        own = [end for end in ends if end.strap == name]
        if {end.end for end in own} == {0, 1} and {end.leads for end in own} == {edge}:
            return name
    return ""
