"""What a run writes into which folder: a packet for each variant, and one cutting list for all of them."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Final

from docgen.pages import JOINT_NAME, Choices, lay_out_joint_list, make_csv_tables
from docgen.pages.marks.page import CsvTable, Packet, SheetCount
from docgen.plan import Plan
from docgen.problems import CallRejected, shorten, suggest
from docgen.read import Order, Spec
from docgen.resolve import Build, resolve_variants

PATTERN: Final = "pattern"
PACKET: Final = "packet"
SHOP_PAGE: Final = "shop-page"
CARE_CARD: Final = "care-card"


@dataclass(frozen=True, slots=True, kw_only=True)
class Share:
    """What goes into one folder of a run: `inner` is "" or the folder of a variant."""

    inner: str
    packet: Packet
    only: tuple[str, ...]
    tables: tuple[CsvTable, ...]


def place_in(inner: str, name: str) -> str:
    """A file's name below the folder of a run: in the folder of its variant, when it has one."""
    return f"{inner}/{name}" if inner else name


def pick_variants(spec: Spec, names: Sequence[str]) -> tuple[Build, ...]:
    """The builds of all variants of a spec, or of those named; of a spec without variants the one build.

    Raises SpecRejected, and CallRejected for a name that is not there.
    """
    builds = resolve_variants(spec)
    known = [build.variant for build in builds if build.variant]
    for name in names:
        if name not in known:
            mend = suggest(name, known) or (f"there are {', '.join(known)}" if known else "the spec has no variants")
            raise CallRejected(f'no variant is called "{shorten(name)}"; {mend}')
    return tuple(build for build in builds if not names or build.variant in names)


def share_out(plans: Sequence[Plan], packets: Sequence[Packet], only: Sequence[str], csv: bool) -> tuple[Share, ...]:
    """What goes into each folder: all documents, or those of `only` that are there; nothing where none is."""
    shares = []
    for plan, packet in zip(plans, packets, strict=True):
        there = (*(document.name for document in packet.documents), PACKET)
        chosen = tuple(name for name in only if name in there)
        if chosen or not only:
            tables = make_csv_tables(plan) if csv else ()
            shares.append(Share(inner=plan.build.variant, packet=packet, only=chosen, tables=tables))
    return tuple(shares)


def keep_ordered(
    shares: Sequence[Share], orders: Mapping[str, Sequence[Order]], only: Sequence[str]
) -> tuple[Share, ...]:
    """The shares without the care cards of variants that nobody ordered, where these cards were asked for by name and
    there are orders at all: they would only be blank."""
    if CARE_CARD not in only or not any(orders.values()):
        return tuple(shares)
    kept = [
        share
        if orders.get(share.inner, ())
        else replace(share, only=tuple(name for name in share.only if name != CARE_CARD))
        for share in shares
    ]
    return tuple(share for share in kept if share.only)


def share_joint(plan: Plan, choices: Choices, day: str, csv: bool, is_draft: bool) -> Share:
    """The cutting list that sums over all variants."""
    packet = lay_out_joint_list(plan, choices=choices, date=day, is_draft=is_draft)
    return Share(inner="", packet=packet, only=(JOINT_NAME,), tables=make_csv_tables(plan) if csv else ())


def check_shares(shares: Sequence[Share], only: Sequence[str]) -> None:
    """Raises CallRejected for a document that was asked for and is not there with this spec."""
    there = {document.name for share in shares for document in share.packet.documents}
    if SHOP_PAGE in only and SHOP_PAGE not in there:
        raise CallRejected("there is no shop page, since neither the spec nor the shop's file names a price")
    if JOINT_NAME in only and JOINT_NAME not in there:
        raise CallRejected("there is no joint cutting list, since only one thing is made")


def own_title(spec: Spec) -> str:
    """The title of the build without a variant."""
    return spec.spec.title.value if spec.spec is not None and spec.spec.title is not None else ""


def count_pages(shares: Sequence[Share], folder: Path) -> dict[Path, int]:
    """Pages of every document that a run could have written."""
    pages: dict[Path, int] = {}
    for share in shares:
        inner = folder / share.inner
        documents = share.packet.documents
        pages |= {inner / f"{document.name}.pdf": len(document.pages) for document in documents}
        together = sum(len(document.pages) for document in documents if not document.is_apart)
        pages[inner / f"{PACKET}.pdf"] = together
    return pages


def sum_counts(shares: Sequence[Share], paths: Sequence[Path]) -> SheetCount | None:
    """Sheets, joins and bounds of all patterns; None when no pattern was written."""
    counts = [document.count for share in shares for document in share.packet.documents if document.count is not None]
    if not counts or not {PATTERN, PACKET} & {path.stem for path in paths}:
        return None
    return SheetCount(
        sheets=sum(count.sheets for count in counts),
        joins=sum(count.joins for count in counts),
        bound=sum(count.bound for count in counts),
    )
