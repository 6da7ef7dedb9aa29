"""Plan -> the front page of the build sheet: tools and goods to lay out, set-up for each stitch, cautions."""

from collections.abc import Mapping, Sequence

from docgen.pages.lists.supply_list import needles_to_buy
from docgen.pages.looks.block_order import arrange
from docgen.pages.looks.words import say, words
from docgen.pages.marks.page import ImageMark
from docgen.pages.pictures.pictures import Pictures
from docgen.pages.setting.blocks import Beside, Block, Caution, Figure, Heading, KeyValues, Table, Tick, Together
from docgen.pages.setting.paging import (
    accepted_blocks,
    columns_of,
    finding_words,
    head_blocks,
    hold_measures,
    needle_words,
    paragraph,
)
from docgen.pages.setting.setup import Setup
from docgen.plan import Plan, Scrap
from docgen.resolve import Build, Photo, Stitch, find_bed
from docgen.tables.cautions import HAZARDS
from docgen.tables.consumables import is_consumable
from docgen.written.units.telling import Show, format_length, format_pitch, format_stack

Said = Mapping[str, str]
Unit = tuple[Block, ...]

NAME = "build-sheet"
MINUTES_PER_HOUR = 60
FRONT_WIDE_MM = 90.0
FRONT_HIGH_MM = 60.0
MOST_IN_COLUMN = 16  # boxes to tick, one below the other


def front_units(plan: Plan, setup: Setup, pictures: Pictures) -> list[Unit]:
    """The blocks of the front page, in groups that stay together; a table at the end of a group may be divided."""
    said = words("building")
    proposed = (Caution(" ".join(say("build_sheet", "proposed"))),) if plan.is_proposed else ()
    units: dict[str, list[Unit]] = {
        "head": [head_blocks(NAME, plan, setup)],
        "picture": [
            show_photo(plan.build.picture, FRONT_WIDE_MM, FRONT_HIGH_MM),
            pictures.article(setup.frame.width, setup.style),
        ],
        "time": [tuple(_time_blocks(plan, said))],
        "how": [(*paragraph(say("build_sheet", "use")), *proposed)],
        "lists": _list_units(plan, setup, said),
    }
    if plan.scraps:
        units["stitches"] = [(Heading(said["setup_title"], 3), _stitch_table(plan.build, plan.scraps, said))]
        ticks = (Tick(_scrap_words(scrap, said)) for scrap in plan.scraps)
        units["scrap"] = [(*_how_to_try(plan.scraps), *ticks)]
    if found := _found(plan):
        units["cautions"] = [(Heading(said["cautions_title"], 3), found[0]), *((caution,) for caution in found[1:])]
    units["sections"] = pictures.sections(setup.frame.width, setup.style)
    units["accepted"] = [accepted_blocks(plan.build)]
    if plan.hazards:
        rows = tuple(HAZARDS[hazard] for hazard in plan.hazards)
        units["hazards"] = [
            (Caution(said["cautions_read"]), Table(columns_of(said, {"hazard": 40, "safely": 140}), rows))
        ]
    return [unit for unit in arrange("build_sheet", units) if unit]


def show_photo(photo: Photo | None, wide_mm: float, high_mm: float) -> Unit:
    """A maker's own picture, as large as this room lets it be; nothing for none."""
    if photo is None:
        return ()
    picture = photo.picture
    scale = min(wide_mm / picture.width_mm, high_mm / picture.height_mm)
    height_mm = picture.height_mm * scale
    image = ImageMark(picture=picture, x_mm=0.0, y_mm=0.0, height_mm=height_mm)
    return (Figure(width_mm=picture.width_mm * scale, height_mm=height_mm, marks=(image,)),)


def _how_to_try(scraps: Sequence[Scrap]) -> tuple[Block, ...]:
    """What every stitch must show on scrap, and what those by machine must."""
    machine = ", ".join(scrap.stitch.name for scrap in scraps if scrap.stitch.by == "machine")
    return paragraph(say("build_scrap", "always") + (say("build_scrap", "machine", machine=machine) if machine else ()))


def _time_blocks(plan: Plan, said: Said) -> list[Block]:
    """The time of all steps, where they all say one."""
    if not plan.minutes:
        return []
    makes = plan.build.makes
    facts = [(said["time"], time_words(plan.minutes, said))]
    facts += [(said["time_batch"], time_words(plan.minutes * makes, said))] if makes > 1 else []
    return [KeyValues(tuple(facts), 4)]


def time_words(minutes: int, said: Said) -> str:
    """`45 min`, `2 h`, `2 h 20 min`."""
    hours, rest = divmod(minutes, MINUTES_PER_HOUR)
    parts = [f"{hours} {said['hour']}"] if hours else []
    parts += [f"{rest} {said['min']}"] if rest or not hours else []
    return " ".join(parts)


def _found(plan: Plan) -> list[Caution]:
    """What checking found, each once: about the build, then about the order of its steps."""
    problems = dict.fromkeys((*plan.build.cautions, *(item for step in plan.steps for item in step.cautions)))
    return [Caution(hold_measures(finding_words(item, plan.build))) for item in problems]


def _list_units(plan: Plan, setup: Setup, said: Said) -> list[Unit]:
    """What to have ready; a heading stays with what follows it."""
    units: list[Unit] = []
    held: list[Block] = [Heading(said["ready"], 2)]
    for block in _lists(plan, setup, said):
        held.append(block)
        if not isinstance(block, Heading):
            units.append(tuple(held))
            held = []
    return units


def _lists(plan: Plan, setup: Setup, said: Said) -> list[Block]:
    """Tools at the left, goods at the right, each with a box to tick."""
    machines = (machine_title(scrap.stitch, plan.build) for scrap in plan.scraps)
    tools = [tool for tool in dict.fromkeys((*plan.tools, *machines)) if tool and not is_consumable(tool)]
    goods = [
        *_material_words(plan, said),
        *_thread_words(plan, said),
        *(needles_to_buy(needles, said) for needles in plan.needles),
        *(f"{item.count} × {item.hardware.what}" for item in plan.hardware),
        *(f"{item.count} × {item.trimming.what}, {said['cut']}" for item in plan.trimmings),
        *(item.what for item in plan.supplies),
    ]
    half = (setup.frame.width - setup.style.gutter_mm) / 2
    title = Heading(said["goods_title"], 3)
    if len(goods) > MOST_IN_COLUMN or not tools:
        above = [Heading(said["tools_title"], 3), *_columns(tools, setup.frame.width, setup)] if tools else []
        return [*above, title, *_columns(goods, setup.frame.width, setup)]
    left = _columns(tools, half, setup) if len(tools) > MOST_IN_COLUMN // 2 else _ticks(tools)
    return [Beside((Heading(said["tools_title"], 3), *left), Together((title, *_ticks(goods))), half)]


def _ticks(items: Sequence[str]) -> tuple[Block, ...]:
    return tuple(Tick(hold_measures(item)) for item in items)


def _columns(items: Sequence[str], width_mm: float, setup: Setup) -> list[Block]:
    """Boxes to tick in two columns, at most a column's length at a time, so that pages can turn between them."""
    right_mm = (width_mm - setup.style.gutter_mm) / 2
    blocks: list[Block] = []
    for start in range(0, len(items), 2 * MOST_IN_COLUMN):
        chunk = items[start : start + 2 * MOST_IN_COLUMN]
        middle = -(-len(chunk) // 2)
        blocks.append(Beside(_ticks(chunk[:middle]), Together(_ticks(chunk[middle:])), right_mm))
    return blocks


def _material_words(plan: Plan, said: Said) -> list[str]:
    """`bridle leather: 12 pieces, 5 straps, cut by the cutting list`, for the whole batch."""
    lines = []
    for item in plan.materials:
        counts = ((item.pieces, "piece"), (item.strips, "strap"))
        told = [f"{count} {said[word if count == 1 else word + 's']}" for count, word in counts if count]
        lines.append(f"{item.material.title}: {', '.join(told)}, {said['cut']}")
    return lines


def _thread_words(plan: Plan, said: Said) -> list[str]:
    """`Tex 135 bonded nylon, 2 bobbins wound`."""
    return [
        f"{need.thread_words}, {need.bobbins} {said['bobbin' if need.bobbins == 1 else 'bobbins']}"
        if need.bobbin_thread_mm
        else need.thread_words
        for need in plan.threads
    ]


def _stitch_table(build: Build, scraps: tuple[Scrap, ...], said: Said) -> Table:
    label = max((thread_label(scrap.stitch, said) for scrap in scraps), key=len)
    shares = {"stitch": 16, "by": 26, "thread": 36, "needle": 38, "pitch": 28, "inset": 22, "back_tack": 20}
    columns = columns_of({**said, "thread": label}, shares)
    return Table(columns, tuple(_stitch_row(scrap.stitch, build, said) for scrap in scraps))


def _stitch_row(stitch: Stitch, build: Build, said: Said) -> tuple[str, ...]:
    return (
        stitch.name,
        _machine_words(stitch, build, said) or said[stitch.by],
        stitch.thread_words,
        needle_point_words(stitch, said),
        _two_lines(format_pitch(stitch.pitch_mm)),
        _two_lines(format_length(stitch.inset_mm, build.show)),
        _two_lines(back_tack_words(stitch, build.show)) or said["none"],
    )


def _machine_words(stitch: Stitch, build: Build, said: Said) -> str:
    """The machine and its bed, where its own title does not say it."""
    title, bed = machine_title(stitch, build), find_bed(build, stitch.name)
    words = said[f"bed_{bed}"] if bed else ""
    return title if not words or words.lower() in title.lower() else f"{title}, {words}"


def machine_title(stitch: Stitch, build: Build) -> str:
    """The machine that the spec names for it; empty without one."""
    return next((machine.title for machine in build.machines if machine.name == stitch.machine), "")


def thread_label(stitch: Stitch, said: Said) -> str:
    """`thread`; for a lockstitch that the same one goes above and below."""
    is_lock = stitch.by == "machine" and stitch.type == "301"
    return said["thread_both"] if is_lock else said["thread"]


def needle_point_words(stitch: Stitch, said: Said) -> str:
    """`130/21, leather point`."""
    needle = needle_words((stitch.needle_nm,), stitch.by)
    return f"{needle}, {said[stitch.point]}" if stitch.point else needle


def back_tack_words(stitch: Stitch, show: Show) -> str:
    """Its length; empty without one."""
    return format_length(stitch.back_tack_mm, show) if stitch.by == "machine" and stitch.back_tack_mm else ""


def _scrap_words(scrap: Scrap, said: Said) -> str:
    """`main: try on 2 × bridle leather, 1/4 in (6 mm) together, as in Gusset to back`."""
    counts = {material: scrap.materials.count(material) for material in scrap.materials}
    layers = " + ".join(f"{count} × {material}" for material, count in counts.items())
    stack = hold_measures(format_stack(scrap.stack_mm))
    stack += f" {said['together']}" if len(scrap.materials) > 1 else ""
    return f"{scrap.stitch.name}: {said['scrap']} {layers}, {stack}, {said['as_in']} {scrap.title}"


def _two_lines(words_of: str) -> str:
    return words_of.replace(" (", "\n(")
