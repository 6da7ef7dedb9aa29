"""What a run makes for each folder: a packet for each variant, and one cutting list for all of them."""

from collections.abc import Callable, Sequence
from dataclasses import replace
from pathlib import Path
from typing import Final

from docgen.classes import dataclass
from docgen.layout_files import Layouts, use_layouts
from docgen.pages import (
    JOINT_NAME,
    LAY_NAME,
    Choices,
    lay_out,
    lay_out_cutting_lay,
    lay_out_joint_list,
    make_csv_tables,
)
from docgen.pages.marks.page import Document, Packet, SheetCount
from docgen.plan import Plan, join_plans
from docgen.problems import CallRejected
from docgen.read import Order
from docgen.write import finish_documents

PATTERN: Final = "pattern"
PACKET: Final = "packet"
SHOP_PAGE: Final = "shop-page"
CARE_CARD: Final = "care-card"


@dataclass(frozen=True, slots=True, kw_only=True)
class Run:
    """All that the shares of a run are made from: a plan and its orders for each variant; `title` is the spec's own;
    `lay_out_changes` takes the place of the whole packet where only what changed is printed."""

    plans: tuple[Plan, ...]
    orders: tuple[tuple[Order, ...], ...]
    title: str
    only: tuple[str, ...]
    choices: Choices
    day: str
    is_draft: bool
    has_csv: bool
    layouts: Layouts
    lay_out_changes: Callable[..., Packet] | None = None

    @property
    def count(self) -> int:
        """How many shares there may be: one for each variant, then the joint list."""
        has_joint = len(self.plans) > 1 and (not self.only or not {JOINT_NAME, LAY_NAME}.isdisjoint(self.only))
        return len(self.plans) + (has_joint and self.lay_out_changes is None)


@dataclass(frozen=True, slots=True, kw_only=True)
class Share:
    """What goes into one folder of a run: `inner` is "" or the folder of a variant. `pages` counts those of every
    document that is there, the packet among them; `counts` are what its patterns take."""

    inner: str
    contents: tuple[tuple[str, bytes], ...]
    pages: tuple[tuple[str, int], ...]
    counts: tuple[SheetCount, ...]


def make_share(run: Run, number: int, progress: Callable[[str], None] | None = None) -> Share | None:
    """One share, None where nothing of it was asked for. Raises SpecRejected, VersionRefused."""
    is_joint = number == len(run.plans)
    with use_layouts(run.layouts):
        plan = join_plans(run.plans, run.title) if is_joint else run.plans[number]
        has_lay = LAY_NAME in run.only and (is_joint or len(run.plans) == 1)
        plan, lay = _lay_goods(run, plan) if has_lay else (plan, ())
        packet = _lay_out_joint(run, plan) if is_joint else _lay_out_variant(run, number, plan)
        packet = replace(packet, documents=(*packet.documents, *lay))
        names = (JOINT_NAME, *(document.name for document in lay))
        only = tuple(name for name in names if not run.only or name in run.only) if is_joint else ()
        only = only or (() if is_joint else _pick_documents(run, number, packet))
        if not only:
            return None
        tables = make_csv_tables(plan) if run.has_csv else ()
        contents = finish_documents(packet, only=only, tables=tables, progress=progress)
    inner = "" if is_joint else plan.build.variant
    counts = tuple(document.count for document in packet.documents if document.count is not None)
    return Share(inner=inner, contents=tuple(contents.items()), pages=_count_pages(packet), counts=counts)


def _lay_out_joint(run: Run, plan: Plan) -> Packet:
    return lay_out_joint_list(plan, choices=run.choices, date=run.day, is_draft=run.is_draft)


def _lay_goods(run: Run, plan: Plan) -> tuple[Plan, tuple[Document, ...]]:
    """The pages of the lay, and the plan with what it says is to be bought; loaded only here."""
    from docgen.calls.lays import buy_by_lays, lay_plan

    laid = lay_plan(plan)
    plan = buy_by_lays(plan, laid)
    pages = lay_out_cutting_lay(laid, plan, choices=run.choices, date=run.day, is_draft=run.is_draft)
    return plan, (pages,)


def _lay_out_variant(run: Run, number: int, plan: Plan) -> Packet:
    if run.lay_out_changes is not None:
        return run.lay_out_changes(plan, run.choices, day=run.day, is_draft=run.is_draft)
    return lay_out(
        plan,
        choices=run.choices,
        date=run.day,
        orders=run.orders[number],
        is_draft=run.is_draft,
        has_pattern=not run.only or not {PATTERN, PACKET}.isdisjoint(run.only),
    )


def _pick_documents(run: Run, number: int, packet: Packet) -> tuple[str, ...]:
    """The files to be written: all that are there, or those of them asked for. Care cards of a variant that nobody
    ordered, where there are orders at all, would only be blank."""
    there = [*(document.name for document in packet.documents), PACKET]
    if run.lay_out_changes is not None:
        return tuple(there[:1])
    if run.only and any(run.orders) and not run.orders[number]:
        there.remove(CARE_CARD)
    return tuple(name for name in there if name in run.only or not run.only)


def _count_pages(packet: Packet) -> tuple[tuple[str, int], ...]:
    together = sum(len(document.pages) for document in packet.documents if not document.is_apart)
    return (*((document.name, len(document.pages)) for document in packet.documents), (PACKET, together))


def check_shares(shares: Sequence[Share], only: Sequence[str]) -> None:
    """Raises CallRejected for a document that was asked for and is not there with this spec."""
    there = {name for share in shares for name, _ in share.pages}
    if SHOP_PAGE in only and SHOP_PAGE not in there:
        raise CallRejected("there is no shop page, since neither the spec nor the shop's file names a price")
    if JOINT_NAME in only and JOINT_NAME not in there:
        raise CallRejected("there is no joint cutting list, since only one thing is made")


def count_pages(shares: Sequence[Share], folder: Path) -> dict[Path, int]:
    """Pages of every document that a run could have written."""
    return {folder / share.inner / f"{name}.pdf": count for share in shares for name, count in share.pages}


def sum_counts(shares: Sequence[Share], paths: Sequence[Path]) -> SheetCount | None:
    """Sheets, joins and bounds of all patterns; None when no pattern was written."""
    counts = [count for share in shares for count in share.counts]
    if not counts or not {PATTERN, PACKET} & {path.stem for path in paths}:
        return None
    return SheetCount(
        sheets=sum(count.sheets for count in counts),
        joins=sum(count.joins for count in counts),
        bound=sum(count.bound for count in counts),
    )
