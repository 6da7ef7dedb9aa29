"""Plan -> the lists as tables for a spreadsheet: plain numbers, every unit in the heading of its column."""

from collections.abc import Callable, Iterable
from dataclasses import replace
from typing import TypeVar

from docgen.pages.lists.cutting_list import piece_notes, strap_notes
from docgen.pages.lists.supply_list import hardware_sizes, trimming_notes
from docgen.pages.looks.words import words
from docgen.pages.marks.page import CsvTable
from docgen.plan import Cost, CutItem, MaterialPlan, Plan, StrapItem, TrimmingItem
from docgen.resolve import TrimmingCut
from docgen.written.units.table import MM2_PER_DM2, MM2_PER_SQFT, MM_PER_INCH, MM_PER_YARD
from docgen.written.units.telling import Show, buy_area_mm2, buy_run_mm, format_number, round_up

Row = tuple[str, ...]
Item = TypeVar("Item")
Listed = TypeVar("Listed", CutItem, StrapItem)
Column = tuple[Row, Callable[[Item], Row]]
"""The headings of a column, one or two, and what it tells of an item in as many cells."""

AREA = "dm2", "sq ft"
RUN = "m", "yd"


def make_csv_tables(plan: Plan) -> tuple[CsvTable, ...]:
    """One table for each list, in the order of the pages; that of goods by length only where there are any, that of the
    cost only where the spec names prices."""
    tables = (
        _pieces_table(plan),
        _straps_table(plan),
        _materials_table(plan),
        _hardware_table(plan),
        *([_trimmings_table(plan)] if plan.trimmings else []),
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


def _one(head: str, tell: Callable[[Item], str]) -> Column[Item]:
    """A column of words, or of a number without a unit."""
    return (head,), lambda item: (tell(item),)


def _both(head: str, tell: Callable[[Item], Row], first: str = "mm", second: str = "in") -> Column[Item]:
    """Two columns for two units, "width (mm)" and "width (in)"; empty cells where there is nothing to tell."""
    return (f"{head} ({first})", f"{head} ({second})"), lambda item: tell(item) or ("", "")


def _table(name: str, items: Iterable[Item], *columns: Column[Item]) -> CsvTable:
    """A row for each item, with what every column tells of it."""
    headings = tuple(head for heads, _ in columns for head in heads)
    rows = (tuple(cell for _, tell in columns for cell in tell(item)) for item in items)
    return CsvTable(name=name, headings=headings, rows=tuple(rows))


def _numbered(listed: Iterable[tuple[MaterialPlan, Listed]]) -> list[tuple[str, str, Listed]]:
    """Each item with its place in the order of cutting, and its material."""
    return [(str(place), plan.material.title, item) for place, (plan, item) in enumerate(listed, start=1)]


def _pieces_table(plan: Plan) -> CsvTable:
    said = words("cutting")
    return _table(
        "pieces",
        _numbered((material, item) for material in plan.materials for item in material.items),
        _one("order", lambda row: row[0]),
        _one("material", lambda row: row[1]),
        _one("cut as", lambda row: row[2].group),
        _one("piece", lambda row: row[2].name),
        _one("title", lambda row: row[2].title),
        _one("count", lambda row: str(row[2].count)),
        _one("mirrored among them", lambda row: str(row[2].mirrored)),
        _both("width", lambda row: _length(row[2].width_mm)),
        _both("height", lambda row: _length(row[2].height_mm)),
        _both("area of one", lambda row: _area(row[2].area_mm2), *AREA),
        _both("area of all", lambda row: _area(row[2].all_mm2), *AREA),
        _one("least stretch", lambda row: row[2].piece.least_stretch),
        _one("notes", lambda row: "; ".join(piece_notes(row[2], said))),
    )


def _straps_table(plan: Plan) -> CsvTable:
    said = words("cutting")

    def holes(item: StrapItem) -> int:
        return 0 if item.is_plain else item.strap.row_holes

    return _table(
        "straps",
        _numbered((material, item) for material in plan.materials for item in material.straps),
        _one("order", lambda row: row[0]),
        _one("material", lambda row: row[1]),
        _one("strap", lambda row: row[2].strap.name),
        _one("title", lambda row: row[2].title),
        _one("count", lambda row: str(row[2].count)),
        _both("width", lambda row: _length(row[2].width_mm)),
        _both("cut length", lambda row: _length(row[2].length_mm)),
        _both("area of one", lambda row: _area(row[2].area_mm2), *AREA),
        _both("area of all", lambda row: _area(row[2].all_mm2), *AREA),
        _one("holes", lambda row: str(holes(row[2]))),
        _both("punch", lambda row: _length(row[2].strap.punch_mm) if holes(row[2]) else ()),
        _one("second layer", lambda row: "yes" if row[2].is_lining else "no"),
        _one("notes", lambda row: "; ".join(strap_notes(row[2], plan.build.show, said))),
    )


def _materials_table(plan: Plan) -> CsvTable:
    show = plan.build.show
    return _table(
        "materials",
        plan.materials,
        _one("material", lambda item: item.material.name),
        _one("title", lambda item: item.material.title),
        _one("kind", lambda item: item.material.kind),
        _one("tannage", lambda item: item.material.tannage),
        _one("finish", lambda item: item.material.finish),
        _both("thickness", lambda item: _length(item.material.thickness_mm)),
        _both("pieces together", lambda item: _area(item.net_mm2), *AREA),
        _one("lost in cutting (% of the whole)", lambda item: format_number(item.material.waste * 100, 2)),
        _both("buy", lambda item: _bought_area(item.gross_mm2, show), *AREA),
        _both("or buy a length", lambda item: _bought_run(item.run_mm, show) if _is_roll(item) else (), *RUN),
        _one("sold as", lambda item: item.bought.goods.sold if item.bought else ""),
        _one("how many to buy", lambda item: str(item.bought.count) if item.bought and item.bought.count else ""),
        _one("decided by", lambda item: item.bought.decides if item.bought else ""),
        _both("width of the goods", lambda item: _length(item.material.roll_width_mm) if _is_roll(item) else ()),
        _both("straight edge at least", lambda item: _length(item.edge.least_mm) if item.edge else ()),
        _one("rows of straps", lambda item: str(item.edge.count) if item.edge else ""),
        _both("rows deep", lambda item: _length(item.edge.depth_mm) if item.edge else ()),
    )


def _is_roll(plan: MaterialPlan) -> bool:
    return bool(plan.material.roll_width_mm)


def _hardware_table(plan: Plan) -> CsvTable:
    """One row for each length of post, those to try too, else one for each kind of hardware; then what is used up."""
    said = words("cutting")
    table = _table(
        "hardware",
        [
            (item.hardware, post_mm, count, note)
            for item in plan.hardware
            for posts, note in (
                (item.posts or ((0.0, item.count),), item.hardware.note),
                (item.studs if item.has_other_studs else (), said["post_stud"]),
                (item.tried, said["post_try"]),
            )
            for post_mm, count in posts
        ],
        _one("hardware", lambda row: row[0].name),
        _one("what", lambda row: row[0].what),
        _one("count", lambda row: str(row[2])),
        _both("post", lambda row: _length(row[1]) if row[1] else ()),
        _one("finish", lambda row: row[0].finish),
        _one("sizes", lambda row: hardware_sizes(row[0], said)),
        _one("notes", lambda row: row[3]),
    )
    used = (("", supply.what, "", "", "", "", "", said["supply_title"]) for supply in plan.supplies)
    return replace(table, rows=(*table.rows, *used))


def _trimmings_table(plan: Plan) -> CsvTable:
    """One row for each length that is cut; what is bought from the roll stands in the first of them."""
    show = plan.build.show

    def bought(item: TrimmingItem, cut: TrimmingCut) -> Row:
        is_first = not item.ready and cut == item.cuts[0][0]
        return _bought_run(item.gross_mm, show) if is_first else ()

    return _table(
        "trimmings",
        [(item, cut, count) for item in plan.trimmings for cut, count in item.cuts],
        _one("trimming", lambda row: row[0].trimming.name),
        _one("what", lambda row: row[0].trimming.what),
        _one("kind", lambda row: row[0].trimming.kind),
        _both("width", lambda row: _length(row[0].trimming.width_mm) if row[0].trimming.width_mm else ()),
        _one("count", lambda row: str(row[2])),
        _both("cut length", lambda row: _length(row[1].length_mm)),
        _both("along a run of", lambda row: _length(row[1].run_mm)),
        _both("between stops", lambda row: _length(row[1].between_mm) if row[1].between_mm else ()),
        _both("ready length", lambda row: _length(row[1].ready_mm) if row[1].ready_mm else ()),
        _both("buy from the roll", lambda row: bought(row[0], row[1]), *RUN),
        _one("notes", lambda row: "; ".join(trimming_notes(row[0].trimming, row[1], show))),
    )


def _thread_table(plan: Plan) -> CsvTable:
    return _table(
        "thread",
        plan.threads,
        _one("thread", lambda need: need.thread_words),
        _one("sewn by", lambda need: need.by),
        _one(
            "needles (1/100 mm)",
            lambda need: "2 hand needles" if need.by == "hand" else " ".join(map(str, need.needles)),
        ),
        _both("sewn length", lambda need: _run(need.sewn_mm), *RUN),
        _both("needle thread", lambda need: _run(need.needle_thread_mm), *RUN),
        _both("to wind on bobbins", lambda need: _run(need.bobbin_thread_mm), *RUN),
        _one("bobbins to fill", lambda need: str(need.bobbins)),
        _both("a bobbin holds", lambda need: _run(need.bobbin_mm) if need.bobbins else (), *RUN),
        _one("spools to buy", lambda need: str(need.spools)),
        _both("a spool holds", lambda need: _run(need.spool_mm), *RUN),
    )


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
