"""Plan -> cutting list: what to cut from each material, straps first, and what to buy."""

from __future__ import annotations

from collections.abc import Mapping

from docgen.pages.blocks import Block, Caution, Column, Heading, KeyValues, Paragraph, Table, Together
from docgen.pages.page import Document
from docgen.pages.paging import head_blocks, hold_measures, needle_words, page_blocks
from docgen.pages.setup import Setup
from docgen.pages.templates import parse_words, render_words, words
from docgen.plan import CutItem, HardwareItem, MaterialPlan, Plan, StrapItem, ThreadNeed
from docgen.resolve import Material
from docgen.tables.cautions import HAZARDS
from docgen.tables.material import MM_PER_OUNCE
from docgen.units import Show, format_area, format_length, format_mm, format_number, format_run

NAME = "cutting-list"

Said = Mapping[str, str]


def lay_out_cutting_list(plan: Plan, setup: Setup) -> Document:
    """The pages of the cutting list; nothing in it can fail, since the plan has no holes."""
    said, show = words("cutting"), plan.build.show
    blocks: list[Block] = [
        *head_blocks(NAME, plan, setup),
        *parse_words(render_words("cutting_list", straps=_strap_titles(plan))),
        _blade_caution(),
        *_caution_blocks(plan, said),
    ]
    for material in plan.materials:
        blocks += _material_blocks(material, show, said)
    blocks += _hardware_blocks(plan.hardware, said)
    blocks += _thread_blocks(plan.threads, show, said)
    return page_blocks(blocks, NAME, plan, setup)


def _strap_titles(plan: Plan) -> str:
    """The straps by title; empty when there are none."""
    return ", ".join(item.strap.title for material in plan.materials for item in material.straps)


def _blade_caution() -> Block:
    title, sentence = HAZARDS["blade"]
    return Caution(f"{title}: {sentence}")


def _caution_blocks(plan: Plan, said: Said) -> list[Block]:
    """What reading the spec found risky, each with what would mend it."""
    cautions = [
        Caution(f"{item.what}; {item.mend}" if item.mend else item.what) for item in plan.build.cautions
    ]
    return [Heading(said["cautions"], 3), *cautions] if cautions else []


def _material_blocks(plan: MaterialPlan, show: Show, said: Said) -> list[Block]:
    head: tuple[Block, ...] = (
        Heading(f"{said['from']} {plan.material.title}", 2),
        KeyValues(_material_facts(plan.material, show, said), 4),
    )
    blocks: list[Block] = []
    if plan.straps:
        # The head of a material, kept together with a heading, stays with the table that follows.
        blocks += [Together((*head, Heading(said["straps"], 3))), _strap_table(plan.straps, show, said)]
        head = ()
    if plan.items:
        blocks += [Together((*head, Heading(said["pieces"], 3))), _piece_table(plan.items, show, said)]
    return [*blocks, *_buy_blocks(plan, show, said)]


def _material_facts(material: Material, show: Show, said: Said) -> tuple[tuple[str, str], ...]:
    facts = (
        (said["kind"], material.kind),
        (said["thickness"], thickness_words(material)),
        (said["roll"], format_length(material.roll_width_mm, show) if material.roll_width_mm else ""),
        (said["tannage"], material.tannage),
        (said["finish"], material.finish),
        (said["note"], material.note),
    )
    return tuple(fact for fact in facts if fact[1])


def thickness_words(material: Material) -> str:
    """The thickness as written, and leather in its other unit too: "5 oz (2 mm)", "1.8 mm (4.5 oz)"."""
    written = material.thickness_words or format_mm(material.thickness_mm, 2)
    if "oz" in written:
        return f"{written} ({format_mm(material.thickness_mm)})"
    if material.kind == "leather":
        return f"{written} ({format_number(material.thickness_mm / MM_PER_OUNCE, 1)} oz)"
    return written


def _columns(said: Said, first: str, size: str) -> tuple[Column, ...]:
    return (
        Column(said[first], 34, tick=True),
        Column(said["number"], 12),
        Column(said[size], 41),
        Column(said["area_each"], 20, align="end"),
        Column(said["area_all"], 20, align="end"),
        Column(said["notes"], 37),
    )


def _strap_table(straps: tuple[StrapItem, ...], show: Show, said: Said) -> Table:
    rows = tuple(_strap_row(item, show, said) for item in straps)
    return Table(_columns(said, "strap", "size_strap"), rows)


def _strap_row(item: StrapItem, show: Show, said: Said) -> tuple[str, ...]:
    strap = item.strap
    count = len(strap.hole_tips_mm)
    holes = f"{count} {said['hole' if count == 1 else 'holes']}, {format_length(strap.punch_mm, show)}"
    notes = [*([holes] if count else []), *([strap.note] if strap.note else [])]
    return (
        strap.title,
        str(item.count),
        _size_words(strap.width_mm, strap.cut_length_mm, show),
        *_area_words(item.area_mm2, item.count, show),
        hold_measures("\n".join(notes)),
    )


def _piece_table(items: tuple[CutItem, ...], show: Show, said: Said) -> Table:
    rows = tuple(_piece_row(item, show, said) for item in items)
    return Table(_columns(said, "piece", "size_piece"), rows)


def _piece_row(item: CutItem, show: Show, said: Said) -> tuple[str, ...]:
    if item.shape == "circle":
        size = f"{format_length(item.width_mm, show)} {said['across']}"
    else:
        size = _size_words(item.width_mm, item.height_mm, show)
    return (
        item.title,
        count_words(item, said),
        size,
        *_area_words(item.area_mm2, item.count, show),
        hold_measures("\n".join(item.notes)),
    )


def count_words(item: CutItem, said: Said) -> str:
    """The number to cut: "3"; of pairs "4 (2 + 2 mirrored)"."""
    if not item.is_pair:
        return str(item.count)
    mirrored = item.count // 2
    return f"{item.count} ({item.count - mirrored} + {mirrored} {said['mirrored']})"


def _size_words(width_mm: float, length_mm: float, show: Show) -> str:
    return f"{format_length(width_mm, show)}\n× {format_length(length_mm, show)}"


def _area_words(area_mm2: float, count: int, show: Show) -> tuple[str, str]:
    each, every = (format_area(area, show).replace(" (", "\n(") for area in (area_mm2, area_mm2 * count))
    return each, every


def _buy_blocks(plan: MaterialPlan, show: Show, said: Said) -> list[Block]:
    """Sum, waste and what to buy, kept together."""
    material = plan.material
    lost = said["lost_hide"] if material.kind == "leather" else said["lost_other"]
    facts = [
        (said["net"], format_area(plan.net_mm2, show)),
        (said["waste"], f"{format_number(material.waste * 100, 1)} % {lost}"),
        (said["buy_area"], format_area(plan.gross_mm2, show)),
    ]
    if material.roll_width_mm:
        facts.append((said["buy_run"], format_run(plan.run_mm, show)))
    return [Together((Heading(f"{said['buy']}: {material.title}", 3), KeyValues(tuple(facts), len(facts))))]


def _hardware_blocks(hardware: tuple[HardwareItem, ...], said: Said) -> list[Block]:
    if not hardware:
        return []
    columns = (
        Column(said["hardware"], 60, tick=True),
        Column(said["how_many"], 20),
        Column(said["finish"], 36),
        Column(said["notes"], 60),
    )
    rows = tuple(_hardware_row(item, said) for item in hardware)
    return [Heading(said["hardware_title"], 2), Table(columns, rows)]


def _hardware_row(item: HardwareItem, said: Said) -> tuple[str, ...]:
    hardware = item.hardware
    notes = []
    if hardware.inside_mm:
        notes.append(f"{said['inside']} {format_mm(hardware.inside_mm)}")
    if hardware.bar_mm:
        notes.append(f"{said['bar']} {format_mm(hardware.bar_mm)}")
    if hardware.posts_mm:
        notes.append(f"{said['posts']} {', '.join(format_mm(post) for post in hardware.posts_mm)}")
    sizes = ", ".join(notes)
    return (hardware.what, str(item.count), hardware.finish, "\n".join(filter(None, (sizes, hardware.note))))


def _thread_blocks(threads: tuple[ThreadNeed, ...], show: Show, said: Said) -> list[Block]:
    if not threads:
        return []
    columns = (
        Column(said["thread"], 46, tick=True),
        Column(said["needle"], 27),
        Column(said["sewn"], 32),
        Column(said["needle_thread"], 32),
        Column(said["bobbin_thread"], 34),
    )
    rows = tuple(_thread_row(need, show, said) for need in threads)
    return [
        Together((Heading(said["thread_title"], 2), Paragraph(said["thread_note"]), Table(columns, rows)))
    ]


def _thread_row(need: ThreadNeed, show: Show, said: Said) -> tuple[str, ...]:
    bobbin = format_run(need.bobbin_thread_mm, show) if need.bobbin_thread_mm else said["no_bobbin"]
    return (
        need.thread_words,
        needle_words(need.needles, need.by),
        format_run(need.sewn_mm, show),
        format_run(need.needle_thread_mm, show),
        bobbin,
    )
