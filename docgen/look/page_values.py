"""A sight -> the words and drawings of its page, ready for the template."""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import Final

from docgen.classes import dataclass
from docgen.geometry.outline import outline_box
from docgen.geometry.shapes import Box
from docgen.look.piece_drawing import HOLES_NAMED, draw_piece_for_look, lies_on_its_side
from docgen.look.seam_looks import SeamLook, list_seam_looks
from docgen.pages import hold_measures
from docgen.pages.marks.page import Page
from docgen.pages.setting.blocks import Figure
from docgen.plan import MaterialPlan, Plan
from docgen.problems import Problem, shorten
from docgen.resolve import Build, Piece, Seam, Strap, by_name
from docgen.write import write_on_web
from docgen.written.units.telling import (
    format_bought_area,
    format_bought_run,
    format_length,
    format_mm,
    format_pitch,
    format_punch,
    format_run,
    format_slot,
    format_stack,
    format_thickness,
)

SHEET_PX: Final = 620.0
VIEW_PER_MM: Final = 3.4


@dataclass(frozen=True, slots=True, kw_only=True)
class ProblemWords:
    """`kind` is "error" or "caution"; `place` is file and line."""

    kind: str
    place: str
    what: str
    written: str
    mend: str
    check: str


@dataclass(frozen=True, slots=True, kw_only=True)
class PieceWords:
    """`drawing` is an `svg` element; `holes` are number, size, place, what goes through; `more` counts those left out."""

    name: str
    title: str
    facts: str
    drawing: str
    holes: tuple[tuple[str, ...], ...]
    more: int


@dataclass(frozen=True, slots=True, kw_only=True)
class SeamWords:
    look: SeamLook
    joins: tuple[str, ...]
    facts: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Listed:
    title: str
    headings: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]


def tell_problems(problems: Sequence[Problem]) -> tuple[ProblemWords, ...]:
    """Errors first, then cautions; each in the order of the file."""
    ordered = sorted(problems, key=lambda one: one.severity != "error")
    return tuple(_tell_problem(one) for one in ordered)


def _tell_problem(problem: Problem) -> ProblemWords:
    place = problem.place
    name = place.path.replace("\\", "/").rpartition("/")[2]
    at = f", at {problem.at}" if problem.at else ""
    return ProblemWords(
        kind=problem.severity,
        place=f"{name}, line {place.line}" if place.line else name,
        what=problem.what,
        written=shorten(place.words),
        mend=problem.mend,
        check=f"{problem.check}{at}" if problem.check else "",
    )


def tell_pieces(build: Build) -> tuple[PieceWords, ...]:
    """Every piece and strap that is cut, each drawn."""
    looks = by_name(list_seam_looks(build))
    titles = build.titles
    return tuple(
        PieceWords(
            name=piece.name,
            title=piece.title,
            facts=_piece_facts(piece, build, titles.get(piece.material, piece.material)),
            drawing=draw_piece_for_look(piece, looks),
            holes=tuple(_tell_holes(piece, build)),
            more=max(len(piece.marks.holes) - HOLES_NAMED, 0),
        )
        for piece in build.cut
    )


def _piece_facts(piece: Piece, build: Build, material: str) -> str:
    box = outline_box(piece.outline)
    size = f"{format_length(box.width, build.show)} x {format_length(box.height, build.show)}"
    pair = ", half of them mirrored" if piece.is_pair else ""
    turned = "; drawn on its side, its top to the right" if lies_on_its_side(piece) else ""
    return hold_measures(f"cut {piece.cut}{pair} from {material}; {size}{turned}")


def _tell_holes(piece: Piece, build: Build) -> Iterator[tuple[str, ...]]:
    box = outline_box(piece.outline)
    for number, hole in enumerate(piece.marks.holes[:HOLES_NAMED], start=1):
        long_mm = hole.long_mm
        size = (
            format_slot(hole.diameter_mm, long_mm, build.show)
            if long_mm
            else format_punch(hole.diameter_mm, build.show)
        )
        across, up = format_length(hole.at.x - box.left, build.show), format_length(hole.at.y - box.bottom, build.show)
        takes = build.titles.get(hole.takes, hole.takes)
        place = hold_measures(f"{across} from the left, {up} up")
        yield str(number), hold_measures(size), place, takes, ", ".join(hole.meets)


def tell_seams(build: Build) -> tuple[SeamWords, ...]:
    """Every line of stitches with what it joins."""
    seams, parts = by_name(build.seams), build.part_titles
    return tuple(
        SeamWords(
            look=look,
            joins=tuple(
                _tell_sides(seams[look.name], parts) if look.name in seams else _tell_bearers(build, look.name)
            ),
            facts=_seam_facts(seams[look.name], build) if look.name in seams else "",
        )
        for look in list_seam_looks(build)
    )


def _tell_sides(seam: Seam, parts: dict[str, str]) -> Iterator[str]:
    for side in seam.sides:
        yield f"{parts.get(side.part, side.part)}: {side.edge_words}" if side.edges else parts.get(side.part, side.part)


def _tell_bearers(build: Build, name: str) -> Iterator[str]:
    """What bears a line of stitches that is no seam's: the strips of a join, a strap, a hem."""
    for piece in build.cut:
        if any(line.seam == name for line in piece.marks.stitch_lines):
            yield piece.title


def _seam_facts(seam: Seam, build: Build) -> str:
    length = format_length(seam.length_mm, build.show)
    return f"{length}, {seam.stitches} stitches of {format_pitch(seam.pitch_mm)}, {format_stack(seam.stack_mm)} thick"


def tell_straps(build: Build) -> Listed:
    """The lengths of all straps."""
    rows = (_tell_strap(strap, build) for strap in build.straps)
    return Listed(title="straps", headings=("strap", "width", "cut length", "finished", "in use"), rows=tuple(rows))


def _tell_strap(strap: Strap, build: Build) -> tuple[str, ...]:
    lengths = (strap.width_mm, strap.cut_length_mm, strap.finished_mm)
    worn = " / ".join(format_length(worn_mm, build.show) for worn_mm in dict.fromkeys(strap.worn_mm))
    return strap.title, *(format_length(one, build.show) for one in lengths), worn


def tell_materials(plan: Plan) -> Listed:
    """What to buy of each material, an estimate."""
    rows = (_tell_material(one, plan.build) for one in plan.materials)
    return Listed(
        title="materials, an estimate", headings=("material", "thickness", "pieces and straps", "buy"), rows=tuple(rows)
    )


def _tell_material(one: MaterialPlan, build: Build) -> tuple[str, ...]:
    show, material = build.show, one.material
    bought = format_bought_run(one.run_mm, show) if material.roll_width_mm else format_bought_area(one.gross_mm2, show)
    thickness = format_thickness(material.thickness_mm, material.kind, show)
    return material.title, thickness, str(one.pieces + one.strips), bought


def tell_hardware(plan: Plan) -> Listed:
    """How many of each, by the length of post where posts are chosen; last those to try."""
    rows = (
        (item.hardware.what, f"post {format_mm(post_mm)}{to_try}" if post_mm else "", str(count))
        for item in plan.hardware
        for posts, to_try in (
            (item.posts or ((0.0, item.count),), ""),
            (item.studs if item.has_other_studs else (), ", of the stud"),
            (item.tried, ", to try"),
        )
        for post_mm, count in posts
    )
    return Listed(title="hardware", headings=("what", "post", "count"), rows=tuple(rows))


def tell_thread(plan: Plan) -> Listed:
    """An estimate of each thread."""
    show = plan.build.show
    rows = (
        (one.thread_words, one.by, ", ".join(f"{needle}" for needle in one.needles), format_run(one.total_mm, show))
        for one in plan.threads
    )
    headings = ("thread", "sewn by", "needles (1/100 mm)", "length in all")
    return Listed(title="thread, an estimate", headings=headings, rows=tuple(rows))


def tell_trimmings(plan: Plan) -> Listed:
    """Each length that is cut of goods by length."""
    show = plan.build.show
    rows = (
        (item.trimming.what, format_length(cut.length_mm, show), str(count))
        for item in plan.trimmings
        for cut, count in item.cuts
    )
    return Listed(title="goods by length", headings=("what", "cut length", "count"), rows=tuple(rows))


def draw_views(finished: Sequence[Figure]) -> Iterator[tuple[str, str]]:
    """The finished article from each side: what it says of the view, and its drawing."""
    for figure in finished:
        box = Box(0.0, 0.0, figure.width_mm, figure.height_mm)
        yield figure.caption, write_on_web(figure.marks, box, figure.caption, VIEW_PER_MM)


def draw_sheets(sheets: Sequence[Page]) -> Iterator[tuple[str, str]]:
    """Each sheet of the pattern: its label, and its drawing."""
    for page in sheets:
        box = Box(0.0, 0.0, page.width_mm, page.height_mm)
        yield page.label, write_on_web(page.marks, box, page.label, SHEET_PX / page.width_mm)


def tell_tables(plan: Plan) -> tuple[Listed, ...]:
    """What was worked out for cutting and buying, list by list; nothing of what it costs, since the page may be sent."""
    tables = (
        tell_straps(plan.build),
        tell_materials(plan),
        tell_hardware(plan),
        tell_trimmings(plan),
        tell_thread(plan),
    )
    return tuple(
        replace(one, rows=tuple(tuple(map(hold_measures, row)) for row in one.rows)) for one in tables if one.rows
    )
