"""What to cut, and how much material that takes."""

from collections import Counter
from collections.abc import Callable, Iterator, Sequence, Set
from dataclasses import replace

from docgen.geometry.outline import outline_box, outline_path
from docgen.geometry.path import path_area
from docgen.geometry.vector import distance
from docgen.plan.buying import list_boxes, plan_bought
from docgen.plan.edge import plan_edge
from docgen.plan.names import spoken
from docgen.plan.plan import CutItem, MaterialPlan, StrapItem
from docgen.plan.rows import Box, fit_rows, sum_rows
from docgen.resolve import Build, Hole, Material, Piece, Skive, Slit, Strap, TemplateWay, find_windows
from docgen.tables.limits import Limits
from docgen.tables.material import find_gross_mm2
from docgen.written.units.telling import (
    Show,
    format_length,
    format_punch,
    format_short_punch,
    format_short_slot,
    format_slot,
    format_thickness,
)

# A piece is small when it has less than this share of the area of the largest one from the same leather. Our choice.
SMALL_SHARE = 0.25


def plan_materials(build: Build) -> tuple[MaterialPlan, ...]:
    """One entry per material that something is cut from, in the order of cutting: leather first, then lining, foam and
    board; else as in the spec. Within one the longest straps, then the largest pieces come first."""
    ordered = sorted(
        (item for item in build.materials if not item.by_length), key=lambda material: material.kind != "leather"
    )
    plans = [_plan_material(build, material) for material in ordered]
    return tuple(plan for plan in plans if plan.straps or plan.items)


def _plan_material(build: Build, material: Material) -> MaterialPlan:
    straps = [item for strap in build.straps for item in _strap_items(strap, material.name, build.makes)]
    items = [_cut_item(piece, build) for piece in build.pieces if piece.material == material.name]
    return sum_material(material, straps, items, build.limits)


def sum_material(
    material: Material, straps: Sequence[StrapItem], items: Sequence[CutItem], limits: Limits
) -> MaterialPlan:
    """What these straps and pieces take of one material, put in the order of cutting."""
    straps = sorted(straps, key=lambda item: -item.length_mm)
    items = _group_items(material, sorted(items, key=lambda item: -item.area_mm2))
    net_mm2 = sum(strap.area_mm2 * strap.count for strap in straps) + sum(item.area_mm2 * item.count for item in items)
    gross_mm2 = find_gross_mm2(net_mm2, material.waste)
    run_mm = _run_mm(material, gross_mm2, list_boxes(material.goods, straps, items), limits)
    return MaterialPlan(
        material=material,
        edge=plan_edge(straps, material.goods.edge_mm),
        straps=tuple(straps),
        items=items,
        net_mm2=net_mm2,
        gross_mm2=gross_mm2,
        run_mm=run_mm,
        bought=plan_bought(material, straps, items, gross_mm2=gross_mm2, run_mm=run_mm, limits=limits),
    )


def _group_items(material: Material, items: Sequence[CutItem]) -> tuple[CutItem, ...]:
    """The pieces, largest first, told when they are cut."""
    if material.kind != "leather":
        return tuple(replace(item, group="under") for item in items)
    small_mm2 = SMALL_SHARE * max((item.area_mm2 for item in items), default=0.0)
    return tuple(replace(item, group="small" if item.area_mm2 < small_mm2 else "panels") for item in items)


def _run_mm(material: Material, gross_mm2: float, boxes: Sequence[Box], limits: Limits) -> float:
    """Running length that is needed: the rows that hold all pieces, and at least what the area with its waste asks
    for."""
    if not material.roll_width_mm:
        return 0.0
    rows = fit_rows(boxes, material.roll_width_mm, limits.knife_gap_mm)
    return max(gross_mm2 / material.roll_width_mm, sum_rows(rows))


def _strap_items(strap: Strap, material: str, makes: int) -> Iterator[StrapItem]:
    """The strap, the second layer of a doubled one and its padding, as far as they are cut from this material."""
    count, width_mm = strap.cut * makes, strap.width_mm
    if strap.material == material:
        yield StrapItem(
            strap=strap,
            title=strap.title,
            count=count,
            width_mm=width_mm,
            length_mm=strap.cut_length_mm,
            area_mm2=path_area(outline_path(strap.piece.outline)),
            notes=way_notes(strap.piece.template, strap.piece.template_of),
        )
    if strap.lining == material:
        yield StrapItem(
            strap=strap,
            title=f"{strap.title}, second layer",
            count=count,
            width_mm=width_mm,
            length_mm=strap.lining_length_mm,
            area_mm2=strap.lining_area_mm2,
            is_lining=True,
        )
    if strap.padding == material:
        yield StrapItem(
            strap=strap,
            title=f"{strap.title}, padding",
            count=count,
            width_mm=strap.padding_width_mm,
            length_mm=strap.padding_length_mm,
            area_mm2=strap.padding_width_mm * strap.padding_length_mm,
            is_padding=True,
        )


def _cut_item(piece: Piece, build: Build) -> CutItem:
    box = outline_box(piece.outline)
    return CutItem(
        name=piece.name,
        title=piece.title,
        piece=piece,
        group="panels",
        count=piece.cut * build.makes,
        is_pair=piece.is_pair,
        shape=piece.shape,
        width_mm=box.width,
        height_mm=box.height,
        area_mm2=path_area(outline_path(piece.outline)),
        notes=(*template_notes(build, piece), *_notes(piece, build.show)),
    )


def template_notes(build: Build, piece: Piece) -> tuple[str, ...]:
    """How it is cut without a template of its own: `die: ring tab`, `by the rule`, `template of Back panel`."""
    return way_notes(piece.template, build.part_titles.get(piece.template_of, piece.template_of))


def way_notes(way: TemplateWay, of: str) -> tuple[str, ...]:
    """The same, of the die or template called so."""
    match way:
        case "die":
            return (f"die: {of}",)
        case "rule":
            return ("by the rule, no template",)
        case "kept":
            return (f"template kept: {of}",)
        case "shared":
            return (f"by the template of {of}",)
        case _:
            return ()


def _notes(piece: Piece, show: Show) -> tuple[str, ...]:
    notes = [*hem_words(piece, show), *skive_notes(piece.marks.skives, show)]
    notes += [*purpose_words(piece.marks.holes, show), *slit_words(piece, show)]
    notes += ["length worked out from its seam"] if piece.is_solved else []
    return (*notes, *([piece.note] if piece.note else []))


def hem_words(piece: Piece, show: Show) -> list[str]:
    """`hem top: turn over 1/2 in (12.7 mm)` for each hem."""
    return [
        f"hem {'all round' if 'all' in hem.edges else join_words(hem.edges)}: turn over "
        f"{'twice, ' if hem.is_double else ''}{format_length(hem.turned_mm, show)}{' each' if hem.is_double else ''}"
        for hem in piece.hems
    ]


def skive_notes(skives: Sequence[Skive], show: Show) -> list[str]:
    """Skives of one width and thickness together: "skive start and end: 1/2 in (12.7 mm) wide, to 2.5 oz (1 mm)"."""

    def say(skive: Skive) -> str:
        return f"{format_length(skive.width_mm, show)} wide, to {thin_words(skive, show)}"

    return [f"skive {edges}: {words}" for words, edges in group_skives(skives, say)]


def group_skives(skives: Sequence[Skive], say: Callable[[Skive], str]) -> list[tuple[str, str]]:
    """What is said of skives, each once, with all the edges of which it is said."""
    edges: dict[str, list[str]] = {}
    for skive in skives:
        edges.setdefault(say(skive), []).append(skive.edges)
    return [(words, join_edges(" ".join(names))) for words, names in edges.items()]


def thin_words(skive: Skive, show: Show) -> str:
    """How thin a band becomes: "3 oz (1.2 mm)"."""
    return format_thickness(skive.to_mm, "leather", show, skive.to_words)


def join_edges(edges: str) -> str:
    """The edges of a run as they are said: "left, bottom and right"."""
    return join_words(edges.split())


def join_words(items: Sequence[str]) -> str:
    """`a, b and c`."""
    *before, last = items
    return f"{', '.join(before)} and {last}" if before else last


def purpose_words(holes: Sequence[Hole], show: Show, *, is_short: bool = False) -> list[str]:
    """`hole_words`, apart for each kind of hardware that they take, and for what they meet: `4 holes, 3/16 in (4.8 mm),
    for rivet and Handle`."""
    return [text + more for more, alike in _by_purpose(holes) for text in hole_words(alike, show, is_short=is_short)]


def purpose_counts(holes: Sequence[Hole], told: Set[str] = frozenset()) -> list[str]:
    """The same of holes of one size, without it, and without what they take where they meet something: `4, for Handle`.
    What `told` names has said that it meets them: nothing more is said of such holes, but beside others what they take."""
    found: dict[str, int] = {}
    untold = any(not hole.meets or not {*hole.meets} <= told for hole in holes)
    for hole in holes:
        meets = [spoken(title) for title in hole.meets if title not in told]
        what = join_words(meets) if meets else hole.takes.replace("-", " ") if untold or not hole.meets else ""
        more = f", for {what}" if what else ""
        found[more] = found.get(more, 0) + 1
    return [f"{count}{more}" for more, count in found.items()]


def _by_purpose(holes: Sequence[Hole]) -> Iterator[tuple[str, tuple[Hole, ...]]]:
    """What holes take and meet, in words, with those of which it is said."""
    for takes, meets in dict.fromkeys((hole.takes, hole.meets) for hole in holes):
        what = [*([takes.replace("-", " ")] if takes else []), *map(spoken, meets)]
        more = f", for {join_words(what)}" if what else ""
        yield more, tuple(hole for hole in holes if (hole.takes, hole.meets) == (takes, meets))


def slit_words(piece: Piece, show: Show) -> list[str]:
    """`cut 1 slit, 3/4 in (19.1 mm) long` for each length of slit; what is cut apart along two lines, or cut out between
    four, is told as that: `cut out a window, 166 mm (6 17/32 in) × 12 mm (15/32 in)`."""
    windows = find_windows(piece.marks.slits)
    sizes = [" × ".join(format_length(mm, show) for mm in _window_mm(one)) for one in windows]
    out = [f"cut out {_count(sizes.count(size), 'window')}, {size}" for size in dict.fromkeys(sizes)]
    slits = [slit for slit in piece.marks.slits if not any(slit in window for window in windows)]
    lengths = [(format_length(distance(slit.start, slit.end), show), slit.is_apart) for slit in slits]
    counts = {words: lengths.count(words) for words in lengths}
    return out + [
        f"cut apart along {count} lines, {words} long: what lies between them goes"
        if is_apart
        else f"cut {count} {'slit' if count == 1 else 'slits'}, {words} long"
        for (words, is_apart), count in counts.items()
    ]


def _count(number: int, what: str) -> str:
    """`a window`, `2 windows`."""
    return f"a {what}" if number == 1 else f"{number} {what}s"


def _window_mm(window: Sequence[Slit]) -> tuple[float, float]:
    """How long and how wide a window is."""
    one, other = (distance(slit.start, slit.end) for slit in window[:2])
    return max(one, other), min(one, other)


def hole_words(holes: tuple[Hole, ...], show: Show, *, is_short: bool = False) -> list[str]:
    """`4 holes, 3/16 in (4.8 mm)` for each size of punch, smallest first; of oblong ones
    `1 slot, 3/16 × 1 1/4 in (4.8 × 31.8 mm)`; where `is_short`, in the unit to show alone."""
    counts = Counter((hole.diameter_mm, round(hole.long_mm, 6)) for hole in holes)
    return [_count_words(counts[size], size, show, is_short=is_short) for size in sorted(counts)]


def size_words(hole: Hole, show: Show) -> str:
    """The punch that a hole takes: `5/32 in (4 mm)`, `1/8 × 1 in (3.2 × 25.4 mm)`."""
    if hole.long_mm:
        return format_slot(hole.diameter_mm, hole.long_mm, show)
    return format_punch(hole.diameter_mm, show)


def _count_words(count: int, size: tuple[float, float], show: Show, *, is_short: bool) -> str:
    width_mm, long_mm = size
    if long_mm:
        slot = (format_short_slot if is_short else format_slot)(width_mm, long_mm, show)
        return f"{count} {'slot' if count == 1 else 'slots'}, {slot}"
    punch = (format_short_punch if is_short else format_punch)(width_mm, show)
    return f"{count} {'hole' if count == 1 else 'holes'}, {punch}"
