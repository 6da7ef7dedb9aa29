"""Pieces that do not do what they are called: a lining of the leather that it lines, or sewn to another part than it
lines, a front and a back of two leathers, what a step folds without a fold, dividing lines of which one is off its even
place."""

import re
from collections import Counter
from collections.abc import Iterator, Mapping
from itertools import chain, pairwise
from typing import Final

from docgen.assemble import leathers
from docgen.checks.questions.question import WORD_RE, Question, question, speak_by_names
from docgen.checks.trade import Subject
from docgen.geometry.outline import ACROSS_STRIPS, WHOLE, edge_names, edge_path, outline_box
from docgen.geometry.path import path_length
from docgen.problems import Place, name_words
from docgen.read import PieceSpec
from docgen.resolve import Divider, Piece, Seam, SeamSide
from docgen.tables.cautions import has_phrase

LINING: Final = re.compile(r"^(.+)-lining$|^lining-(.+)$")
FOLDS: Final = re.compile(
    r"(?:^|[.,;:] |\b(?:and|then) )fold (?:the |each |both |every )?([a-z0-9' -]+?)"
    r"(?= (?:and|then|round|around|to|over|in|on|it|them|with|under|back|backward|at|inside|inward|outward|down|up|so|along"
    r"|by|through|for|flat|double|upon|along|across|of)\b|[.,;:]|$)",
    re.IGNORECASE,
)
FOLDED: Final = re.compile(
    r"([a-z0-9-]+),? (?:is |are )?(?:bent|folded) (?:double|half|in half|over itself)\b", re.IGNORECASE
)
BENT_OVER: Final = ("flap", "cover", "wrap", "shell")
TWINS: Final = (("front", "back"), ("left", "right"))
LEAST_DIVIDERS: Final = 3
LEAST_EDGES: Final = 3  # what is sewn to something by so many is hardly laid behind another part: our choice
MOST_INSET: Final = 0.35  # foam and boards are hardly smaller than what they stiffen by so much of it: our choice
SAME_MM: Final = 0.6
MOST: Final = 60  # of more nothing is asked: a stranger's file


@question
def ask_goods(subject: Subject) -> Iterator[Question]:
    """Pieces whose goods do not fit what they are called, one question at a place; and dividing lines."""
    of_goods = (_ask_linings(subject), _ask_sides(subject), _ask_lining_goods(subject))
    yield from {question.place: question for question in reversed([*chain.from_iterable(of_goods)])}.values()
    for piece in subject.build.pieces:
        yield from _ask_dividers(subject, piece)


def _ask_linings(subject: Subject) -> Iterator[Question]:
    """Linings of the very goods of the piece that they are named for, where all others are of one other kind."""
    of = {piece.name: piece.material for piece in subject.build.pieces}
    linings = {name: next(one for one in found.groups() if one) for name in of if (found := LINING.match(name))}
    odd = [name for name, lined in linings.items() if of.get(lined) == of[name]]
    others = {of[name] for name in linings if name not in odd}
    if len(odd) == len(others) == 1 and of[odd[0]] not in others:
        name, other = odd[0], next(iter(others))
        own = subject.specs.get(name)
        what = f'"{name}" is of "{of[name]}", as what it lines is, and the other linings are of "{other}"'
        place = own.of.place if own and own.of else own.place if own else Place()
        yield Question(
            place=place, what=what, answer=f'write of = "{other}"; where it is meant so there is nothing to do'
        )


@question
def ask_lined(subject: Subject) -> Iterator[Question]:
    """Linings that three edges or more sew to leather which they are not said to line, and no edge to what they are."""
    leather = leathers(subject.build)
    pieces = subject.parts.pieces
    for piece in subject.build.pieces if len(subject.build.pieces) <= MOST else ():
        own = subject.specs.get(piece.name)
        mates: dict[str, int] = {}
        for seam in subject.build.seams if piece.lines else ():
            count = max((len(side.edges) for side in seam.sides if side.part == piece.name), default=0)
            mates |= {side.part: count for side in seam.sides if count and side.part != piece.name}
        to = [
            name
            for name, count in mates.items()
            if count >= LEAST_EDGES and name in pieces and pieces[name].material in leather and not pieces[name].lines
        ]
        if own and own.lines and len(to) == 1 and {*piece.lines}.isdisjoint(mates):
            lined = name_words(piece.lines)
            what = f'"{piece.name}" is said to line {lined}, and is sewn to "{to[0]}" alone'
            answer = f'write lines = ["{to[0]}"]; where it is meant so there is nothing to do'
            yield Question(place=own.lines[0].place, what=what, answer=answer)
    strips = {join.name: join.pieces for join in subject.build.joins}
    taken = {strip for piece in subject.build.pieces for name in piece.lines for strip in (name, *strips.get(name, ()))}
    for piece in subject.build.pieces if len(subject.build.pieces) <= MOST else ():
        own = subject.specs.get(piece.name)
        said = {*piece.name.split("-")} - {piece.name}
        meant = [name for name in pieces if name in said and name not in taken and pieces[name].material in leather]
        if own and own.lines and len(meant) == 1 and said.isdisjoint(piece.lines):
            told = name_words(piece.lines)
            what = f'"{piece.name}" is said to line {told}, and nothing lines "{meant[0]}"'
            answer = f'write lines = ["{meant[0]}"]; where it is meant so there is nothing to do'
            yield Question(place=own.lines[0].place, what=what, answer=answer)


@question
def ask_unlined(subject: Subject) -> Iterator[Question]:
    """Leather that is named for a leather piece as its lining, is sewn to that and not said to line it: no post set in that
    piece counts it, for leather on leather may be a second layer anywhere."""
    leather = leathers(subject.build)
    pieces = subject.parts.pieces
    for piece in subject.build.pieces if len(subject.build.pieces) <= MOST else ():
        found, own = LINING.match(piece.name), subject.specs.get(piece.name)
        name = next(one for one in found.groups() if one) if found else ""
        is_sewn = any({piece.name, name} <= seam.parts for seam in subject.build.seams)
        if (
            own
            and is_sewn
            and not piece.lines
            and name in pieces
            and {piece.material, pieces[name].material} <= leather
        ):
            what = f'"{piece.name}" is leather, and nothing says that it lines "{name}": what is set there misses it'
            answer = f'write lines = ["{name}"] in [pieces.{piece.name}]; where it is no lining there is nothing to do'
            yield Question(place=own.of.place if own.of else own.place, what=what, answer=answer)


@question
def ask_opposite(subject: Subject) -> Iterator[Question]:
    """Edges that two seams sew to unlike parts, none a lining, where an edge as long is in no seam; so of each copy where
    the seams name them, else of all copies together."""
    pieces = {piece.name: piece for piece in subject.build.pieces if len(subject.build.pieces) <= MOST}
    named = {side.part for seam in subject.build.seams for side in seam.sides if side.copy}
    sewn: dict[tuple[str, int], dict[str, list[tuple[Seam, SeamSide]]]] = {}
    for seam in subject.build.seams:
        for side in seam.sides:
            for edge in side.edges:
                sewn.setdefault((side.part, side.copy), {}).setdefault(edge, []).append((seam, side))
    linings = {piece.name for piece in subject.build.pieces if piece.lines}
    told = {
        caution.at for caution in subject.build.cautions if caution.check in ("edge-in-two-seams", "edge-sewn-again")
    }
    for (name, copy), edges in sewn.items():
        copies = 1 if copy else pieces[name].cut if name in pieces and name not in named else 0
        for edge, found in edges.items() if copies and name in pieces.keys() - told and WHOLE not in edges else ():
            mates = [_list_mates(seam, name) for seam, _ in found]
            parts = {part for one in mates for part, _, _ in one}
            is_alone = all(side.edges == (edge,) and not side.stretch_mm for _, side in found)
            is_plain = is_alone and not any(seam.trimmings for seam, _ in found) and parts <= pieces.keys() - linings
            times = sum(subject.build.assembly.times(seam.name) for seam, _ in found)
            free = _find_free(subject, pieces[name], edges, edge, copies) if times > copies and is_plain else ""
            if free and len({*mates}) == len(mates) and times == copies + 1:
                seam, side = _odd_one(found, name)
                lines = " and ".join(str(it.place_of(own).line) for it, own in found if it is not seam)
                which = f"{name} {copy}" if copy else name
                count = "none" if free not in edges else "too few"
                often = "two seams" if copies == 1 else f"{times} seams, and {copies} are cut"
                what = f'{edge} of "{which}" is in {often} (line {lines}), and {free}, as long, in {count}'
                idle = _idle_copy(subject, name) if copy else 0
                other = f'"{name} {idle}"' if idle else free
                answer = f"name {other} in one of them; where it is meant so there is nothing to do"
                yield Question(place=seam.place_of(side), what=what, answer=answer)


def _list_mates(seam: Seam, name: str) -> frozenset[tuple[str, int, tuple[str, ...]]]:
    return frozenset((side.part, side.copy, side.edges) for side in seam.sides if side.part != name and side.edges)


def _idle_copy(subject: Subject, name: str) -> int:
    """The number of a copy that is cut, and that no seam names."""
    named = {side.copy for seam in subject.build.seams for side in seam.sides if side.part == name}
    return next((copy for copy in range(1, subject.counts[name] + 1) if copy not in named), 0)


def _find_free(
    subject: Subject, piece: Piece, edges: Mapping[str, list[tuple[Seam, SeamSide]]], edge: str, copies: int
) -> str:
    """The one edge as long as this that is sewn less often than there are copies, the one across before others."""

    def length_mm(one: str) -> float:
        return path_length(edge_path(piece.outline, one))

    names = {*edge_names(piece.outline)}
    times = {one: sum(subject.build.assembly.times(seam.name) for seam, _ in edges.get(one, [])) for one in names}
    free = [one for one in names - {edge} if times[one] < copies and abs(length_mm(one) - length_mm(edge)) <= SAME_MM]
    across = ACROSS_STRIPS.get(edge, "")
    return across if across in free else free[0] if len(free) == 1 and not across else ""


def _odd_one(found: list[tuple[Seam, SeamSide]], name: str) -> tuple[Seam, SeamSide]:
    """The seam that names this edge and another of its own for its partner; else the last."""
    odd = [
        (seam, side)
        for seam, side in found
        if any(other.edges and other.edges != side.edges for other in seam.sides if other.part != name)
    ]
    alike = [one for one in found if one not in odd]
    return odd[0] if len(odd) == 1 else alike[0] if len(alike) == 1 else found[-1]


def _ask_lining_goods(subject: Subject) -> Iterator[Question]:
    """Parts of the goods of the lining behind them, where those goods line other parts of other goods too; and parts of
    goods that are called a lining, which line nothing and lie on nothing."""
    of = {piece.name: piece.material for piece in subject.build.pieces}
    linings = {name: tuple(one for one in found.groups() if one) for name in of if (found := LINING.match(name))}
    behind = {piece.name: piece.lines or linings.get(piece.name, ()) for piece in subject.build.pieces[: MOST + 1]}
    behind = {name: parts for name, parts in behind.items() if parts and len(of) <= MOST}
    called = {item.name for item in subject.build.materials if has_phrase(f"{item.name} {item.title}", "lining")}
    laid = {landing.piece for piece in subject.build.pieces for landing in piece.marks.landings}
    strips = {name for join in subject.build.joins for name in join.pieces}
    for name, parts in linings.items():
        own = subject.specs.get(name)
        others = [one for one in parts if one in of]
        model = own.like.value if own and own.like else ""
        if own and own.like and others and model in of and model not in (*others, *linings):
            what = f'"{name}" is like "{model}", and there is "{others[0]}", for which it is named'
            answer = f'write like = "{others[0]}"; where it is meant so there is nothing to do'
            yield Question(place=own.like.place, what=what, answer=answer)
    for lining, parts in behind.items():
        for part in parts:
            others = [
                it
                for it, theirs in behind.items()
                if of[it] == of[lining] and it != lining
                for one in theirs
                if of.get(one, of[it]) != of[it]
            ]
            if of.get(part) == of[lining] and others and part in subject.specs:
                what = f'"{part}" is of "{of[part]}", as its lining "{lining}" is'
                yield _ask_goods(subject.specs[part], what)
    for piece in subject.build.pieces if len(subject.build.materials) > 1 else ():
        is_lining = has_phrase(f"{piece.name} {piece.title}", "lining") or piece.lines or piece.name in laid
        is_lined = any(one.model == piece.name and has_phrase(one.name, "lining") for one in subject.build.pieces)
        is_doubted = piece.name in strips or is_lined or any(piece.name in parts for parts in behind.values())
        is_doubted = is_doubted or any(hole.takes for hole in piece.marks.holes)
        is_lining = is_lining or _is_facing(subject, piece.name)
        if piece.material in called and not is_lining and is_doubted and piece.name in subject.specs:
            yield _ask_goods(
                subject.specs[piece.name], f'"{piece.name}" is of "{piece.material}", which is called a lining'
            )


def _is_facing(subject: Subject, name: str) -> bool:
    """Whether a part, or what it is joined to, is sewn to an edge of another and flat on that as well."""
    own = {name, subject.build.join_of.get(name, name)}
    others = [side for seam in subject.build.seams if own & seam.parts for side in seam.sides if side.part not in own]
    return not {side.part for side in others if side.edges}.isdisjoint(side.part for side in others if not side.edges)


def _ask_goods(own: PieceSpec, what: str) -> Question:
    place = own.of.place if own.of else own.place
    return Question(place=place, what=what, answer="look at its name in of; where it is so there is nothing to do")


@question
def ask_inside(subject: Subject) -> Iterator[Question]:
    """Foam and boards that are said to line a piece, and land on the side of it that shows."""
    kinds = {item.name: item.kind for item in subject.build.materials}
    for base in subject.build.pieces:
        own = subject.specs.get(base.name)
        for landing in base.marks.landings if own is not None else ():
            piece = subject.parts.pieces.get(landing.piece)
            is_stiff = piece is not None and kinds.get(piece.material) in ("foam", "board")
            items = [item for item in own.landings if item.piece and item.piece.value == landing.piece] if own else []
            if piece is not None and is_stiff and base.name in piece.lines and not landing.is_inside and items:
                what = f'"{piece.name}" is said to line "{base.name}", and lands on the side of it that shows'
                answer = "write inside = true for it; where it is seen there is nothing to do"
                yield Question(place=items[0].place, what=what, answer=answer)


@question
def ask_insets(subject: Subject) -> Iterator[Question]:
    """Foam and boards that are smaller than their model by more than a third of it."""
    kinds = {item.name: item.kind for item in subject.build.materials}
    for piece in subject.build.pieces:
        own, model = subject.specs.get(piece.name), subject.parts.pieces.get(piece.model)
        if own is None or own.inset is None or model is None or kinds.get(piece.material) not in ("foam", "board"):
            continue
        small, large = (outline_box(one.outline) for one in (piece, model))
        less_mm, whole_mm = large.width - small.width, min(large.width, large.height)
        if less_mm > MOST_INSET * whole_mm:
            told = map(subject.length, (less_mm, whole_mm))
            what = f'"{piece.name}" is {next(told)} smaller than "{model.name}", which is {next(told)} across'
            answer = "look at its inset; where it is to be so small there is nothing to do"
            yield Question(place=own.inset.place, what=what, answer=answer)


@question
def ask_flaps(subject: Subject) -> Iterator[Question]:
    """Flaps and covers by their word that bend by a quarter turn alone: they stand out, or half open. A flap with a hole to
    close it is to come down there."""
    snaps = {item.name for item in subject.build.hardware if item.kind == "snap"}
    for piece in subject.build.pieces:
        folds = piece.own_folds
        words = f"{piece.name} {piece.title}"
        is_so = piece.shape == "rectangle" and any(has_phrase(words, word) for word in BENT_OVER[1:])
        is_so = is_so or (
            has_phrase(words, BENT_OVER[0]) and any(hole.takes in ("", *snaps) for hole in piece.marks.holes)
        )
        if is_so and len(folds) == 1 and folds[0].is_open and folds[0].angle_deg == 90 and piece.name in subject.specs:
            what = f'"{piece.name}" has one fold, of a quarter turn: it stands out there, and does not come down'
            answer = "add the other fold, or write angle = 180; where it is to stand out there is nothing to do"
            yield Question(place=piece.place, what=what, answer=answer)


@question
def ask_copies(subject: Subject) -> Iterator[Question]:
    """Pieces of which the seams name copies by their numbers, and of which more are cut than the highest."""
    named: dict[str, set[int]] = {}
    for seam in subject.build.seams:
        for side in seam.sides:
            named.setdefault(side.part, set()).add(side.copy)
    for piece in subject.build.pieces:
        most = max(named.get(piece.name, {0}))
        own = subject.specs.get(piece.name)
        if own and own.cut and most > 1 and piece.cut > most:
            what = f'{piece.cut} of "{piece.name}" are cut, and the seams name no more than "{piece.name} {most}"'
            answer = f"write cut = {most}; where one is to spare there is nothing to do"
            yield Question(place=own.cut.place, what=what, answer=answer)


def _ask_sides(subject: Subject) -> Iterator[Question]:
    """Fronts and backs, lefts and rights of one name, cut from two leathers."""
    of = {piece.name: piece.material for piece in subject.build.pieces if piece.name in subject.specs}
    leather = leathers(subject.build)
    for name, goods in of.items():
        for one, other in TWINS:
            twin = re.sub(rf"(?:^|(?<=-)){one}$", other, name)
            if twin != name and twin in of and of[twin] != goods and {goods, of[twin]} <= leather:
                later = max((subject.specs[part] for part in (name, twin)), key=lambda part: part.place.line)
                what = f'"{name}" is of "{goods}", and "{twin}" of "{of[twin]}"'
                place = later.of.place if later.of else later.place
                answer = "look at both names; where two leathers are meant there is nothing to do"
                yield Question(place=place, what=what, answer=answer)


@question
def ask_unfolded(subject: Subject) -> Iterator[Question]:
    """Pieces that a step says to fold, and that have neither fold nor hem."""
    flat = {
        piece.name
        for piece in subject.build.pieces
        if piece.name in subject.specs and not piece.marks.folds and not piece.hems
    }
    asked: set[str] = set()
    for step in subject.spec.steps:
        spoken = speak_by_names(subject, step.do.value) if step.do and flat else ""
        for words in (*FOLDS.findall(spoken), *FOLDED.findall(spoken)):
            said = WORD_RE.findall(words.partition("'s ")[0])
            named = [name for name in (said[-1], said[-1].removesuffix("s")) if name in flat - asked] if said else []
            for name in named[:1]:
                asked.add(name)
                what = f'the step in line {step.place.line} folds "{name}", which has no fold'
                answer = (
                    f'write folds = [{{ at = "..." }}] in "{name}"; where another part is meant there is nothing to do'
                )
                yield Question(place=subject.specs[name].place, what=what, answer=answer)


def _ask_dividers(subject: Subject, piece: Piece) -> Iterator[Question]:
    """Dividing lines that part a piece evenly but for one, which is nearer to one neighbour."""
    if not LEAST_DIVIDERS <= len(piece.dividers) <= MOST:
        return
    box = outline_box(piece.sewn_outline)
    is_upright = all(abs(line.start.x - line.end.x) < SAME_MM for line in piece.dividers)
    if not is_upright and any(abs(line.start.y - line.end.y) > SAME_MM for line in piece.dividers):
        return
    begin, end = (box.left, box.right) if is_upright else (box.bottom, box.top)
    lines = sorted(piece.dividers, key=lambda line: _level(line, is_upright))
    levels = [begin, *(_level(line, is_upright) for line in lines), end]
    gaps = [b - a for a, b in pairwise(levels)]
    usual, _ = Counter(round(gap, 1) for gap in gaps).most_common(1)[0]
    odd = [k for k, gap in enumerate(gaps) if abs(gap - usual) > SAME_MM]
    inner = [k for k in odd if k not in (0, len(gaps) - 1)]
    for k in range(1, len(gaps)):
        is_one = {k - 1, k} >= {*inner} and k - 1 in odd and k in odd and len(odd) <= 3
        if is_one and abs(gaps[k - 1] + gaps[k] - 2 * usual) <= SAME_MM and len(gaps) - len(odd) >= 2:
            one, two, rest = map(subject.length, (gaps[k - 1], gaps[k], usual))
            what = (
                f'a dividing line of "{piece.name}" lies {one} from one neighbour and {two} from the other, where the '
            )
            what += f"others lie {rest} apart"
            answer = "measure it again; where the rooms are meant to be unlike there is nothing to do"
            yield Question(place=lines[k - 1].place, what=what, answer=answer)
            return


def _level(line: Divider, is_upright: bool) -> float:
    return line.start.x if is_upright else line.start.y
