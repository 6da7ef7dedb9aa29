"""Plan -> the lists as tables for a spreadsheet: plain numbers, every unit in the heading of its column."""

from __future__ import annotations

from docgen.pages.lists.cutting_list import piece_notes, strap_notes
from docgen.pages.lists.supply_list import hardware_sizes
from docgen.pages.looks.words import words
from docgen.pages.marks.page import CsvTable
from docgen.plan import Cost, MaterialPlan, Plan
from docgen.written.units.table import MM2_PER_DM2, MM2_PER_SQFT, MM_PER_INCH, MM_PER_YARD
from docgen.written.units.telling import Show, buy_area_mm2, buy_run_mm, format_number, round_up

Row = tuple[str, ...]


def make_csv_tables(plan: Plan) -> tuple[CsvTable, ...]:
    """One table for each list, in the order of the pages; that of the cost only where the spec names prices."""
    tables = (
        _pieces_table(plan),
        _straps_table(plan),
        _materials_table(plan),
        _hardware_table(plan),
        _thread_table(plan),
    )
    return tables if plan.cost is None else (*tables, _cost_table(plan.cost))


def _length(mm: float) -> Row:
    """The same length in mm and in inches."""
    return format_number(mm, 2), format_number(mm / MM_PER_INCH, 4)


def _area(mm2: float) -> Row:
    return format_number(mm2 / MM2_PER_DM2, 3), format_number(mm2 / MM2_PER_SQFT, 4)


def _run(mm: float) -> Row:
    return format_number(mm / 1000, 3), format_number(mm / MM_PER_YARD, 3)


def _bought_area(mm2: float, show: Show) -> Row:
    """What is bought, in dm2 and sq ft: what the cutting list says first, and never less in the other."""
    bought_mm2 = buy_area_mm2(mm2, show)
    decimetres, feet = round_up(bought_mm2 / MM2_PER_DM2, 3), round_up(bought_mm2 / MM2_PER_SQFT, 4)
    return format_number(decimetres, 3), format_number(feet, 4)


def _bought_run(mm: float, show: Show) -> Row:
    """What is bought, in m and yd: what the cutting list says first, and never less in the other."""
    bought_mm = buy_run_mm(mm, show)
    metres, yards = round_up(bought_mm / 1000, 3), round_up(bought_mm / MM_PER_YARD, 3)
    return format_number(metres, 3), format_number(yards, 3)


def _heads(name: str, *units: str) -> Row:
    """A heading for each unit: "width (mm)", "width (in)"."""
    return tuple(f"{name} ({unit})" for unit in units)


def _pieces_table(plan: Plan) -> CsvTable:
    headings = (
        "order",
        "material",
        "cut as",
        "piece",
        "title",
        "count",
        "mirrored among them",
        *_heads("width", "mm", "in"),
        *_heads("height", "mm", "in"),
        *_heads("area of one", "dm2", "sq ft"),
        *_heads("area of all", "dm2", "sq ft"),
        "least stretch",
        "notes",
    )
    said = words("cutting")
    rows: list[Row] = []
    for material in plan.materials:
        for item in material.items:
            rows.append(
                (
                    str(len(rows) + 1),
                    material.material.title,
                    item.group,
                    item.name,
                    item.title,
                    str(item.count),
                    str(item.mirrored),
                    *_length(item.width_mm),
                    *_length(item.height_mm),
                    *_area(item.area_mm2),
                    *_area(item.all_mm2),
                    item.piece.least_stretch,
                    "; ".join(piece_notes(item, said)),
                )
            )
    return CsvTable(name="pieces", headings=headings, rows=tuple(rows))


def _straps_table(plan: Plan) -> CsvTable:
    headings = (
        "order",
        "material",
        "strap",
        "title",
        "count",
        *_heads("width", "mm", "in"),
        *_heads("cut length", "mm", "in"),
        *_heads("area of one", "dm2", "sq ft"),
        *_heads("area of all", "dm2", "sq ft"),
        "holes",
        *_heads("punch", "mm", "in"),
        "second layer",
        "notes",
    )
    said = words("cutting")
    rows: list[Row] = []
    for material in plan.materials:
        for item in material.straps:
            strap = item.strap
            holes = 0 if item.is_lining else len(strap.hole_tips_mm)
            rows.append(
                (
                    str(len(rows) + 1),
                    material.material.title,
                    strap.name,
                    item.title,
                    str(item.count),
                    *_length(strap.width_mm),
                    *_length(item.length_mm),
                    *_area(item.area_mm2),
                    *_area(item.all_mm2),
                    str(holes),
                    *(_length(strap.punch_mm) if holes else ("", "")),
                    "yes" if item.is_lining else "no",
                    "; ".join(strap_notes(item, plan.build.show, said)),
                )
            )
    return CsvTable(name="straps", headings=headings, rows=tuple(rows))


def _materials_table(plan: Plan) -> CsvTable:
    headings = (
        "material",
        "title",
        "kind",
        "tannage",
        "finish",
        *_heads("thickness", "mm", "in"),
        *_heads("pieces together", "dm2", "sq ft"),
        "lost in cutting (% of the whole)",
        *_heads("buy", "dm2", "sq ft"),
        *_heads("or buy a length", "m", "yd"),
        *_heads("width of the goods", "mm", "in"),
        *_heads("straight edge at least", "mm", "in"),
        "rows of straps",
        *_heads("rows deep", "mm", "in"),
    )
    rows = tuple(_material_row(material, plan.build.show) for material in plan.materials)
    return CsvTable(name="materials", headings=headings, rows=rows)


def _material_row(plan: MaterialPlan, show: Show) -> Row:
    material, edge = plan.material, plan.edge
    is_roll = bool(material.roll_width_mm)
    return (
        material.name,
        material.title,
        material.kind,
        material.tannage,
        material.finish,
        *_length(material.thickness_mm),
        *_area(plan.net_mm2),
        format_number(material.waste * 100, 2),
        *_bought_area(plan.gross_mm2, show),
        *(_bought_run(plan.run_mm, show) if is_roll else ("", "")),
        *(_length(material.roll_width_mm) if is_roll else ("", "")),
        *((*_length(edge.least_mm), str(edge.count), *_length(edge.depth_mm)) if edge else ("",) * 5),
    )


def _hardware_table(plan: Plan) -> CsvTable:
    """One row for each length of post, else one for each kind of hardware; then what is used up."""
    headings = ("hardware", "what", "count", *_heads("post", "mm", "in"), "finish", "sizes", "notes")
    said = words("cutting")
    rows: list[Row] = []
    for item in plan.hardware:
        hardware = item.hardware
        for post_mm, count in item.posts or ((0.0, item.count),):
            rows.append(
                (
                    hardware.name,
                    hardware.what,
                    str(count),
                    *(_length(post_mm) if post_mm else ("", "")),
                    hardware.finish,
                    hardware_sizes(hardware, said),
                    hardware.note,
                )
            )
    rows += [("", supply.what, "", "", "", "", "", said["supply_title"]) for supply in plan.supplies]
    return CsvTable(name="hardware", headings=headings, rows=tuple(rows))


def _thread_table(plan: Plan) -> CsvTable:
    headings = (
        "thread",
        "sewn by",
        "needles (1/100 mm)",
        *_heads("sewn length", "m", "yd"),
        *_heads("needle thread", "m", "yd"),
        *_heads("to wind on bobbins", "m", "yd"),
        "bobbins to fill",
        *_heads("a bobbin holds", "m", "yd"),
        "spools to buy",
        *_heads("a spool holds", "m", "yd"),
    )
    rows = tuple(
        (
            need.thread_words,
            need.by,
            "2 hand needles" if need.by == "hand" else " ".join(map(str, need.needles)),
            *_run(need.sewn_mm),
            *_run(need.needle_thread_mm),
            *_run(need.bobbin_thread_mm),
            str(need.bobbins),
            *(_run(need.bobbin_mm) if need.bobbins else ("", "")),
            str(need.spools),
            *_run(need.spool_mm),
        )
        for need in plan.threads
    )
    return CsvTable(name="thread", headings=headings, rows=rows)


def _cost_table(cost: Cost) -> CsvTable:
    """The lines of the sum, then the sum of the batch and of one make."""
    headings = ("kind", "what", "quantity", "unit", "price as named", f"sum ({cost.currency or 'money'})")
    units = {"area": ("dm2", MM2_PER_DM2), "length": ("m", 1000.0), "each": ("each", 1.0), "hour": ("h", 1.0)}
    rows: list[Row] = []
    for line in cost.lines:
        unit, size = units[line.price.per]
        rows.append(
            (line.kind, line.what, format_number(line.quantity / size, 3), unit, line.price.words, _money(line.charged))
        )
    rows += [("no price is named", what, "", "", "", "") for what in cost.unpriced]
    rows.append(("batch", "", str(cost.makes), "makes", "", _money(cost.total)))
    rows.append(("one make", "", "1", "make", "", _money(cost.each)))
    return CsvTable(name="cost", headings=headings, rows=tuple(rows))


def _money(amount: float) -> str:
    return f"{amount + 1e-9:.2f}"
