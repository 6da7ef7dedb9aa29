"""The five phases in a row: read, resolve, plan, lay out, write. This is the map of the program.

What the outside supplies (the folder, the paper, the day) comes in here and nowhere else.
"""

from __future__ import annotations

import os
import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from datetime import UTC, date, datetime
from pathlib import Path
from typing import Final

from docgen.issuing import lay_out_changes
from docgen.layout_files import Layouts, find_layouts, use_layouts
from docgen.pages import JOINT_NAME, Choices, find_layout_problems, lay_out
from docgen.pages.drawn.export import draw_pieces
from docgen.pages.marks.page import SheetCount
from docgen.plan import join_plans, plan_work
from docgen.printing import Asked, check_pieces, choose_printing, read_asked, read_for_shop, settings_for
from docgen.problems import CallRejected, Problem, SpecRejected, shorten, suggest
from docgen.read import read_orders, read_spec, share_orders
from docgen.resolve import Accepted, Build, Printer, price_build, resolve_variants
from docgen.shares import (
    PATTERN,
    Share,
    check_shares,
    count_pages,
    keep_ordered,
    own_title,
    pick_variants,
    place_in,
    share_joint,
    share_out,
    sum_counts,
)
from docgen.versions import tell_draft
from docgen.write import WriteFailed, finish_documents, replace_files, write_dxf, write_svg
from docgen.written.units import Show, WrittenError, format_length, format_mm, parse_length

__all__ = [
    "FILE_NAMES",
    "CallRejected",
    "Checked",
    "Exported",
    "Outcome",
    "WriteFailed",
    "build_documents",
    "check_spec",
    "export_pieces",
]

FILE_NAMES: Final = ("pattern", "cutting-list", "build-sheet", "care-card", "shop-page", JOINT_NAME, "packet")
"""The files that can be written, without their ending. The packet holds the first four; there is a shop page only where
the spec or the shop's file names prices, and a joint cutting list only where it has variants."""

VECTOR_WRITERS: Final = {"svg": write_svg, "dxf": write_dxf}
MOST_KERF_MM: Final = 3.0

MOST_MAKES: Final = 1000
DAY: Final = re.compile(r"\d{4}-\d{2}-\d{2}", re.ASCII)


@dataclass(frozen=True, slots=True, kw_only=True)
class Outcome:
    """What was written into `folder`: `pages` counts those of each path, 0 of a table; `count` is what the
    pattern takes besides its first page, None when it was not asked for; `paper` is the paper's name; `printer`
    the one it is corrected for; `draft` tells why the pages say DRAFT, None when they do not; `accepted` are
    cautions that the maker accepts; `worked_out` are measures that a seam gave, each with its length in words."""

    paths: tuple[Path, ...]
    pages: tuple[int, ...]
    count: SheetCount | None
    paper: str
    cautions: tuple[Problem, ...]
    printer: Printer | None = None
    folder: Path = Path()
    draft: Problem | None = None
    accepted: tuple[Accepted, ...] = ()
    worked_out: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Checked:
    """What was found in a spec without errors, what of it the maker accepts, and the measures that a seam
    gave."""

    cautions: tuple[Problem, ...]
    accepted: tuple[Accepted, ...] = ()
    worked_out: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Exported:
    """The vector files that were written, one for each piece, and the kerf they allow for."""

    paths: tuple[Path, ...]
    kerf_mm: float
    cautions: tuple[Problem, ...]
    folder: Path = Path()


def build_documents(
    path: str | Path,
    folder: str | Path | None = None,
    *,
    only: Sequence[str] = (),
    paper: str | None = None,
    units: str | None = None,
    date: str | None = None,
    margin: str | None = None,
    overlap: str | None = None,
    join: str | None = None,
    full_straps: bool | None = None,
    mirror: bool = False,
    pieces: Sequence[str] = (),
    printer: str | None = None,
    shop: str | Path | None = None,
    orders: str | Path | None = None,
    makes: int | None = None,
    variants: Sequence[str] = (),
    csv: bool = False,
    since: str | None = None,
    layouts: str | Path | None = None,
    progress: Callable[[str], None] | None = None,
) -> Outcome:
    """Write the documents of the spec at `path` into a folder: all of them, or those that `only` names.

    Without a folder it is `out/CODE-vVERSION` below the current one. `units` ("in", "mm") takes the place of the
    spec's; `date` (YYYY-MM-DD) is printed on the pages, else SOURCE_DATE_EPOCH, else today. How the pattern is
    printed: `paper`, `margin`, `overlap`, `join`, `full_straps`, `printer` and `shop` as in `docgen.printing.Asked`,
    else as the spec says, else the shop's file; `mirror` turns every template over; `pieces` names those that are
    printed, and then only the pattern is written unless `only` says otherwise. `orders` is a CSV file
    of customers, with a care card for each. `makes` (1 to 1000) takes the place of the spec's. A spec with variants
    gives a packet for each of them, or for those of `variants`, in a folder of its own, and one cutting list for all;
    `csv` adds the lists as tables. `since` is an issued version: only the pages that changed since then are written, in
    one file. Pages of a version that is not issued say DRAFT. `layouts` is a folder of the shop's own layout files, else
    that of this name beside the spec. `progress` is told each step in words.
    Raises SpecRejected, CallRejected, VersionRefused, or WriteFailed; then nothing was written.
    """
    check_call(only, units, makes)
    if since is not None and (only or pieces or orders or csv):
        raise CallRejected("--since prints every page that changed: leave out --only, --pieces, --orders and --csv")
    asked = Asked(
        paper=paper,
        margin=margin,
        overlap=overlap,
        join=join,
        full_straps=full_straps,
        mirror=mirror,
        pieces=tuple(pieces),
        printer=printer,
        shop=shop,
    )
    said = read_asked(asked)
    only = only or ((PATTERN,) if pieces else ())
    day = pick_date(date)
    say = progress or (lambda words: None)
    with use_layouts(pick_layouts(path, layouts)):
        say("reading the spec")
        spec = read_for_shop(path, shop)
        customers = read_orders(orders) if orders else ()
        say("working out the pieces")
        builds = tuple(_change_build(build, units, makes) for build in pick_variants(spec, variants))
        choices = choose_printing(asked, said, builds[0], path)
        if since is None:
            prices = settings_for(asked, path).prices
            builds = tuple(price_build(build, prices) for build in builds)
        customers_of = dict(share_orders(customers, [build.variant for build in builds if build.variant]))
        say("planning the work")
        plans = [plan_work(build) for build in builds]
        say("laying out the pages")
        draft = tell_draft(Path(path), builds[0])
        is_draft = draft is not None
        packets = [
            lay_out(plan, choices=choices, date=day, orders=customers_of[plan.build.variant], is_draft=is_draft)
            if since is None
            else lay_out_changes(path, since, plan, choices, day=day, is_draft=is_draft)
            for plan in plans
        ]
        shares = keep_ordered(share_out(plans, packets, only, csv), customers_of, only)
        if since is not None:
            shares = tuple(replace(share, only=(share.packet.documents[0].name,)) for share in shares)
        elif len(plans) > 1 and (not only or JOINT_NAME in only):
            joint = join_plans(plans, own_title(spec))
            shares = (*shares, share_joint(joint, choices, day, csv, is_draft))
        check_shares(shares, only)
        contents: dict[str, bytes] = {}
        for share in shares:
            found = finish_documents(share.packet, only=share.only, tables=share.tables, progress=progress)
            contents |= {place_in(share.inner, name): content for name, content in found.items()}
        target = _pick_folder(folder, builds[0])
        say(f"writing to {target}")
        paths = replace_files(target, contents)
        cautions = tuple(dict.fromkeys(caution for build in builds for caution in build.cautions))
        outcome = _tell_outcome(shares, target, paths, choices, cautions)
        return replace(outcome, draft=draft, accepted=_accepted_of(builds), worked_out=_worked_out_of(builds))


def pick_layouts(path: str | Path, folder: str | Path | None) -> Layouts:
    """The layouts for a spec, none of their files faulty.

    Raises CallRejected for a folder that is not there, SpecRejected with all problems of layouts and spec in one go.
    """
    found = find_layouts(path, folder)
    problems = find_layout_problems(found)
    if problems:
        try:
            resolve_variants(read_spec(path))
        except SpecRejected as error:
            problems = (*problems, *error.problems)
        raise SpecRejected(problems)
    return found


def export_pieces(
    path: str | Path,
    to: str,
    folder: str | Path | None = None,
    *,
    kerf: str | None = None,
    pieces: Sequence[str] = (),
    layouts: str | Path | None = None,
) -> Exported:
    """Write every piece of the spec at `path`, or those that `pieces` names, as "svg" or "dxf" into a folder.

    Without a folder it is `out/CODE-vVERSION` below the current one; the pieces of each variant go into a
    folder of its own. `kerf` is a written length, 0 to 3 mm: the width that the cut takes away. Raises SpecRejected,
    CallRejected, or WriteFailed; then nothing was written.
    """
    if to not in VECTOR_WRITERS:
        raise CallRejected(f'pieces are exported to {" or ".join(VECTOR_WRITERS)}, not to "{shorten(to)}"')
    kerf_mm = read_kerf(kerf)
    with use_layouts(pick_layouts(path, layouts)):
        builds = resolve_variants(read_for_shop(path))
        check_pieces(builds[0], pieces)
        drawings = [(build, draw_pieces(build, kerf_mm=kerf_mm, names=pieces)) for build in builds]
    contents = {
        place_in(build.variant, f"{drawing.name}.{to}"): VECTOR_WRITERS[to](drawing)
        for build, drawn in drawings
        for drawing in drawn
    }
    target = _pick_folder(folder, builds[0])
    cautions = tuple(dict.fromkeys(caution for build in builds for caution in build.cautions))
    return Exported(paths=replace_files(target, contents), kerf_mm=kerf_mm, cautions=cautions, folder=target)


def read_kerf(written: str | None) -> float:
    """The kerf in mm, 0 when none is given. Raises CallRejected."""
    if written is None:
        return 0.0
    try:
        kerf_mm = parse_length(written)
    except WrittenError as error:
        raise CallRejected(f"the kerf: {error.what}; {error.mend}") from error
    if not 0 <= kerf_mm <= MOST_KERF_MM:
        raise CallRejected(f"a kerf of {format_mm(kerf_mm, 3)} does not work; use 0 to {MOST_KERF_MM:g} mm")
    return kerf_mm


def _pick_folder(folder: str | Path | None, build: Build) -> Path:
    return Path("out", f"{build.code}-v{build.version}") if folder is None else Path(folder)


def check_spec(path: str | Path, layouts: str | Path | None = None) -> Checked:
    """The cautions of a spec without errors, and those accepted.

    Raises SpecRejected with all problems, those of the shop's layouts too, when there is an error.
    """
    with use_layouts(pick_layouts(path, layouts)):
        builds = resolve_variants(read_for_shop(path))
    cautions = dict.fromkeys(caution for build in builds for caution in build.cautions)
    return Checked(cautions=tuple(cautions), accepted=_accepted_of(builds), worked_out=_worked_out_of(builds))


def _accepted_of(builds: Sequence[Build]) -> tuple[Accepted, ...]:
    """What is accepted in any of the variants, each once."""
    return tuple(dict.fromkeys(item for build in builds for item in build.accepted))


def _worked_out_of(builds: Sequence[Build]) -> tuple[tuple[str, str], ...]:
    """Each measure that a seam gave, and its length in words; with its variant, where there are variants."""
    return tuple(
        (f"{name} ({build.variant})" if build.variant else name, format_length(length_mm, build.show))
        for build in builds
        for name, length_mm in build.solved_measures
    )


def check_call(only: Sequence[str], units: str | None, makes: int | None = None) -> None:
    """Raises CallRejected for a document or a unit that does not exist, or a batch of impossible size."""
    if makes is not None and not 1 <= makes <= MOST_MAKES:
        raise CallRejected(f"a batch has 1 to {MOST_MAKES} makes, not {makes}")
    for name in only:
        if name not in FILE_NAMES:
            mend = suggest(name, FILE_NAMES) or "there are " + ", ".join(FILE_NAMES)
            raise CallRejected(f'no document is called "{name}"; {mend}')
    if units not in (None, "in", "mm"):
        raise CallRejected(f'lengths are shown in "in" or "mm", not in "{units}"')


def pick_date(written: str | None) -> str:
    """The day for the pages, YYYY-MM-DD: as given, else from SOURCE_DATE_EPOCH, else today.

    Raises CallRejected when what is given is no day. SOURCE_DATE_EPOCH: seconds since 1970 in UTC, by the
    specification of that name (reproducible-builds.org).
    """
    if written is not None:
        return _check_day(written)
    seconds = os.environ.get("SOURCE_DATE_EPOCH", "")
    if not seconds:
        return date.today().isoformat()
    try:
        return datetime.fromtimestamp(int(seconds), tz=UTC).date().isoformat()
    except (ValueError, OverflowError, OSError) as error:
        raise CallRejected(f'SOURCE_DATE_EPOCH is "{seconds}", which is no number of seconds since 1970') from error


def _check_day(written: str) -> str:
    what = f'"{written}" is no day of the calendar; write it like 2026-03-31'
    if not DAY.fullmatch(written):
        raise CallRejected(what)
    try:
        return date.fromisoformat(written).isoformat()
    except ValueError as error:
        raise CallRejected(what) from error


def _change_build(build: Build, units: str | None, makes: int | None) -> Build:
    """The build with the unit and the size of the batch that the call asks for."""
    show: Show = build.show if units is None else "mm" if units == "mm" else "in"
    return replace(build, show=show, makes=build.makes if makes is None else makes)


def _tell_outcome(
    shares: Sequence[Share], folder: Path, paths: tuple[Path, ...], choices: Choices, cautions: tuple[Problem, ...]
) -> Outcome:
    pages = count_pages(shares, folder)
    return Outcome(
        paths=paths,
        pages=tuple(pages.get(path, 0) for path in paths),
        count=sum_counts(shares, paths),
        paper=choices.paper,
        cautions=cautions,
        printer=choices.printer,
        folder=folder,
    )
