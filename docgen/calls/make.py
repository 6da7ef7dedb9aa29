"""Making the documents of a spec: gather, resolve, lay out, write. This is the map of the program."""

from collections.abc import Callable, Iterator
from dataclasses import replace
from functools import partial
from pathlib import Path
from typing import Final

from docgen.assemble import Assembled
from docgen.calls.asked import MakeCall
from docgen.calls.cores import work_each
from docgen.calls.outside import (
    Checked,
    check_builds,
    own_title,
    pick_date,
    pick_folder,
    pick_layouts,
    place_in,
    read_for_shop,
    settle_shop,
)
from docgen.calls.printing import choose_printing, read_pattern
from docgen.calls.shares import PATTERN, Run, Share, check_shares, count_pages, make_share, sum_counts
from docgen.checks import resolve_variants
from docgen.classes import dataclass
from docgen.layout_files import Layouts, use_layouts
from docgen.pages import JOINT_NAME, LAY_NAME, Choices
from docgen.pages.marks.page import Packet, SheetCount
from docgen.plan import plan_work
from docgen.problems import CallRejected, Place, Problem, count_words, make_caution, refuse_unknown
from docgen.read import Order, ShopFile, Spec, read_orders, share_orders
from docgen.resolve import Printer, Printing, pick_homes, price_build
from docgen.versions.compared.sides import tell_draft
from docgen.write import load_writers, replace_files
from docgen.written.units.telling import Show

FILE_NAMES: Final = ("pattern", "cutting-list", "build-sheet", "care-card", "shop-page", JOINT_NAME, LAY_NAME, "packet")
"""The files that can be written, without their ending. The packet holds the first four; there is a shop page only where
the spec or the shop's file names prices, a joint cutting list only where it has variants, and a cutting lay only where it
is asked for."""

MOST_MAKES: Final = 1000
Say = Callable[[str], None]


@dataclass(frozen=True, slots=True, kw_only=True)
class Outcome(Checked):
    """What was written into `folder`: `pages` counts those of each path, 0 of a table; `count` is what the
    pattern takes besides its first page, None when it was not asked for; `paper` is the paper's name; `printer`
    the one it is corrected for; `draft` tells why the pages say DRAFT, None when they do not."""

    paths: tuple[Path, ...]
    pages: tuple[int, ...]
    count: SheetCount | None
    paper: str
    printer: Printer | None = None
    folder: Path = Path()
    draft: Problem | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Gathered:
    """All that a run takes from outside: the spec and the shop's file as read, orders, layouts, the day, and what the
    call says of printing."""

    spec: Spec
    shop: ShopFile | None
    orders: tuple[Order, ...]
    layouts: Layouts
    day: str
    said: Printing


@dataclass(frozen=True, slots=True, kw_only=True)
class Resolved:
    """What is made: a build and its orders for each variant, how it is printed, and why its pages say DRAFT."""

    builds: tuple[Assembled, ...]
    orders: tuple[tuple[Order, ...], ...]
    choices: Choices
    draft: Problem | None


def make_documents(asked: MakeCall, progress: Say | None = None, cores: int = 1) -> Outcome:
    """Write the documents that are asked for; `progress` is told each step in words, and variants are made side by side
    on so many `cores`, to the same bytes.

    Raises SpecRejected, CallRejected, VersionRefused, or WriteFailed; then nothing was written.
    """
    say = progress or (lambda words: None)
    gathered = gather(asked, say)
    with use_layouts(gathered.layouts):
        resolved = resolve(asked, gathered, say, cores)
        shares = lay_out(asked, gathered, resolved, say, cores)
    return write(asked, resolved, shares, say)


def gather(asked: MakeCall, say: Say) -> Gathered:
    """What the run takes from outside, once and for all."""
    check_call(asked)
    said, day = read_pattern(asked), pick_date(asked.date)
    layouts = pick_layouts(asked.spec, asked.layouts)
    with use_layouts(layouts):
        say("reading the spec")
        spec, shop = read_for_shop(asked.spec, asked.shop)
        orders = tuple(read_orders(asked.orders)) if asked.orders else ()
    return Gathered(spec=spec, shop=shop, orders=orders, layouts=layouts, day=day, said=said)


def resolve(asked: MakeCall, gathered: Gathered, say: Say, cores: int) -> Resolved:
    """The builds as they are made this time, and what belongs to each."""
    say("working out the pieces")
    builds = tuple(change_build(build, asked) for build in pick_variants(gathered.spec, asked.variants, cores))
    settings = settle_shop(gathered.shop)
    choices = choose_printing(asked, gathered.said, builds[0], settings)
    if asked.since is None:
        builds = tuple(price_build(build, settings.prices) for build in builds)
    shared = dict(share_orders(gathered.orders, [build.variant for build in builds if build.variant]))
    orders = tuple(tuple(shared[build.variant]) for build in builds)
    return Resolved(builds=builds, orders=orders, choices=choices, draft=tell_draft(Path(asked.spec), builds[0]))


def lay_out(asked: MakeCall, gathered: Gathered, resolved: Resolved, say: Say, cores: int) -> tuple[Share, ...]:
    """The files of every folder, as bytes."""
    say("planning the work")
    plans = tuple(plan_work(build) for build in resolved.builds)
    run = Run(
        plans=plans,
        orders=resolved.orders,
        title=own_title(gathered.spec),
        only=tuple(asked.only) or ((PATTERN,) if asked.pieces else ()),
        choices=resolved.choices,
        day=gathered.day,
        is_draft=resolved.draft is not None,
        has_csv=asked.csv,
        layouts=gathered.layouts,
        lay_out_changes=_find_changes(asked),
    )
    say("laying out the pages")
    is_shared_out = cores > 1 and run.count > 1
    if is_shared_out:
        load_writers()
    work = partial(make_share, run, progress=None if is_shared_out else say)
    shares = []
    for number, share in enumerate(work_each(work, run.count, cores), start=1):
        if run.count > 1:
            say(f"made {number} of {run.count}")
        shares += [share] if share else []
    check_shares(shares, run.only)
    return tuple(shares)


def write(asked: MakeCall, resolved: Resolved, shares: tuple[Share, ...], say: Say) -> Outcome:
    """All files into their folder, or none."""
    builds, target = resolved.builds, pick_folder(asked.out, resolved.builds[0])
    contents = {place_in(share.inner, name): content for share in shares for name, content in share.contents}
    say(f"writing to {target}")
    paths = replace_files(target, contents)
    pages, found = count_pages(shares, target), check_builds(builds, *judge_cards(asked, resolved))
    return Outcome(
        paths=paths,
        pages=tuple(pages.get(path, 0) for path in paths),
        count=sum_counts(shares, paths),
        paper=resolved.choices.paper,
        printer=resolved.choices.printer,
        folder=target,
        draft=resolved.draft,
        cautions=found.cautions,
        accepted=found.accepted,
        worked_out=found.worked_out,
    )


def judge_cards(asked: MakeCall, resolved: Resolved) -> Iterator[Problem]:
    """A word where the orders of a build ask for more or fewer cards than are made of it; none for one without orders."""
    for build, orders in zip(resolved.builds, resolved.orders, strict=True):
        cards = sum(order.copies for order in orders)
        if cards and cards != build.makes:
            what = f"the orders make {count_words(cards, 'care card')}, and {build.makes} of {build.title} are made"
            where = f"makes = {cards} in [variants.{build.variant}]" if build.variant else f"--makes {cards}"
            mend = f"take {where} for as many of them, or count the orders"
            yield make_caution(Place(path=str(asked.orders)), what, mend)


def check_call(asked: MakeCall) -> None:
    """Raises CallRejected for a document or a unit that does not exist, a batch of impossible size, or choices that do
    not go together."""
    if asked.makes is not None and not 1 <= asked.makes <= MOST_MAKES:
        raise CallRejected(f"a batch has 1 to {MOST_MAKES} makes, not {asked.makes}")
    refuse_unknown("document", asked.only, FILE_NAMES)
    if asked.units not in (None, "in", "mm"):
        raise CallRejected(f'lengths are shown in "in" or "mm", not in "{asked.units}"')
    if asked.since is not None and (asked.only or asked.pieces or asked.orders or asked.csv):
        raise CallRejected("--since prints every page that changed: leave out --only, --pieces, --orders and --csv")


def pick_variants(spec: Spec, names: tuple[str, ...], cores: int) -> tuple[Assembled, ...]:
    """The builds of all variants of a spec, or of those named; of a spec without variants the one build.

    Raises SpecRejected, and CallRejected for a name that is not there.
    """
    builds = resolve_variants(spec, partial(work_each, cores=cores))
    known = [build.variant for build in builds if build.variant]
    refuse_unknown("variant", names, known, "the spec has no variants")
    return pick_homes(tuple(build for build in builds if not names or build.variant in names))


def change_build(build: Assembled, asked: MakeCall) -> Assembled:
    """The build with the unit and the size of the batch that the call asks for."""
    show: Show = build.show if asked.units is None else "mm" if asked.units == "mm" else "in"
    return replace(build, show=show, makes=build.makes if asked.makes is None else asked.makes)


def _find_changes(asked: MakeCall) -> Callable[..., Packet] | None:
    """What lays out the pages that changed, where only these are asked for; else the versions are not even loaded."""
    if asked.since is None:
        return None
    from docgen.calls.compare import lay_out_changes

    return partial(lay_out_changes, asked.spec, asked.since)
