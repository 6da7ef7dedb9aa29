"""Checks of pieces against what they are cut from: skives, folds, linings, width of the goods."""

from collections.abc import Iterable, Iterator

from docgen.checks.trade.check import PRACTICE, Found, Subject, check
from docgen.geometry.measure import is_inside
from docgen.geometry.outline import outline_box, outline_path
from docgen.geometry.path import flatten
from docgen.geometry.shapes import Path, Point
from docgen.geometry.vector import dot, subtract, turn_left, unit
from docgen.problems import line_words
from docgen.read import NamedTable
from docgen.resolve import Fold, Material, Piece
from docgen.tables.sewing import LEAST_SKIVED_MM
from docgen.written.units.telling import format_fine, format_mm, format_thickness

NARROWEST_ROLL_MM = 100.0  # no cloth is sold so narrow by the roll: our choice
UNIT_MEND = "look at the figure and its unit, or take wider goods"


@check("skive-on-goods", "Only leather can be skived.", "plain from the goods", stops=True)
def find_skived_goods(subject: Subject) -> Iterator[Found]:
    for piece, material in _cut_from(subject):
        if piece.marks.skives and material.kind != "leather":
            what = f'"{piece.name}" is {material.kind}, which cannot be skived'
            yield piece.place, what, "leave out its skives", piece.name


@check("skive-too-deep", "A skive leaves less than the leather is thick.", "plain from the goods", stops=True)
def find_deep_skives(subject: Subject) -> Iterator[Found]:
    for piece, material in _cut_from(subject):
        most_mm = max((skive.to_mm for skive in piece.marks.skives), default=0.0)
        if material.kind == "leather" and piece.marks.skives and most_mm >= material.thickness_mm:
            left, full = (
                format_thickness(mm, material.kind, subject.build.show) for mm in (most_mm, material.thickness_mm)
            )
            what = f'"{piece.name}" is skived to {left}, and its leather is {full} thick'
            own = next((one for one in subject.spec.pieces if one.name == piece.name), None)
            to = next((skive.to for skive in own.skives if skive.to), None) if own and len(own.skives) == 1 else None
            specs = (*subject.spec.pieces, *subject.spec.straps)
            written = (
                subject.written_at(specs, piece.name, "of", "like") if piece.name in _named(specs) else piece.place
            )
            mend = f'skive to less than the leather, or look at that: it is "{material.name}"{line_words(written.line)}'
            yield to.place if to else piece.place, what, mend, piece.name


def _named(specs: Iterable[NamedTable]) -> set[str]:
    return {spec.name for spec in specs}


@check("skive-thin-at-fold", "A fold keeps {fold_leather} of leather.", PRACTICE, needs_whole=True)
def find_thin_folds(subject: Subject) -> Iterator[Found]:
    """Once for pieces that are like each other."""
    least_mm = subject.build.limits.fold_leather_mm
    told: set[Path] = set()
    for piece in subject.build.pieces:
        thin = [
            skive
            for skive in piece.marks.skives
            if skive.to_mm < subject.build.limits.fold_leather_mm
            and any(is_inside(skive.band, _middle(f)) for f in piece.marks.folds)
        ]
        if thin and thin[0].band not in told:
            told.add(thin[0].band)
            what = f'"{piece.name}" is skived to {format_mm(thin[0].to_mm, 2)} where it is folded, and tears there'
            yield (piece.place, what, f"leave {format_mm(least_mm)} or more at the fold", piece.name)


@check("skive-to-nothing", f"A skive leaves {format_mm(LEAST_SKIVED_MM)} or more.", PRACTICE)
def find_empty_skives(subject: Subject) -> Iterator[Found]:
    """Once for pieces that are like each other."""
    told: set[Path] = set()
    for piece in subject.build.pieces:
        for skive in piece.marks.skives:
            if skive.to_mm < LEAST_SKIVED_MM - 1e-6 and skive.band not in told:
                told.add(skive.band)
                left = f"{format_fine(skive.to_mm, 2)} mm"
                what = f'"{piece.name}" is skived to {left} along "{skive.edges}": nothing is left there'
                yield (piece.place, what, "write what the skive leaves, or accept an edge pared to nothing", piece.name)


@check(
    "fold-allowance",
    "{fold_beyond} or more lie beyond a fold.",
    PRACTICE,
    needs_whole=True,
    gives_way=("fold-near-edge",),
)
def find_short_folds(subject: Subject) -> Iterator[Found]:
    """What is turned: the side of the fold that reaches less far. Once for pieces that are like each other."""
    least_mm = subject.build.limits.fold_beyond_mm
    told: set[tuple[Path, Point]] = set()
    for piece in subject.build.pieces:
        for fold in piece.marks.folds:
            turned_mm = _turned_mm(piece, fold)
            key = (outline_path(piece.outline), fold.start)
            if turned_mm < least_mm - 1e-6 and key not in told:
                told.add(key)
                what = f'a fold of "{piece.name}" leaves {subject.length(turned_mm)} to turn'
                mend = f"leave {subject.length(least_mm)} or more beyond the fold"
                spec = subject.piece_spec(piece.name)
                turns = [hem.turn.place for hem in spec.hems if hem.turn] if spec and fold.of_hem else []
                own = piece.place if fold.of_hem or not fold.place.line else fold.place
                yield turns[0] if len(turns) == 1 else own, what, mend, piece.name


def _middle(fold: Fold) -> Point:
    return Point((fold.start.x + fold.end.x) / 2, (fold.start.y + fold.end.y) / 2)


def _turned_mm(piece: Piece, fold: Fold) -> float:
    across = turn_left(unit(subtract(fold.end, fold.start)))
    reach = [dot(subtract(at, fold.start), across) for at in flatten(outline_path(piece.outline))]
    return min(max(reach), -min(reach))


def _sizes(piece: Piece) -> tuple[float, float]:
    box = outline_box(piece.outline)
    return box.width, box.height


@check(
    "piece-wider-than-goods", "A piece is no wider than the roll it is cut from.", "plain from the goods", stops=True
)
def find_wide_pieces(subject: Subject) -> Iterator[Found]:
    """Wider than the goods however they lie; or as they have to, least stretch along the roll."""
    narrow = {item.name: item for item in subject.build.materials if 0 < item.roll_width_mm < NARROWEST_ROLL_MM}
    for item in narrow.values():
        least_mm = max(
            (min(_sizes(piece)) for piece, material in _cut_from(subject) if material.name == item.name), default=0.0
        )
        if least_mm > item.roll_width_mm:
            what = (
                f'"{item.name}" is {subject.length(item.roll_width_mm)} wide, and what is cut from it up to '
                f"{subject.length(least_mm)} across"
            )
            yield subject.written_at(subject.spec.materials, item.name, "width"), what, UNIT_MEND, item.name
    for piece, material in _cut_from(subject):
        box = outline_box(piece.outline)
        least_mm = min(box.width, box.height)
        if material.name in narrow:
            continue
        lies_mm = {"up": box.width, "across": box.height}.get(piece.least_stretch, least_mm)
        if 0 < material.roll_width_mm < lies_mm:
            is_bound = lies_mm > least_mm and least_mm <= material.roll_width_mm
            what = (
                f'"{piece.name}" is {subject.length(lies_mm)} across'
                f'{", its least stretch along the roll" if is_bound else ""}, and "{material.name}" is '
                f"{subject.length(material.roll_width_mm)} wide"
            )
            turn = "leave out least-stretch, so that it may be turned; else " if is_bound else ""
            yield piece.place, what, f"{turn}cut it from two pieces, or take wider goods", piece.name


@check("lining-larger", "A lining is at most {lining_larger} larger than its leather.", PRACTICE, needs_whole=True)
def find_large_linings(subject: Subject) -> Iterator[Found]:
    """Of one with hems both between their folds, of any other both as cut: it may lie in a hem of its leather."""
    told: set[str] = set()
    for lining, leather in _linings(subject):
        both = (leather.sewn_outline, lining.sewn_outline) if lining.hems else (leather.outline, lining.outline)
        small, large = map(outline_box, both)
        over_mm = max(large.width - small.width, large.height - small.height)
        if over_mm > subject.build.limits.lining_larger_mm and lining.name not in told:
            told.add(lining.name)
            what = f'the lining "{lining.name}" is {subject.length(over_mm)} larger than its leather "{leather.name}"'
            mend = "make it as large as the leather, or a little smaller"
            hemmed = ", once its hems are turned" if lining.hems else ""
            yield lining.place, f"{what}{hemmed}", f"{mend}{hemmed}", lining.name


def _linings(subject: Subject) -> Iterator[tuple[Piece, Piece]]:
    """Cloth, foam and board, and the leather they line: its model, what it is said to line, and partners that meet it
    along two edges or more; one that says what it lines, or is like a piece of leather, is held against no other."""
    pieces = subject.parts.pieces
    models = {spec.name: spec.like.value for spec in subject.spec.pieces if spec.like}
    is_told = {piece.name for piece in pieces.values() if piece.lines}
    is_told |= {
        name for name, model in models.items() if model in pieces and _kind(subject, pieces[model]) == "leather"
    }
    pairs = list(models.items())
    pairs += [(piece.name, lined) for piece in pieces.values() for lined in piece.lines]
    pairs += [
        (one.part, two.part)
        for seam in subject.build.seams
        for one in seam.sides
        for two in seam.sides
        if len(set(one.edges) & set(two.edges)) >= 2 and one.part not in is_told
    ]
    for name, model in pairs:
        if name in pieces and model in pieces:
            lining, leather = pieces[name], pieces[model]
            if any(landing.piece == model for landing in lining.marks.landings):
                continue  # what leather is laid on does not line it
            if any(landing.piece == name for landing in leather.marks.landings):
                continue  # it reaches over the edge of that, and is told so
            if _kind(subject, lining) in ("fabric", "foam", "board") and _kind(subject, leather) == "leather":
                yield lining, leather


def _kind(subject: Subject, piece: Piece) -> str:
    material = subject.material(piece)
    return material.kind if material else ""


def _cut_from(subject: Subject) -> Iterator[tuple[Piece, Material]]:
    for piece in subject.build.cut:
        material = subject.material(piece)
        if material is not None:
            yield piece, material
