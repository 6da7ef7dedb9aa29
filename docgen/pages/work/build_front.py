"""Plan -> the front page of the build sheet: tools and goods to lay out, set-up for each stitch, cautions."""

from collections.abc import Mapping, Sequence

from docgen.pages.drawn.small_drawing import small_drawer
from docgen.pages.lists.supply_list import needles_to_buy
from docgen.pages.looks.block_order import arrange, find_order
from docgen.pages.looks.words import say, words
from docgen.pages.marks.page import ImageMark
from docgen.pages.pictures.pictures import Pictures, side_by_side
from docgen.pages.setting.blocks import (
    Beside,
    Block,
    Caution,
    Column,
    Figure,
    Heading,
    PageStyle,
    Styled,
    Table,
    Tick,
    Together,
)
from docgen.pages.setting.flow import flow_height_mm
from docgen.pages.setting.paging import (
    accepted_blocks,
    columns_of,
    finding_words,
    head_blocks,
    hold_measures,
    needle_parts,
    paragraph,
)
from docgen.pages.setting.setup import Setup
from docgen.pages.work.runs import is_even
from docgen.plan import DrawnPiece, Plan, PlanStep, Scrap, join_words, spoken
from docgen.resolve import Build, Photo, Stitch, find_bed
from docgen.tables.cautions import HAZARDS, has_phrase
from docgen.tables.consumables import is_consumable
from docgen.tables.implied import SPONGE
from docgen.tables.practice import BURNISHED_WITH, DAMP_TANNAGES, EDGE_TOOLS
from docgen.written.units.telling import Show, format_length, format_pitch, format_stack

Said = Mapping[str, str]
Unit = tuple[Block, ...]

NAME = "build-sheet"
MELTS = ("nylon", "polyester")  # fibres whose ends are melted: common practice, no published source
MINUTES_PER_HOUR = 60
FRONT_WIDE_MM = 90.0
FRONT_HIGH_MM = 60.0
TOOLS_MM = 43.0  # a column of tools beside the finished article
NARROW_SHARE = 0.65  # of the width, for the view from the front, where tools stand beside
LEAST_BEHIND = 0.7  # of the height of the view from the front, that the one from behind has
TOOLS_HIGH_MM = 90.0  # of them, that stand there
SPACES_MM = {
    "paragraph_gap_mm": 1.4,
    "item_gap_mm": 0.3,
    "block_gap_mm": 2.0,
    "cell_pad_mm": 0.25,
    "title_gap_mm": 4.0,
    "heading_gap_mm": 3.5,
    "subheading_gap_mm": 2.6,
}
COLUMNS = 3  # of boxes to tick
MOST_IN_COLUMN = 16  # one below the other


def front_units(plan: Plan, setup: Setup, key: str, pictures: Pictures) -> list[Unit]:
    """The blocks of the front page, in groups that stay together; a table at the end of a group may be divided. `key` says
    what the lines in the drawings of the steps mean."""
    said = words("building")
    is_beside = {"picture", "how", "lists"} <= {*find_order("build_sheet")}
    tools = _tools_beside(plan, setup, said) if is_beside else None
    article, tools = _article_and_tools(plan, pictures, tools, setup)
    how = paragraph(_how_to_use(key, pictures))
    proposed = (Caution(" ".join(say("build_sheet", "proposed"))),) if plan.is_proposed else ()
    units: dict[str, list[Unit]] = {
        "head": [head_blocks(NAME, plan, setup, _times(plan, said))],
        "picture": [
            show_photo(plan.build.picture, FRONT_WIDE_MM, FRONT_HIGH_MM),
            (Beside((*article, *how), tools, TOOLS_MM),) if tools else article,
        ],
        "how": [(*(() if tools else how), *paragraph(_edges(plan)), *proposed)],
        "lists": _list_units(plan, setup, said, has_tools=not tools),
    }
    if plan.scraps:
        units["stitches"] = [(Heading(said["setup_title"], 3), _stitch_table(plan, said))]
        ticks = (Tick(_scrap_words(scrap, said)) for scrap in plan.scraps)
        units["scrap"] = [(*_how_to_try(plan.scraps, plan.steps), *ticks)]
    if found := _found(plan):
        units["cautions"] = [(Heading(said["cautions_title"], 3), found[0]), *((caution,) for caution in found[1:])]
    units["sections"] = [
        ((Heading(words("pictures")["sections_title"], 3),) if not at else ()) + (figure,)
        for at, figure in enumerate(pictures.sections_across(0, 0, setup.frame.width, setup.style))
    ]
    units["accepted"] = [accepted_blocks(plan.build)]
    if plan.hazards:
        rows = tuple(HAZARDS[hazard] for hazard in plan.hazards)
        carried = f"{said['hazards']}, {said['continued']}"
        table = Table((Column("", 30), Column("", 150)), rows, carried=carried)
        units["hazards"] = [(Caution(said["cautions_read"]), table)]
    close = setup.style.closer(SPACES_MM)
    return [_set_closer(unit, close) for unit in arrange("build_sheet", units) if unit]


def _set_closer(unit: Unit, style: PageStyle) -> Unit:
    """The blocks of a unit set closer; a table at its end may still be divided."""
    *head, last = unit
    parts = (tuple(head), (last,)) if isinstance(last, Table) else (unit,)
    return tuple(Styled(blocks, style) for blocks in parts if blocks)


def show_photo(photo: Photo | None, wide_mm: float, high_mm: float) -> Unit:
    """A maker's own picture, as large as this room lets it be; nothing for none."""
    if photo is None:
        return ()
    picture = photo.picture
    scale = min(wide_mm / picture.width_mm, high_mm / picture.height_mm)
    height_mm = picture.height_mm * scale
    image = ImageMark(picture=picture, x_mm=0.0, y_mm=0.0, height_mm=height_mm)
    return (Figure(width_mm=picture.width_mm * scale, height_mm=height_mm, marks=(image,)),)


def _how_to_use(key: str, pictures: Pictures) -> tuple[str, ...]:
    """How to go by the sheet, and what the lines in its drawings and its sections mean."""
    scale = pictures.section_scale
    keyed = say("build_sheet", "key", key=key) if key else ()
    drawn = say("build_sheet", "sections", scale=f"{scale:g}:1") if scale else ()
    has_untold = any(ply.is_leather and not ply.grain for stack in pictures.stacks for ply in stack.pile)
    return say("build_sheet", "use") + keyed + drawn + (say("build_sheet", "sections_untold") if has_untold else ())


def _edges(plan: Plan) -> tuple[str, ...]:
    """What is done with the cut edges of each material, where the spec says it."""
    found = [goods.material for goods in plan.materials if goods.material.edges]
    alike: dict[str, list[str]] = {}
    for goods in found:
        alike.setdefault(goods.edges, []).append(spoken(goods.title))
    told = "; ".join(f"{join_words(titles)}, {edges}" for edges, titles in alike.items())
    told = found[0].edges if len(found) == 1 else told
    damp = say("build_sheet", "burnish") if _is_burnished_damp(plan) else ()
    return say("build_sheet", "edges", edges=told.removesuffix(".")) + damp if told else ()


def _is_burnished_damp(plan: Plan) -> bool:
    """Whether edges are burnished that water helps, and nobody says with what."""
    goods = [one.material for one in plan.materials if "burnish" in one.material.edges]
    said = " ".join((*(one.edges for one in goods), *plan.tools))
    return any(one.tannage in DAMP_TANNAGES for one in goods) and not any(
        has_phrase(said, word) for word in BURNISHED_WITH
    )


def _how_to_try(scraps: Sequence[Scrap], steps: Sequence[PlanStep]) -> tuple[Block, ...]:
    """What every stitch must show on scrap, and what those by machine must."""
    machine = [scrap.stitch.name for scrap in scraps if scrap.stitch.by == "machine"]
    if len(machine) == len(scraps):
        return paragraph(say("build_scrap", "always") + say("build_scrap", "machine_all"))
    rows = {job.over_edges for step in steps for job in step.jobs}
    edge = say("build_scrap", "over_edge") if 2 in rows else ()
    edge += say("build_scrap", "over_one_edge") if 1 in rows else ()
    melts = any(scrap.stitch.by == "hand" and scrap.stitch.thread_fibre in MELTS for scrap in scraps)
    by_hand = say("build_scrap", "by_hand") + (say("build_scrap", "melt") if melts else ())
    told = say("build_scrap", "machine", machine=", ".join(machine)) if machine else ()
    return (*paragraph(say("build_scrap", "always") + told), *paragraph(by_hand + edge))


def _times(plan: Plan, said: Said) -> tuple[tuple[str, str], ...]:
    """The time of all steps, where they all say one."""
    if not plan.minutes:
        return ()
    makes = plan.build.makes
    batch = ((said["time_batch"], time_words(plan.minutes * makes, said)),) if makes > 1 else ()
    return ((said["time"], time_words(plan.minutes, said)), *batch)


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


def _article_and_tools(plan: Plan, pictures: Pictures, tools: Block | None, setup: Setup) -> tuple[Unit, Block | None]:
    """The finished article, and the tools where they stand beside it: not where its view from behind gets small by that.
    Straps alone lie flat, made up, their middle left out."""
    width_mm, style = setup.frame.width, setup.style
    narrow_mm = width_mm - TOOLS_MM - style.gutter_mm
    if not plan.build.pieces:
        straps = small_drawer(plan, _made_up(plan), narrow_mm if tools else width_mm, style, {})(FRONT_HIGH_MM)
        return ((straps,) if straps else ()), tools if straps else None
    narrow = pictures.views(narrow_mm, style, NARROW_SHARE) if tools else None
    if narrow and narrow[1].height_mm >= LEAST_BEHIND * narrow[0].height_mm:
        return side_by_side(narrow), tools
    wide = pictures.views(width_mm, style)
    return (side_by_side(wide) if wide else ()), None


def _made_up(plan: Plan) -> tuple[DrawnPiece, ...]:
    """Every strap with its ends turned and the hardware set; a keeper on another is drawn there."""
    straps, hardware = plan.build.straps, tuple(item.name for item in plan.build.hardware)
    held = {end.keeper for strap in straps for end in strap.ends}
    slid = {keeper for step in plan.steps for one in step.drawn for keeper in one.slid}
    return tuple(
        DrawnPiece(
            name=strap.name,
            seams=(),
            is_skived=False,
            set=hardware,
            turned=tuple(which for which, end in enumerate(strap.ends) if end.back_mm),
            slid=tuple(one.name for one in straps if one.name in slid and one.keeper_for == strap.name),
        )
        for strap in straps
        if strap.name not in held | slid
    )


def _tools_beside(plan: Plan, setup: Setup, said: Said) -> Block | None:
    """The tools in one column beside the finished article; None for more than stand there."""
    column = Styled((Heading(said["tools_title"], 3), *_ticks(_tools(plan))), setup.style.closer(SPACES_MM))
    room_mm = setup.frame.width - TOOLS_MM - setup.style.gutter_mm
    is_fit = room_mm > 2 * TOOLS_MM and flow_height_mm((column,), TOOLS_MM, setup.style) <= TOOLS_HIGH_MM
    return column if is_fit else None


def _list_units(plan: Plan, setup: Setup, said: Said, *, has_tools: bool) -> list[Unit]:
    """What to have ready; a heading stays with what follows it."""
    units: list[Unit] = []
    held: list[Block] = []
    for block in _lists(plan, setup, said, has_tools=has_tools):
        held.append(block)
        if not isinstance(block, Heading):
            units.append(tuple(held))
            held = []
    return units


def _tools(plan: Plan) -> list[str]:
    machines = (machine_title(scrap.stitch, plan.build) for scrap in plan.scraps)
    told = " ".join(goods.material.edges for goods in plan.materials)
    edges = (
        tool for words, tool in EDGE_TOOLS.items() if words in told and not any(words in own for own in plan.tools)
    )
    water = (SPONGE[0],) if _is_burnished_damp(plan) else ()
    return [
        tool for tool in dict.fromkeys((*plan.tools, *machines, *edges, *water)) if tool and not is_consumable(tool)
    ]


def _lists(plan: Plan, setup: Setup, said: Said, *, has_tools: bool) -> list[Block]:
    """Tools, where they are wanted here, and goods, each with a box to tick."""
    tools = _tools(plan) if has_tools else []
    goods = [
        *_material_words(plan, said),
        *_thread_words(plan, said),
        *(needles_to_buy(needles, said) for needles in plan.needles),
        *(f"{item.count} × {item.hardware.what}" for item in plan.hardware),
        *(f"{item.count} × {item.trimming.what}" for item in plan.trimmings),
        *(item.what for item in plan.supplies),
    ]
    wide = setup.frame.width
    above = [Heading(said["tools_title"], 3), *_columns(tools, wide, setup)] if tools else []
    return [*above, Heading(said["goods_title"], 3), *_columns(goods, wide, setup)]


def _ticks(items: Sequence[str]) -> tuple[Block, ...]:
    return tuple(Tick(hold_measures(item)) for item in items)


def _columns(items: Sequence[str], width_mm: float, setup: Setup) -> list[Block]:
    """Boxes to tick in columns, a few rows at a time, so that pages can turn between them."""
    gaps_mm = (COLUMNS - 1) * setup.style.gutter_mm
    each_mm = (width_mm - gaps_mm) / COLUMNS
    blocks: list[Block] = []
    for start in range(0, len(items), COLUMNS * MOST_IN_COLUMN):
        chunk = items[start : start + COLUMNS * MOST_IN_COLUMN]
        rows = -(-len(chunk) // COLUMNS)
        columns = [_ticks(chunk[place * rows : (place + 1) * rows]) for place in range(COLUMNS)]
        block: Block = Together(columns[-1])
        for place in range(COLUMNS - 2, -1, -1):
            right_mm = (COLUMNS - 1 - place) * (each_mm + setup.style.gutter_mm) - setup.style.gutter_mm
            block = Beside(columns[place], block, right_mm)
        blocks.append(block)
    return blocks


def _material_words(plan: Plan, said: Said) -> list[str]:
    """`bridle leather: 12 pieces, 5 straps`, for the whole batch."""
    lines = []
    for item in plan.materials:
        counts = ((item.pieces, "piece"), (item.strips, "strap"))
        told = [f"{count} {said[word if count == 1 else word + 's']}" for count, word in counts if count]
        lines.append(f"{item.material.title}: {', '.join(told)}")
    return lines


def _thread_words(plan: Plan, said: Said) -> list[str]:
    """`Tex 135 bonded nylon, 2 bobbins wound`."""
    return [
        f"{need.thread_words}, {need.bobbins} {said['bobbin' if need.bobbins == 1 else 'bobbins']}"
        if need.bobbin_thread_mm
        else need.thread_words
        for need in plan.threads
    ]


def _stitch_table(plan: Plan, said: Said) -> Table:
    label = max((thread_label(scrap.stitch, said) for scrap in plan.scraps), key=len)
    shares = {"stitch": 15, "by": 24, "thread": 44, "needle": 28, "pitch": 24, "inset": 30, "back_tack": 21}
    columns = columns_of({**said, "thread": label}, shares)
    return Table(columns, tuple(_stitch_row(scrap.stitch, plan, said) for scrap in plan.scraps), is_fitted=True)


def _stitch_row(stitch: Stitch, plan: Plan, said: Said) -> tuple[str, ...]:
    build = plan.build
    return (
        stitch.name,
        _machine_words(stitch, build, said) or said[stitch.by],
        stitch.thread_words,
        ", ".join(needle_parts(stitch.needle_nm, stitch.by, stitch.point)),
        _two_lines(format_pitch(stitch.pitch_mm)),
        said["inset_even"] if _parts_evenly(stitch, plan) else _two_lines(format_length(stitch.inset_mm, build.show)),
        _two_lines(back_tack_words(stitch, build.show, said)) or said["none"],
    )


def _parts_evenly(stitch: Stitch, plan: Plan) -> bool:
    """Whether all rows of a stitch lie as they part the overlaps of joints."""
    jobs = [job for step in plan.steps for job in step.jobs if job.stitch.name == stitch.name]
    return bool(jobs) and all(map(is_even, jobs))


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


def back_tack_words(stitch: Stitch, show: Show, said: Said) -> str:
    """Its length; by hand, where stitches are counted, how many they are; empty without one."""
    if not stitch.back_tack_mm:
        return ""
    if stitch.by == "machine":
        return format_length(stitch.back_tack_mm, show)
    count = max(1, round(stitch.back_tack_mm / stitch.pitch_mm))
    return f"{count} {said['stitch' if count == 1 else 'stitches']}"


def _scrap_words(scrap: Scrap, said: Said) -> str:
    """`main: try on 2 × bridle leather, 1/4 in (6 mm) together, as in Gusset to back`."""
    counts = {material: scrap.materials.count(material) for material in scrap.materials}
    layers = " + ".join(f"{count} × {spoken(material)}" for material, count in counts.items())
    stack = hold_measures(format_stack(scrap.stack_mm))
    stack += f" {said['together']}" if len(scrap.materials) > 1 else ""
    return f"{scrap.stitch.name}: {said['scrap']} {layers}, {stack}, {said['as_in']} {scrap.title}"


def _two_lines(words_of: str) -> str:
    return words_of.replace(" (", "\n(")
