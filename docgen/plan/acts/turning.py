"""What is sewn face to face and turned right side out: after which seam, and through what."""

from __future__ import annotations

import re
from collections.abc import Sequence
from itertools import combinations

from docgen.assemble import is_caught, list_behind
from docgen.geometry.outline import WHOLE, edge_names
from docgen.plan.acts.work import Work
from docgen.plan.step_words import done_in
from docgen.resolve import Seam, closes
from docgen.tables.cautions import has_phrase

ZIP = "zip"
ZIP_WORDS = (ZIP, "slider")
# Words that turn a whole thing, not an edge of it: `turn the pouch out through the gap`.
WORDS_RE = (
    r"(?i)\bturn(?:ed|ing)? (?:(?:it|all|everything|the(?! (?:edge|end|hem|seam|allowance)s?\b)(?: [\w-]+){1,3}?) )?"
    r"(?:right (?:side|way) )?out\b"
)
OFF_TAPE_RE = r"(?i)\bturn\b[^.;:]*\b(?:away|back|off)\b"


def is_turned_out_by(work: Work, at: int, seam: Seam) -> bool:
    """Whether what a step sews face to face is turned once this seam, its last of them, is sewn: no later one follows, and
    it is more than a lining by itself, which stays as it is sewn."""
    seams = [work.seams[one.name] for _, one in work.events(at) if one.kind == "seams"]
    turned = [one for one in seams if one.is_turned and not _only_tacks(one)]
    is_last = bool(turned) and turned[-1] is seam
    if is_last and find_opening(work, at, seam) is not None:
        return False
    return is_last and any(not (_is_lining(work, at, one) or _is_closed_later(work, at, one)) for one in turned)


def is_turned_by_words(work: Work, at: int, seam: Seam) -> bool:
    """Whether words of the spec turn what a step has sewn: its own last lines, or a later step that has some of it in hand,
    with no seam of it sewn face to face before that; or its own, where they turn that back off the tape of a zip."""
    step, hung = work.steps[at], _hung(work, at, seam)
    if any(re.search(WORDS_RE, words) for words in step.last):
        return True
    if any(use.name in _zips(work) for use in seam.trimmings) and re.search(OFF_TAPE_RE, step.do):
        return True
    for later in range(at + 1, len(work.steps)):
        seams = [work.seams[one.name] for _, one in work.events(later) if one.kind == "seams"]
        if any(one.is_turned and not _only_tacks(one) and not one.parts.isdisjoint(hung) for one in seams):
            return False
        step = work.steps[later]
        is_said = any(re.search(WORDS_RE, words) for words in done_in(step))
        if is_said and not hung.isdisjoint(work.handled[later] or hung):
            return True
    return False


def is_turned_through_zip(work: Work, at: int, seam: Seam) -> bool:
    """Whether a zip hangs with what a seam closes, by then or by it, and the step says nothing of opening it. That of a
    pocket, with its bag behind it, opens no way through; and what stays open is turned through that."""
    step, zips = work.steps[at], _zips(work)
    said = (step.do, step.note, *step.first)
    if any(_opens_zip(words) for words in said) or any(use.name in zips for use in seam.trimmings):
        return False
    if _stays_open(work, at, seam):
        return False
    done = {(event.kind, event.name) for event in work.build.assembly.events if event.step <= at}
    with_zip = {
        side.part
        for one in work.build.seams
        for use in one.trimmings
        for side in one.sides
        if use.name in zips and ("seams", one.name) in done and all(other.edges for other in one.sides)
    }
    with_zip |= {
        piece.name
        for piece in work.build.pieces
        if any(line.goods in zips for line in piece.dividers)
        and ("dividers", piece.name) in done
        and not any(list_behind(piece))
    }
    with_zip |= {
        join.name
        for join in work.build.joins
        if ("joins", join.name) in done and (not zips.isdisjoint(join.pieces) or with_zip & {*join.pieces})
    }
    return not with_zip.isdisjoint(_hung(work, at, seam))


def _stays_open(work: Work, at: int, seam: Seam) -> bool:
    """Whether a panel that a turned seam goes round keeps an edge that nothing closes by then: no zip lies along it, and
    nothing but its own lining is sewn to it."""
    steps = {event.name: event.step for event in work.build.assembly.events if event.kind == "seams"}
    done = [one for one in work.build.seams if steps.get(one.name, at + 1) <= at]
    linings = {(lies.host.part, lies.copy.part) for lies in work.build.assembly.lies if lies.is_cover}
    for side in work.sides(seam):
        piece = work.pieces.get(side.part)
        if piece is None or side.ends or WHOLE in side.edges or len(side.edges) < 2 or not closes(seam, piece):
            continue
        closing = [
            own.edges
            for one in done
            for own in one.sides
            if own.part == piece.name
            and (
                any(use.name in _zips(work) for use in one.trimmings)
                or any(
                    other is not own and (piece.name, other.part) not in linings and other.edges for other in one.sides
                )
            )
        ]
        taken = {edge for edges in closing for edge in edges}
        if WHOLE not in taken and not taken.issuperset(edge_names(piece.outline)):
            return True
    return False


def _opens_zip(words: str) -> bool:
    """Whether words open a zip, and not an edge or a tin."""
    return has_phrase(words, "unzip") or (
        has_phrase(words, "open") and any(has_phrase(words, one) for one in ZIP_WORDS)
    )


def find_opening(work: Work, at: int, seam: Seam) -> Seam | None:
    """The seam of a later step that closes what a turned one leaves open of two edges: the work is turned through that."""
    steps = {event.name: event.step for event in work.build.assembly.events if event.kind == "seams"}
    hung = _hung(work, at, seam)
    later = (one for one in work.build.seams if steps.get(one.name, at) > at and one.parts <= hung)
    return next((one for one in later if opened_by(work, one) is not None), None)


def opened_by(work: Work, gap: Seam) -> Seam | None:
    """The turned seam, sewn by an earlier step, that leaves open a part of the edges which a seam closes; None of any other
    seam."""
    steps = {event.name: event.step for event in work.build.assembly.events if event.kind == "seams"}
    sides = work.sides(gap)
    if gap.is_turned or gap.name not in steps or len(sides) < 2 or not all(side.ends for side in sides):
        return None
    edges = {(side.part, edge) for side in sides for edge in side.edges}
    return next(
        (
            one
            for one in work.build.seams
            if one.is_turned
            and steps.get(one.name, steps[gap.name]) < steps[gap.name]
            and edges <= {(side.part, edge) for side in one.sides for edge in side.edges}
        ),
        None,
    )


def _zips(work: Work) -> set[str]:
    return {item.name for item in work.build.trimmings if item.kind == ZIP}


def _only_tacks(seam: Seam) -> bool:
    return any(is_caught(seam, side.part) for side in seam.sides)


def _is_lining(work: Work, at: int, seam: Seam) -> bool:
    """Whether all that hangs together with what a seam sews lies behind something else, or on what does, as a pocket on
    a lining."""
    covers = {lies.copy.part for lies in work.build.assembly.lies if lies.is_cover}
    covers |= {piece.name for piece in work.build.pieces if piece.lines}
    covers |= {lies.copy.part for lies in work.build.assembly.lies if lies.host.part in covers}
    hung = _hung(work, at, seam) | {side.part for side in work.sides(seam)}
    return all(covers.intersection((part, *work.strips(part))) for part in hung)


def _hung(work: Work, at: int, seam: Seam) -> set[str]:
    """The parts that hang together with a seam's once its step is done."""
    sewn = {side.part for side in work.sides(seam)}
    groups = [{copy.part for copy in group} for group in work.build.assembly.groups_before(at + 1)]
    return {part for group in groups if not group.isdisjoint(sewn) for part in group}


def _is_closed_later(work: Work, at: int, seam: Seam) -> bool:
    """Whether a later step sews more of what hangs together by then face to face, or a further panel to its wall or rim: it
    is turned after that, but for what goes back off the tape of a zip. A flap is turned before it is sewn in."""
    zips = _zips(work)
    if any(use.name in zips for use in seam.trimmings):
        return False
    hung = _hung(work, at, seam)
    names = {event.name for event in work.build.assembly.events if event.kind == "seams" and event.step > at}
    later = [work.seams[name] for name in names if work.seams[name].is_turned and not _only_tacks(work.seams[name])]
    walls = {
        part for part in hung if part in work.joins or (part in work.pieces and work.pieces[part].shape == "strip")
    }
    sewn = [{side.part for side in work.sides(one)} for one in later]
    return any(parts <= hung or not parts.isdisjoint(walls) for parts in sewn) or _is_rimmed(work, hung, later)


def _is_rimmed(work: Work, hung: set[str], later: Sequence[Seam]) -> bool:
    """Whether seams sew one further part to the rim of what hangs together: by all its outline, or each by other edges to
    other parts, as a base. A flap, with its lining, is sewn on by one seam."""
    met: dict[str, list[set[str]]] = {}
    for seam in later:
        own = {side.part for side in work.sides(seam)} & hung
        for side in work.sides(seam) if own else ():
            if side.part not in hung and WHOLE in side.edges:
                return True
            if side.part not in hung:
                met.setdefault(side.part, []).append(own)
    return any(one.isdisjoint(other) for parts in met.values() for one, other in combinations(parts, 2))
