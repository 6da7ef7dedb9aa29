"""Checks of linings: as many as there are parts that they line."""

from collections.abc import Iterator

from docgen.checks.trade.check import PRACTICE, Found, Subject, check
from docgen.geometry.outline import outline_box
from docgen.problems import name_words
from docgen.resolve import Piece
from docgen.written.units.telling import format_number

MOST_TIMES = 1.5
FAR_THINNER = 0.7  # leather so much thinner than the body may line it: our choice
SAME_MM = 3.0


@check("lining-short", "There is a lining for every part that it is said to line.", "counted", needs_whole=True)
def find_few_linings(subject: Subject) -> Iterator[Found]:
    """Cloth that lies behind others, of the shape of another piece or named to line some, and cloth or thin leather of
    which one edge is sewn to two parts as large; foam and board stiffen some of them only."""
    sewn = subject.sewn.keys()
    for piece in subject.build.pieces:
        if not _is_thin(subject, piece):
            continue
        lined = _sewn_to(subject, piece) if piece.name in sewn else _lined_by(subject, piece)
        need, cut = sum(subject.counts[name] for name in lined), subject.counts[piece.name]
        if cut < need:
            names = name_words(lined)
            are = "is" if cut == 1 else "are"
            what = f'{cut} of the lining "{piece.name}" {are} cut, and it lines {names}, {need} in all'
            place = subject.written_at(subject.spec.pieces, piece.name, "cut", "like")
            mend = f"write cut = {need}, or look which goods these are cut from"
            if _like_linings(subject, piece) >= need:
                mend = "name in one of its seams the other lining of that shape"
            yield place, what, mend, piece.name


@check(
    "lining-thicker",
    f"A lining is at most {format_number(MOST_TIMES, 1)} times as thick as what it lines.",
    PRACTICE,
    needs_whole=True,
    waits_for=("thickness-unusual",),
)
def find_thick_linings(subject: Subject) -> Iterator[Found]:
    """Leather and cloth that is said to line a part; once for a material."""
    told: set[str] = set()
    for piece in subject.build.pieces:
        material = subject.material(piece)
        for name in piece.lines if material and material.kind in ("leather", "fabric") else ():
            lined = subject.parts.pieces.get(name)
            other = subject.material(lined) if lined else None
            if material is None or other is None or other.kind != "leather" or material.name in told:
                continue
            if material.thickness_mm > MOST_TIMES * other.thickness_mm + 1e-6:
                told.add(material.name)
                line = subject.written_at(subject.spec.materials, other.name, "thickness").line
                what = (
                    f'"{material.name}" of the lining "{piece.name}" is {subject.length(material.thickness_mm)} thick, and '
                    f'"{other.name}", which it lines, {subject.length(other.thickness_mm)} (line {line})'
                )
                place = subject.written_at(subject.spec.materials, material.name, "thickness")
                yield place, what, "look at both figures and their units", material.name


@check(
    "lining-of-foam",
    "What a strap is lined with is leather or cloth.",
    "common practice, no published source",
    needs_whole=True,
)
def find_foam_linings(subject: Subject) -> Iterator[Found]:
    """Straps lined with foam or board, which are for their padding."""
    for spec in subject.spec.straps:
        material = subject.parts.materials.get(spec.lining.value) if spec.lining else None
        if spec.lining is not None and material is not None and material.kind in ("foam", "board"):
            what = f'the strap "{spec.name}" is lined with "{material.name}", which is {material.kind}'
            yield spec.lining.place, what, "name leather or cloth; foam is padding", spec.name


def _like_linings(subject: Subject, piece: Piece) -> int:
    """How many linings of one shape with this are cut, it with them: 0 where it is the only one."""
    alike = [
        other.name
        for other in subject.build.pieces
        if other.model == piece.model and other.material == piece.material and other.name != piece.name
    ]
    return sum(subject.counts[name] for name in (piece.name, *alike)) if alike else 0


def _is_thin(subject: Subject, piece: Piece) -> bool:
    """Whether a piece is of cloth, or of leather that is far thinner than some other of the build."""
    material = subject.material(piece)
    thickest_mm = max((one.thickness_mm for one in subject.build.materials if one.kind == "leather"), default=0.0)
    is_far = material is not None and material.thickness_mm < FAR_THINNER * thickest_mm
    return material is not None and (material.kind == "fabric" or (material.kind == "leather" and is_far))


def _sewn_to(subject: Subject, piece: Piece) -> list[str]:
    """The parts of other leather that seams sew to a lining, a seam for each: of its shape, or as large by one edge."""
    parts: dict[str, str] = {}
    edges_of: dict[str, tuple[str, ...]] = {}
    for seam in subject.build.seams:
        edges = {side.edges for side in seam.sides if side.part == piece.name and not side.copy}
        others = [side for side in seam.sides if side.part != piece.name and side.edges in edges]
        for side in others if len(others) == 1 else ():
            other = subject.parts.pieces.get(side.part)
            material = subject.material(other) if other else None
            is_other = material is not None and material.kind == "leather" and material.name != piece.material
            if other and is_other and _is_as_large(piece, other) and other.name not in parts:
                parts[other.name], edges_of[other.name] = seam.name, side.edges
    is_like = all(piece.model in (name, subject.parts.pieces[name].model) for name in parts)
    is_by_one = is_like or len({*edges_of.values()}) == 1
    return list(parts) if is_by_one and len({*parts.values()}) == len(parts) else []


def _is_as_large(piece: Piece, other: Piece) -> bool:
    """Whether a lining has the shape of a part, or is as wide and as high."""
    one, two = outline_box(piece.outline), outline_box(other.outline)
    is_so = max(abs(one.width - two.width), abs(one.height - two.height)) <= SAME_MM
    return piece.model in (other.name, other.model) or is_so


def _lined_by(subject: Subject, piece: Piece) -> list[str]:
    """The parts that a piece of cloth lies behind: those it names, else its model in leather."""
    own = subject.material(piece)
    if own is None or own.kind != "fabric":
        return []
    if piece.lines:
        return [name for name in dict.fromkeys(piece.lines) if subject.counts[name]]
    spec = subject.piece_spec(piece.name)
    model = spec.like.value if spec and spec.like else ""
    other = subject.parts.pieces.get(model)
    material = subject.material(other) if other else None
    return [model] if material is not None and material.kind == "leather" else []
