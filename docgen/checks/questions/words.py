"""Words and lists of one entry that do not agree: steps that speak of another piece than they list, of another number,
or list nothing; seams called by a piece that is not in them; and goods that are told by a width which is not said, or by
a size of paper that they have not."""

import re
from collections import Counter
from collections.abc import Iterator, Set
from typing import Final

from docgen.checks.questions.question import WORD_RE, Question, question, speak_by_names
from docgen.checks.questions.steps import SEWS
from docgen.checks.trade import Subject
from docgen.problems import name_words
from docgen.read import StepSpec, Value
from docgen.resolve import Seam
from docgen.tables.paper import HELD_SHEETS_MM
from docgen.tables.trimmings import TRIMMING_KINDS

ANY_PART: Final = frozenset(
    {"side", "end", "edge", "top", "foot", "left", "right", "middle"}
)  # words for parts of a part
NUMBERS: Final = {"both": 2, "two": 2, "three": 3, "four": 4, "five": 5, "six": 6}
NUMBER_RE: Final = re.compile(rf"\b({'|'.join(NUMBERS)}) (?:of the )?([a-z0-9-]+)", re.IGNORECASE)
FACES: Final = frozenset({"left", "right", "l", "r", "front", "back"})
SEWN_TO: Final = re.compile(r"\bsew (?:the |each |both |every )?([a-z0-9-]+) (?:on )?to (?:the |its )?([a-z0-9-]+)")
SIDE_WORDS: Final = {"left": "left", "right": "right", "l": "left", "r": "right"}
PAPER_LESS_MM: Final = 3.0  # a notebook may be trimmed by so much: our choice
FOLDS: Final = re.compile(r"(?:fold|turn|bend|skive|punch|set) (?:the |each |both )?([a-z0-9-]+)")
PUNCHES: Final = re.compile(r"(?:punch|cut|mark)\b", re.IGNORECASE)


@question
def ask_widths(subject: Subject) -> Iterator[Question]:
    """Goods that are told by their width, of which it is not said."""
    for item in subject.spec.trimmings:
        if item.kind and TRIMMING_KINDS[item.kind.value].is_flat and item.width is None:
            what = f'nothing says how wide "{item.name}" is ({item.what.value if item.what else item.kind.value})'
            yield Question(place=item.place, what=what, answer='write width = "...", as it is sold')


@question
def ask_step_words(subject: Subject) -> Iterator[Question]:
    """Steps that list one piece which their words do not name, where these name another that the step does not have."""
    names = {piece.name for piece in subject.build.pieces} - ANY_PART
    done: set[str] = set()  # what earlier steps have sewn
    for step in subject.spec.steps:
        listed = {one.value: one for one in step.pieces}
        if not step.do or not listed:
            done |= _in_seams(subject, step)
            continue
        words = _words(step)
        said = names & words
        in_seams = _in_seams(subject, step)
        unsaid = [name for name in listed if name not in said]
        missing = said - {*listed} - in_seams
        is_other = len(listed) > 1 and missing
        is_alone = len(listed) == 1 and len(said) > 1 and said <= in_seams and {*unsaid} <= done
        done |= in_seams
        if len(unsaid) == 1 and (is_other or is_alone) and not words & {*unsaid[0].split("-")}:
            missing = missing or said
            told = name_words(sorted(missing))
            what = f'a step names "{unsaid[0]}" in pieces, and its words speak of {told}'
            answer = "look at both; where the words mean something else there is nothing to do"
            yield Question(place=listed[unsaid[0]].place, what=what, answer=answer)


def _words(step: StepSpec) -> set[str]:
    """The words of a step, and what those that end in s may be several of."""
    words = {*WORD_RE.findall(step.do.value.lower())} if step.do else set()
    return words | {word.removesuffix("s") for word in words}


def _in_seams(subject: Subject, step: StepSpec) -> set[str]:
    names = {one.value for one in step.seams}
    return {side.part for seam in subject.build.seams if seam.name in names for side in seam.sides}


@question
def ask_step_straps(subject: Subject) -> Iterator[Question]:
    """Steps that list one strap which their words do not name, where these name another that no list of theirs has, and
    that is no keeper in a fold of it."""
    names = {strap.name for strap in subject.build.straps} - ANY_PART
    called = {
        strap.name: {*strap.name.split("-"), *WORD_RE.findall(strap.title.lower())} - (names - {strap.name})
        for strap in subject.build.straps
    }
    kept = {strap.name: {end.keeper for end in strap.ends} for strap in subject.build.straps}
    for step in subject.spec.steps:
        words = _words(step)
        said = (names & words).difference(*({one.value, *kept.get(one.value, ())} for one in step.straps))
        unsaid = [one for one in step.straps if one.value in names and not words & {one.value, *called[one.value]}]
        if len(step.straps) == len(unsaid) == 1 == len(said):
            what = f'a step names "{unsaid[0].value}" in straps, and its words speak of "{min(said)}"'
            answer = "look at both; where the words mean something else there is nothing to do"
            yield Question(place=unsaid[0].place, what=what, answer=answer)


@question
def ask_folded(subject: Subject) -> Iterator[Question]:
    """Steps that begin by folding or turning a piece by its name, and list another one instead."""
    names = {piece.name for piece in subject.build.pieces} - ANY_PART
    for step in subject.spec.steps:
        begins = FOLDS.match(speak_by_names(subject, step.do.value)) if step.do and len(step.pieces) == 1 else None
        name = next((it for it in (begins[1], begins[1].removesuffix("s")) if it in names), "") if begins else ""
        other = step.pieces[0] if name else None
        if other and other.value != name and other.value in names and not {*other.value.split("-")} & _words(step):
            what = f'a step begins with "{name}", and has "{other.value}" in pieces, of which its words do not speak'
            yield Question(
                place=other.place, what=what, answer=f'write "{name}"; where both are in hand there is nothing to do'
            )


@question
def ask_empty_steps(subject: Subject) -> Iterator[Question]:
    """Steps whose words name a piece, and that list nothing at all."""
    names = {piece.name for piece in subject.build.pieces} - ANY_PART
    is_told = any(caution.check == "work-in-no-step" for caution in subject.build.cautions)
    for step in subject.spec.steps:
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
        is_lost = is_told and step.do is not None and SEWS.search(step.do.value)  # it is told what this is to sew
        said = sorted(names & _words(step)) if step.tools and not any(lists) and not is_lost else []
        if said:
            told = name_words(said)
            what = f"a step speaks of {told}, and has nothing in hand"
            yield Question(place=step.place, what=what, answer=f"write pieces = [{told.replace(' and ', ', ')}]")


@question
def ask_unlisted(subject: Subject) -> Iterator[Question]:
    """Steps that begin by punching or cutting two pieces and more by name, and list other things alone."""
    names = {piece.name for piece in subject.build.pieces} - ANY_PART
    for step in subject.spec.steps:
        is_bare = (step.straps or step.hardware) and not (step.pieces or step.seams or step.joins or step.skives)
        if step.do and is_bare and PUNCHES.match(step.do.value):
            said = sorted(names & _words(step))
            if len(said) > 1:
                told = name_words(said)
                what = f"a step punches or cuts {told}, and lists no piece"
                yield Question(place=step.place, what=what, answer=f"write pieces = [{told.replace(' and ', ', ')}]")


@question
def ask_numbers(subject: Subject) -> Iterator[Question]:
    """Steps whose words say how many there are of what they list, where another number is cut."""
    cuts: dict[str, Value[int] | None] = {item.name: item.cut for item in subject.spec.pieces}
    cuts |= {item.name: item.cut for item in subject.spec.straps}
    places = {item.name: item.place for item in (*subject.spec.pieces, *subject.spec.straps)}
    counts = {piece.name: piece.cut for piece in subject.build.pieces} | {
        strap.name: strap.cut for strap in subject.build.straps
    }
    for step in subject.spec.steps:
        listed = {one.value for one in (*step.pieces, *step.straps)} & counts.keys()
        for number, word in NUMBER_RE.findall(step.do.value) if step.do and listed else ():
            names = [name for name in (word.lower(), word.lower().removesuffix("s")) if name in listed]
            said = NUMBERS[number.lower()]
            for name in names[:1]:
                of_kind = sum(counts[one] for one in listed if _is_called(subject, one, name))
                if said not in (counts[name], of_kind) and name in places:
                    cut = cuts[name]
                    what = (
                        f'the step in line {step.place.line} speaks of {number.lower()} "{name}", and {counts[name]} '
                    )
                    what += "is cut" if counts[name] == 1 else "are cut"
                    answer = f"write cut = {said}; where the words mean something else there is nothing to do"
                    yield Question(place=cut.place if cut else places[name], what=what, answer=answer)


@question
def ask_seam_names(subject: Subject) -> Iterator[Question]:
    """Seams that have the name of a piece which they do not sew, nor any strip of a join with it."""
    pieces = {piece.name for piece in subject.build.pieces}
    strips = {join.name: {join.name, *join.pieces} for join in subject.build.joins}
    for seam in subject.build.seams:
        sewn = set().union(*(strips.get(side.part, {side.part}) for side in seam.sides))
        yield from _ask_sides(seam)
        if seam.name in pieces - sewn and seam.sides:
            what = f'the seam "{seam.name}" sews {" and ".join(chr(34) + side.part + chr(34) for side in seam.sides)}, and '
            answer = "look at its meet; where its name means something else there is nothing to do"
            place = seam.place_of(seam.sides[0])
            yield Question(place=place, what=f"{what}not the piece of that name", answer=answer)


def _ask_sides(seam: Seam) -> Iterator[Question]:
    """Seams that are called left and sew a part that is called right."""
    called = {SIDE_WORDS[word] for word in seam.name.split("-") if word in SIDE_WORDS}
    for side in seam.sides if len(called) == 1 else ():
        own = {SIDE_WORDS[word] for word in side.part.split("-") if word in SIDE_WORDS}
        if len(own) == 1 and own != called:
            what = f'the seam "{seam.name}" sews "{side.part}"'
            answer = "look at both names; where they mean something else there is nothing to do"
            yield Question(place=side.place if side.place.line else seam.place_of(side), what=what, answer=answer)


@question
def ask_twin_seams(subject: Subject) -> Iterator[Question]:
    """Seams of one name but for left and right, or front and back, that do not sew the same parts but for those; asked at
    the part that only one of them has."""
    twins: dict[tuple[str, ...], list[Seam]] = {}
    for seam in subject.build.seams:
        if {*seam.name.split("-")} & FACES:
            twins.setdefault(_but_for_sides(seam.name), []).append(seam)
    for one, other in (found for found in twins.values() if len(found) == 2):
        both = one.parts & other.parts
        parts, others = (Counter(_kind_of(side.part, seam, both) for side in seam.sides) for seam in (one, other))
        for seam, odd in ((other, others.keys() - parts), (one, parts.keys() - others)):
            twin = one if seam is other else other
            if odd and parts.keys() ^ others.keys() == odd and len(seam.sides) == len(twin.sides):
                gone = next(side for side in seam.sides if _kind_of(side.part, seam, both) in odd)
                what = f'the seam "{twin.name}" sews nothing like "{gone.part}", which "{seam.name}" on line '
                what += f"{seam.place_of(gone).line} sews"
                answer = "look at both; where the sides are meant to be unlike there is nothing to do"
                yield Question(place=twin.place_of(twin.sides[0]), what=what, answer=answer)
                break
            if odd and not (_lands(subject, one) and _lands(subject, other)):
                side = next(side for side in seam.sides if _kind_of(side.part, seam, both) in odd)
                what = f'the seam "{seam.name}" sews "{side.part}", and "{twin.name}" does not'
                answer = "look at both; where the sides are meant to be unlike there is nothing to do"
                is_lacking = len(twin.sides) < len(seam.sides)
                place = twin.place_of(twin.sides[0]) if is_lacking else seam.place_of(side)
                yield Question(place=place, what=what, answer=answer)
                break


@question
def ask_sewn_words(subject: Subject) -> Iterator[Question]:
    """Steps that say which part is sewn to which, where no seam of theirs sews the two; asked at the part that a seam has
    in the place of the other."""
    pieces = subject.parts.pieces
    strips = {join.name: join.pieces for join in subject.build.joins}
    for step in subject.build.steps:
        seams = [seam for seam in subject.build.seams if seam.name in step.seams]
        for one, other in SEWN_TO.findall(speak_by_names(subject, step.do)) if seams else ():
            first, last = (
                next((it for it in (name, name.removesuffix("s")) if it in pieces), "") for name in (one, other)
            )
            parts = [{name for side in seam.sides for name in strips.get(side.part, (side.part,))} for seam in seams]
            own = [seam for seam, names in zip(seams, parts, strict=True) if first in names and len(names) > 1]
            is_laid = any(landing.piece == first for landing in pieces[last].marks.landings) if last else True
            if first and own and not is_laid and not any({first, last} <= names for names in parts):
                side = next((side for side in own[0].sides if side.part != first), own[0].sides[0])
                what = f'the step in line {step.place.line} sews "{first}" to "{last}", and "{own[0].name}" sews it to '
                answer = "look at both; where the words mean something else there is nothing to do"
                yield Question(place=own[0].place_of(side), what=f'{what}"{side.part}"', answer=answer)


def _lands(subject: Subject, seam: Seam) -> bool:
    """Whether what a seam sews by its edges is said to lie on what it sews that to, so that both are meant."""
    edged = {side.part for side in seam.sides if side.edges}
    hosts = [subject.parts.pieces[part] for part in seam.parts - edged if part in subject.parts.pieces]
    return bool(edged) and edged <= {landing.piece for host in hosts for landing in host.marks.landings}


def _but_for_sides(name: str) -> tuple[str, ...]:
    return tuple("" if word in FACES else word for word in name.split("-"))


def _kind_of(part: str, seam: Seam, both: Set[str]) -> tuple[str, ...]:
    """The name of a part but for sides; unless `both` seams sew it, also without the side that its seam is named for."""
    own = set() if part in both else {*seam.name.split("-")} & FACES
    return _but_for_sides("-".join(word for word in part.split("-") if word not in own))


@question
def ask_plurals(subject: Subject) -> Iterator[Question]:
    """Steps that list one thing of which one is cut, and that speak of several."""
    counts = {piece.name: piece.cut for piece in subject.build.pieces} | {
        strap.name: strap.cut for strap in subject.build.straps
    }
    owns = {item.name: item for item in (*subject.spec.pieces, *subject.spec.straps)}
    cuts = {item.name: item.cut for item in subject.spec.pieces} | {item.name: item.cut for item in subject.spec.straps}
    passed = {piece.name for piece in subject.build.pieces if piece.dividers}
    for step in subject.spec.steps:
        words = {*WORD_RE.findall(step.do.value.lower())} if step.do else set()
        for name in (one.value for one in (*step.pieces, *step.straps)):
            kin = [one.value for one in (*step.pieces, *step.straps) if _is_called(subject, one.value, name)]
            numbered = (
                {word.lower().removesuffix("s") for _, word in NUMBER_RE.findall(step.do.value)} if step.do else ()
            )
            is_one = counts.get(name) == 1 and name in owns and len(kin) == 1 and name not in {*passed, *numbered}
            if is_one and subject.build.makes == 1 and f"{name}s" in words and name not in words:
                passed.add(name)
                what = f'the step in line {step.place.line} speaks of "{name}s", and one is cut'
                answer = "write cut = 2, or as many as there are; where one is meant there is nothing to do"
                cut = cuts.get(name)
                yield Question(place=cut.place if cut else owns[name].place, what=what, answer=answer)


def _is_called(subject: Subject, part: str, word: str) -> bool:
    """Whether a part is called by a word: by its name, or by one of its title."""
    piece = subject.parts.pieces.get(part) or (
        subject.parts.straps[part].piece if part in subject.parts.straps else None
    )
    return part == word or (piece is not None and word in WORD_RE.findall(piece.title.lower()))


@question
def ask_papers(subject: Subject) -> Iterator[Question]:
    """What has to go in by the name of a sheet of paper, and is smaller than that."""
    for held, own in zip(subject.build.holds, subject.spec.holds, strict=False):
        for name in sorted(HELD_SHEETS_MM.keys() & {*WORD_RE.findall(held.what.lower())}):
            least = [mm - PAPER_LESS_MM for mm in HELD_SHEETS_MM[name]]
            have = sorted(held.size_mm)[-2:]
            if own.size and any(mm < other for mm, other in zip(have, least, strict=True)):
                one, two = (subject.length(mm) for mm in have)
                wide, high = (subject.length(mm) for mm in HELD_SHEETS_MM[name])
                what = f'"{held.what}" is {one} by {two} here, and {name.upper()} is {wide} by {high}'
                answer = "look at both figures; where a part of a sheet is meant there is nothing to do"
                odd = held.size_mm.index(have[0] if have[0] < least[0] else have[1])
                yield Question(place=own.size[min(odd, len(own.size) - 1)].place, what=what, answer=answer)
