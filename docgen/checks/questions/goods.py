"""What the tables of goods leave out: how edges and ends are finished, colours of thread, screws, and what holds goods by
length."""

import re
from collections.abc import Iterator
from typing import Final

from docgen.checks.questions.question import Question, question
from docgen.checks.trade import Subject
from docgen.resolve import Step
from docgen.tables.consumables import is_glue
from docgen.tables.trimmings import TRIMMING_KINDS
from docgen.tables.usual import NARROWEST_ROLL_MM

EDGES: Final = {"leather": "bevelled and burnished once they are sewn", "fabric": "pinked"}
SEALED: Final = "sealed with a flame"
# What melts, and so may be sealed; cloth of plant or animal fibres chars and burns: common practice, no published source.
MELTS: Final = r"(?i)\b(?:nylon|polyamide|polyester|polypropylene|acrylic|synthetic)\b"
MIXED: Final = r"(?i)\b(?:cotton|linen|wool|silk|canvas|viscose|denim)\b"
SCREWED: Final = r"(?i)\b(?:studs?|screws?)\b"
SCREW_TOLD: Final = r"(?i)\b(?:screw|post|shank)\b.*\d"
FRAYING: Final = ("webbing", "binding", "elastic")  # the ends of other goods are told by table


@question
def ask_finish(subject: Subject) -> Iterator[Question]:
    """What is done with cut edges and with cut ends, and which colour the thread has."""
    shown = {piece.material for piece in subject.build.cut} | {strap.material for strap in subject.build.straps}
    kinds = {item.name: item.kind for item in subject.build.materials if item.name in shown}
    for goods in subject.spec.materials:
        usual = EDGES.get(kinds.get(goods.name, ""))
        if usual is not None and goods.edges is None:
            what = f'nothing says what is done with the cut edges of "{goods.name}"'
            words = f"{goods.name} {goods.title.value if goods.title else ''}".replace("-", " ")
            if kinds[goods.name] == "fabric" and re.search(MELTS, words) and not re.search(MIXED, words):
                usual = SEALED
            answer = f'write edges = "{usual}", or edges = "left as cut", in its table'
            yield Question(place=goods.place, what=what, answer=answer)
    used = {seam.stitch for seam in subject.build.seams} | {run.stitch for run in subject.build.assembly.runs}
    for stitch in subject.spec.stitches:
        if stitch.name in used and stitch.colour is None:
            what = f'nothing says which colour the thread of the stitch "{stitch.name}" has'
            yield Question(place=stitch.place, what=what, answer='write colour = "natural", or another, in its table')
    for fitting in subject.build.hardware:
        is_screwed = fitting.kind == "other" and re.search(SCREWED, fitting.what)
        if is_screwed and not fitting.posts_mm and not re.search(SCREW_TOLD, fitting.what):
            what = f'nothing says how long the screw of "{fitting.name}" is ({fitting.what})'
            answer = f'write it in what, for example "{fitting.what}, screw 4 mm long"'
            yield Question(place=fitting.place, what=what, answer=answer)
    for item in subject.build.trimmings:
        is_cut = any(not (cut.seams or cut.joins or cut.on) for cut in item.cuts)
        if item.kind in FRAYING and is_cut and not item.finish:
            what = f'nothing says what is done with the cut ends of "{item.name}" ({item.what})'
            answer = 'write finish = "turned under 1/2 in twice and sewn across", or another, in its table'
            yield Question(place=item.place, what=what, answer=answer)


@question
def ask_rolls(subject: Subject) -> Iterator[Question]:
    """Cloth that is narrower than it comes off the roll."""
    places = {item.name: item.width.place for item in subject.spec.materials if item.width}
    for goods in subject.build.materials:
        if goods.kind == "fabric" and goods.name in places and 0 < goods.roll_width_mm < NARROWEST_ROLL_MM:
            wide, least = map(subject.length, (goods.roll_width_mm, NARROWEST_ROLL_MM))
            what = f'"{goods.name}" is {wide} wide here; cloth mostly comes wider than {least}'
            answer = "look at the figure and its unit; where it is a ribbon or a rest there is nothing to do"
            yield Question(place=places[goods.name], what=what, answer=answer)


@question
def ask_goods(subject: Subject) -> Iterator[Question]:
    """Goods by length that are sewn on or in, of which no seam, edge, piece or step says what holds them."""
    fastening = {name for step in subject.build.steps if _fastens(step) for name in step.trimmings}
    for item in subject.build.trimmings:
        is_held = any(cut.seams or cut.joins or cut.on or cut.where for cut in item.cuts)
        if TRIMMING_KINDS[item.kind].is_sewn and not is_held and item.name not in fastening:
            answer = (
                f'name it in a seam, meet = [..., "{item.name}: left"], in its own along, in laid of a piece, or in the '
                "step that sews or rivets it"
            )
            yield Question(place=item.place, what=f'nothing says what holds "{item.name}" ({item.what})', answer=answer)


def _fastens(step: Step) -> bool:
    return bool(step.seams or step.joins or step.hardware) or any(is_glue(tool) for tool in step.tools)
