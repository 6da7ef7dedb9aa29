"""Which step punches what, which turns hems over, and which seam closes a piece in."""

import re
from collections.abc import Iterator, Mapping, Sequence, Set

from docgen.geometry.outline import WHOLE, outline_path
from docgen.geometry.path import path_length
from docgen.resolve.build import Build, Step
from docgen.resolve.piece import Piece
from docgen.resolve.seams.seam import Seam, SeamSide
from docgen.tables.cautions import has_phrase

# A piece that is sewn along this share of its outline cannot be reached from both sides any more: our choice.
CLOSED_SHARE = 0.5
FOLDING = ("fold", "turn", "crease", "bend")
TURNS_OUT = re.compile(
    r"\bturn(?:s|ed|ing)?\b[^.;:,]*?\b(?:right sides? out|right way out|inside out)\b", re.IGNORECASE
)
# What is sewn face to face and turned in one breath is turned as a whole: `Sew them face to face, ...; turn it`.
TURNS_WHOLE = re.compile(
    r"\b(?:face to face|right sides together|leaving)\b[^.]*?[,;](?: and)?(?: then)?"
    r"( turn (?:it|them)(?: through)?)(?=[.,;]|$)",
    re.IGNORECASE,
)
# The hem itself is pressed or glued, which turns it: `Press the hems of both linings`.
HOLDS_HEM = re.compile(
    r"\b(?:press|iron|glue|cement|tape|baste|tack)\b(?: (?!at|below|beside|along|to|on|onto|over|under|near|by|in|into|"
    r"from|of|inside|outside|above|behind)[\w-]+){0,4} hems?\b(?! allowance)",
    re.IGNORECASE,
)
# An edge or a mouth that is creased has a line struck along it, and is not folded, unless it goes over or under.
STRUCK_ALONG = re.compile(
    r"\bcrease\b(?![^.,;:]*\b(?:over|under|back)\b)(?: and \w+)?(?: (?!folds?\b|and\b)\w+){0,4}? (?:mouths?|edges?)\b",
    re.IGNORECASE,
)
# Folds that are only prepared: `Groove and damp the folds of the holder`.
GROOVED = re.compile(
    r"\b(?:groov|scor|goug)(?:e|es|ed|ing)\b(?:(?!\b(?:fold|bend|turn|crease)\b(?! lines?\b))[^,;.])*?"
    r"\b(?:folds|fold lines?|the fold)\b",
    re.IGNORECASE,
)


def find_punching(build: Build, steps: Sequence[Step]) -> dict[str, int]:
    """Piece with holes or slits -> the step (from 0) that makes them: the first that speaks of punching or holes, else
    the first that names the piece; of one that none names the first that skives, joins or sews it."""
    found: dict[str, int] = {}
    worked = [_worked_in(build, step) for step in steps]
    for piece in build.pieces:
        named = [at for at, step in enumerate(steps) if piece.name in step.pieces]
        named = named or [at for at, names in enumerate(worked) if piece.name in names]
        punching = [at for at in named if is_punching(steps[at])]
        if (piece.marks.holes or piece.marks.slits) and named:
            found[piece.name] = (punching or named)[0]
    return found


def _worked_in(build: Build, step: Step) -> set[str]:
    """The pieces that a step skives, joins or sews."""
    joined = {name for join in build.joins if join.name in step.joins for name in join.pieces}
    sewn = {
        name for seam in build.seams if seam.name in step.seams for s in seam.sides for name in side_pieces(build, s)
    }
    return {*step.skives, *joined, *sewn}


def side_pieces(build: Build, side: SeamSide) -> tuple[str, ...]:
    """The pieces or the strap of one side of a seam, each once; of a join its strips."""
    join = next((join for join in build.joins if join.name == side.part), None)
    return tuple(dict.fromkeys(join.pieces)) if join else (side.part,)


def closes(seam: Seam, piece: Piece) -> bool:
    """True when the seam alone runs round so much of the piece that it cannot be reached from both sides."""
    return seam.length_mm >= CLOSED_SHARE * path_length(outline_path(piece.outline))


def is_punching(step: Step) -> bool:
    """Whether a step speaks of punching, or has the tools for it to hand."""
    said = (step.do, *step.tools)
    return any(has_phrase(words, phrase) for words in said for phrase in ("punch", "hole", "awl", "drill"))


def speaks_of_folding(step: Step) -> bool:
    """Whether a step folds something; work that is turned right side out is not folded, nor an edge that is creased."""
    return bool(folding_words(step))


def only_grooves(step: Step) -> bool:
    """Whether a step that speaks of folds only grooves them."""
    return bool(folding_words(step)) and not _folding_words(GROOVED.sub("", step.do))


def folding_words(step: Step) -> str:
    """What a step says as far as it speaks of folding: up to the comma after that."""
    return _folding_words(step.do)


def _folding_words(do: str) -> str:
    said = TURNS_WHOLE.sub(lambda found: found[0].removesuffix(found[1]), TURNS_OUT.sub("", do))
    clauses = re.split(r"(?<=[,;:.])", STRUCK_ALONG.sub("", said))
    folding = [k for k, clause in enumerate(clauses) if any(has_phrase(clause, phrase) for phrase in FOLDING)]
    return "".join(clauses[: folding[-1] + 1]) if folding else ""


def turns_hems(step: Step) -> bool:
    """Whether a step turns the hems of what it has in hand: it folds something, or presses or glues hems."""
    return speaks_of_folding(step) or HOLDS_HEM.search(step.do) is not None


def find_turning(
    pieces: Sequence[Piece],
    strips: Mapping[str, Sequence[str]],
    sides: Mapping[str, Sequence[SeamSide]],
    steps: Sequence[Step],
) -> dict[str, int]:
    """Piece with hems -> the step (from 0) that turns them over: the first that has it in hand and turns hems by its words,
    no later than the first that sews a hemmed edge, at its fold; else that of the first seam along its edges; else the
    first that has it in hand. `strips` are those of each join, `sides` those of each seam. A hem that its seam turns over
    another part is turned by that seam at the earliest, where no seam sews the piece along its edges before."""
    hemmed = [piece for piece in pieces if piece.hems]
    having = [frozenset(_in_hand(strips, sides, step)) for step in steps] if hemmed else []
    sewing = [frozenset(_sewn_along(strips, sides, step)) for step in steps] if hemmed else []
    due = {piece.name: at for piece in hemmed for at in [_sewn_at_fold(piece, strips, sides, steps)] if at is not None}
    found: dict[str, int] = {}
    for name in (piece.name for piece in hemmed):
        own = [at for at, names in enumerate(having) if name in names]
        turning = [at for at in own if at <= due.get(name, at) and turns_hems(steps[at])]
        sewn = [at for at, names in enumerate(sewing) if name in names]
        first = next((way[0] for way in (turning, sewn, own) if way), None)
        found |= {} if first is None else {name: first}
    for piece in (piece for piece in pieces if piece.name in found):
        catching = [
            at for at, step in enumerate(steps) if any(catches(sides.get(one, ()), piece) for one in step.seams)
        ]
        if catching and not any(piece.name in names for names in sewing[: catching[0]]):
            found[piece.name] = max(found[piece.name], catching[0])
    return found


def _sewn_at_fold(
    piece: Piece, strips: Mapping[str, Sequence[str]], sides: Mapping[str, Sequence[SeamSide]], steps: Sequence[Step]
) -> int | None:
    """The first step with a seam along a hemmed edge of a piece: its fold is the edge that is sewn."""
    for at, step in enumerate(steps):
        for side in (side for name in step.seams for side in sides.get(name, ())):
            edges = {*side.edges}
            if piece.name in strips.get(side.part, (side.part,)) and (edges & piece.hemmed or _is_round(edges, piece)):
                return at
    return None


def _is_round(edges: Set[str], piece: Piece) -> bool:
    """Whether all round is sewn, or hemmed."""
    return bool(edges) and (WHOLE in edges or WHOLE in piece.hemmed)


def catches(sides: Sequence[SeamSide], piece: Piece) -> tuple[str, ...]:
    """The parts that a seam catches under a hem of a piece: named between its hemmed edges and itself, flat beneath."""
    own = [k for k, side in enumerate(sides) if side.part == piece.name]
    if len(own) < 2 or not any({*sides[k].edges} & piece.hemmed for k in own) or all(sides[k].edges for k in own):
        return ()
    return tuple(side.part for side in sides[own[0] + 1 : own[-1]] if side.part != piece.name)


def _in_hand(strips: Mapping[str, Sequence[str]], sides: Mapping[str, Sequence[SeamSide]], step: Step) -> Iterator[str]:
    yield from (*step.pieces, *step.skives)
    yield from (strip for join in step.joins for strip in strips.get(join, ()))
    yield from (
        one for name in step.seams for side in sides.get(name, ()) for one in strips.get(side.part, (side.part,))
    )


def _sewn_along(
    strips: Mapping[str, Sequence[str]], sides: Mapping[str, Sequence[SeamSide]], step: Step
) -> Iterator[str]:
    edged = (side for name in step.seams for side in sides.get(name, ()) if side.edges)
    yield from (one for side in edged for one in strips.get(side.part, (side.part,)))
