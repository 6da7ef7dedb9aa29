"""Words that say which edge is sewn, and steps in an order that what they lay does not bear: a seam that is called by an
edge it does not sew, a hem of an edge that is not turned, a seam said to be turned, and parts that come in hand when
what should hold them is sewn."""

import re
from collections.abc import Iterator
from typing import Final

from docgen.checks.questions.places import is_on
from docgen.checks.questions.question import Question, question
from docgen.checks.trade import Subject
from docgen.geometry.outline import SIDES, WHOLE, outline_box
from docgen.geometry.path import path_box
from docgen.problems import Place
from docgen.resolve import Build, Landing, Parts, Piece, Seam, SeamSide, Step, by_name

WORD_RE: Final = r"[a-z0-9]+"
EDGE_WORDS: Final = {
    "bottom": "bottom", "foot": "bottom", "lower": "bottom", "top": "top", "upper": "top", "left": "left",
    "right": "right",
}  # fmt: skip
SIDE_RE: Final = r"\b(foot|(?:bottom|lower|top|upper|left|right)(?= (?:edges?|ends?|sides?|of)\b|$))"
INSIDE_RE: Final = re.compile(r"\b([a-z0-9-]+)(?: on)? (?:on |to )?the (?:inside|flesh side) of (?:the )?([a-z0-9-]+)")
HEM_RE: Final = re.compile(r"\bhems?\b", re.IGNORECASE)
TURNS_RE: Final = re.compile(
    r"\b(?:and|then) turn\b(?! (?:the|its) (?:end|edge))|\bturn (?:it|all|the bag|the pouch|right side)\b"
    r"|\binside out\b|\b(?:face|grain) to (?:face|grain)\b",
    re.IGNORECASE,
)
ON_TOP_RE: Final = r"([a-z0-9 -]+) (?:on top|uppermost|over both)\b"
LAYS_RE: Final = re.compile(r"\b(?:glue|cement|stick|lay|tape|sew|stitch|rivet|fasten)\b", re.IGNORECASE)
GLUES_RE: Final = r"(?i)\b(?:glue|cement|stick|lay)\b"
ALL_ROUND: Final = 3  # edges of a part by which it is held for good
MOST: Final = 100  # of more seams or landings nothing is asked: a stranger's file
LOOK: Final = "look at both; where they are meant so there is nothing to do"


@question
def ask_seam_words(subject: Subject) -> Iterator[Question]:
    """Seams whose words speak of another edge than they sew, or of a hem."""
    hems = {item.place.line for piece in subject.spec.pieces for item in piece.hems}
    is_told = any(one.check == "hem-not-there" and one.place.line in hems for one in subject.build.cautions)
    for seam in subject.build.seams:
        yield from _ask_edge_words(seam, subject.parts)
        yield from () if is_told else _ask_hem_words(seam, subject.parts)


def _ask_edge_words(seam: Seam, parts: Parts) -> Iterator[Question]:
    """Seams that sew one edge of a part flat on another, by another edge than their words say."""
    own = [side for side in seam.sides if side.edges]
    piece = parts.pieces.get(own[0].part) if len(own) == 1 < len(seam.sides) else None
    if piece is None or piece.shape != "rectangle" or len(own[0].edges) != 1 or own[0].edges[0] not in SIDES:
        return
    known = {word for side in seam.sides for word in _words(side.part, parts)}
    said = {EDGE_WORDS[word] for word in re.findall(SIDE_RE, seam.title.lower()) if word not in known}
    if len(said) == 1 and own[0].edges[0] not in said:
        what = f'"{seam.title}" sews the {own[0].edges[0]} of "{piece.name}", and says {"".join(said)}'
        yield Question(place=seam.place_of(own[0]), what=what, answer=LOOK)


def _words(part: str, parts: Parts) -> list[str]:
    piece = parts.pieces.get(part)
    return re.findall(WORD_RE, f"{part} {piece.title if piece else ''}".lower())


@question
def ask_joint_words(subject: Subject) -> Iterator[Question]:
    """Joints of which the words of their step say that a strip lies on top, and at one of which it lies beneath."""
    for join in subject.build.joins:
        under = {other for one, other in join.neighbours if one != other and not join.lies_under(one, other)}
        under |= {one for one, other in join.neighbours if join.lies_under(one, other)}
        called = {name: {*_words(name, subject.parts)} for name in join.pieces}
        for step in subject.build.steps if under else ():
            clauses = re.findall(ON_TOP_RE, step.do.lower()) if join.name in step.joins else []
            said = {word for clause in clauses for word in re.findall(WORD_RE, clause)}
            for name in (name for name in join.pieces if name in under):
                others = {word for one, words in called.items() if one != name for word in words}
                if said.intersection(called[name] - others):
                    what = f'a step says that "{name}" lies on top, and at a joint of "{join.name}" it lies beneath'
                    answer = f'write over = ["{name}"] in [joins.{join.name}]'
                    yield Question(place=step.place, what=what, answer=answer)
                    break


def _ask_hem_words(seam: Seam, parts: Parts) -> Iterator[Question]:
    """Seams that are called a hem, none of whose edges is turned over, where one of their parts has such an edge."""
    if not HEM_RE.search(f"{seam.name.replace('-', ' ')} {seam.title}"):
        return
    sides = [(side, parts.pieces[side.part]) for side in seam.sides if side.part in parts.pieces]
    own = [(side, piece) for side, piece in sides if side.edges]
    is_hemmed = any(piece.hemmed & {*side.edges, "all"} for side, piece in own)
    hemmed = next((piece for _, piece in sides if piece.hems), None)
    if own and hemmed is not None and not is_hemmed:
        what = f'"{seam.title}" sews no edge that is turned over, and "{hemmed.name}" has one'
        yield Question(place=seam.place_of(own[0][0]), what=what, answer=LOOK)


@question
def ask_inside_words(subject: Subject) -> Iterator[Question]:
    """Pieces that a step lays on the inside of what they land on, and that are written to lie outside."""
    landed = {
        item.piece.value: (own.name, item)
        for own in subject.spec.pieces
        for item in own.landings
        if item.piece and item.at and not (item.inside and item.inside.value)
    }
    linings = {piece.name for piece in subject.build.pieces if piece.lines}
    for step in subject.build.steps:
        for part, host in INSIDE_RE.findall(step.do.lower()):
            found = next((name for name in (part, part.removesuffix("s")) if name in landed), "")
            base, item = landed.get(found, ("", None))
            if item and item.at and host == base and base not in linings:
                place = item.inside.place if item.inside else item.at.place
                what = (
                    f'the step in line {step.place.line} lays "{found}" on the inside of "{base}", and it lies outside'
                )
                answer = "write inside = true; where it lies on the grain side there is nothing to do"
                yield Question(place=place, what=what, answer=answer)


@question
def ask_turned(subject: Subject) -> Iterator[Question]:
    """Seams of a step that says what it sews is turned then, of which one is not written so; or the one of all seams
    between parts that is not, where the others of its step are."""
    seams = by_name(subject.build.seams)
    flags = {seam.name: seam.turned for seam in subject.spec.seams if seam.turned}
    for step in subject.build.steps:
        sewn = [seams[name] for name in step.seams if name in seams]
        open_ones = [seam for seam in sewn if not seam.is_turned and _is_between_edges(seam)]
        is_said = any(TURNS_RE.search(line) for line in (step.do, *step.first, *step.last))
        for seam in open_ones:
            flag = flags.get(seam.name)
            if flag and (is_said or len(open_ones) == 1 < len(sewn)):
                what = f'the step in line {step.place.line} turns what it sews, and "{seam.name}" is not turned'
                answer = "write turned = true; where its edges stay outside there is nothing to do"
                yield Question(place=flag.place, what=what, answer=answer)


def _is_between_edges(seam: Seam) -> bool:
    return len({side.part for side in seam.sides if side.edges}) > 1


@question
def ask_late(subject: Subject) -> Iterator[Question]:
    """Parts that come in hand first in a step behind the one that sews round what they lie on, or that sews them."""
    build = subject.build
    if max(len(build.seams), sum(len(base.marks.landings) for base in build.pieces)) > MOST:
        return
    first: dict[str, Step] = {}
    for step in build.steps:
        is_laid = any(LAYS_RE.search(line) for line in (step.do, *step.first, *step.last))
        sewn = [part for seam in build.seams if seam.name in step.seams for part in _parts(seam)]
        for name in (*(step.pieces if is_laid else ()), *sewn):
            first.setdefault(name, step)
    sewn_in = {name: step for step in reversed(build.steps) for name in step.seams}
    at = {step.place: number for number, step in enumerate(build.steps)}
    asked: set[Step] = set()
    for base in build.pieces:
        for landing in base.marks.landings:
            late = first.get(landing.piece)
            for seam in build.seams if late else ():
                before = sewn_in.get(seam.name)
                is_before = before is not None and late is not None and at[before.place] < at[late.place]
                if before and late and is_before and before not in asked and _goes_round(seam, base, landing):
                    asked.add(before)
                    what = (
                        f'this step sews "{base.name}" round, and "{landing.piece}", which lies there, comes in hand '
                    )
                    answer = "put that step before this one; where it is held otherwise there is nothing to do"
                    yield Question(place=before.place, what=f"{what}in line {late.place.line}", answer=answer)
    yield from _ask_glued(build, sewn_in, at, asked)


@question
def ask_late_dividers(subject: Subject) -> Iterator[Question]:
    """Dividing lines into a part that an earlier step has sewn round to another one: they go through that too."""
    build = subject.build
    sewn_in = {name: number for number, step in reversed([*enumerate(build.steps)]) for name in step.seams}
    done = {event.name: event.step for event in build.assembly.events if event.kind == "dividers"}
    for piece in build.pieces if build.steps else ():
        hosts = {line.on for line in piece.dividers if line.on}
        for seam in build.seams if hosts and piece.name in done else ():
            own = [side for side in seam.sides if side.part in hosts and len(_edges(side)) >= ALL_ROUND]
            others = [part for part in _parts(seam) if part not in hosts | {piece.name}]
            before = sewn_in.get(seam.name, len(build.steps))
            if own and others and before < done[piece.name] < len(build.steps):
                late, step = build.steps[done[piece.name]], build.steps[before]
                what = f'this step sews "{own[0].part}" to "{others[0]}", and the one in line {late.place.line} the '
                what += f'lines of "{piece.name}", through both then'
                answer = "put that step before this one; where the lines are to go through there is nothing to do"
                yield Question(place=step.place, what=what, answer=answer)
                break


def _parts(seam: Seam) -> list[str]:
    return [side.part for side in seam.sides]


def _goes_round(seam: Seam, base: Piece, landing: Landing) -> bool:
    """Whether a seam sews to another part edges of a piece along which this one lies, and does not sew this one."""
    names = {side.part for side in seam.sides if side.edges}
    own = {edge for side in seam.sides if side.part == base.name for edge in _edges(side)}
    if len(names) < 2 or landing.piece in names or len(own) < ALL_ROUND:
        return False
    lies, around = path_box(landing.outline), outline_box(base.outline)
    return sum(is_on(lies, around, edge) for edge in own & {*SIDES}) > 1


def _edges(side: SeamSide) -> tuple[str, ...]:
    return SIDES if side.edges == (WHOLE,) else side.edges


def _ask_glued(build: Build, sewn_in: dict[str, Step], at: dict[Place, int], asked: set[Step]) -> Iterator[Question]:
    """Linings that a step glues or lays in, behind the one that sews them round."""
    listed: dict[str, Step] = {}
    for step in build.steps:
        for name in step.pieces:
            listed.setdefault(name, step)
    linings = {piece.name for piece in build.pieces if piece.lines}
    for seam in build.seams:
        before = sewn_in.get(seam.name)
        for side in seam.sides if before else ():
            late = listed.get(side.part)
            is_lining = side.part in linings and len(_edges(side)) >= ALL_ROUND and len({*_parts(seam)}) > 1
            is_late = late is not None and before is not None and at[late.place] > at[before.place]
            if before and late and is_lining and is_late and before not in asked and re.search(GLUES_RE, late.do):
                asked.add(before)
                what = f'this step sews "{side.part}", which the step in line {late.place.line} is to lay in'
                answer = "put that step before this one; where it is laid in before there is nothing to do"
                yield Question(place=before.place, what=what, answer=answer)
