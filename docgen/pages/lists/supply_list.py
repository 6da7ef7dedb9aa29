"""Plan -> the lists of hardware, thread and goods that are used up, as blocks."""

from collections import Counter
from collections.abc import Mapping, Sequence
from itertools import compress

from docgen.pages.setting.blocks import Block, Heading, Paragraph, Table, Together
from docgen.pages.setting.paging import columns_of, hold_measures, needle_parts, needle_words
from docgen.plan import HardwareItem, Needles, Plan, ThreadNeed, TrimmingItem, ends_words, run_words
from docgen.resolve import Hardware, Trimming, TrimmingCut
from docgen.tables.trimmings import TRIMMING_KINDS
from docgen.written.units.table import MM_PER_YARD
from docgen.written.units.telling import (
    Show,
    format_both,
    format_bought_run,
    format_length,
    format_mm,
    format_number,
    format_run,
)

Said = Mapping[str, str]


def hardware_blocks(hardware: Sequence[HardwareItem], said: Said) -> list[Block]:
    """The table of hardware with the posts chosen; nothing without hardware."""
    if not hardware:
        return []
    shares = {"hardware": 54, "how_many": 17, "post": 38, "finish": 29, "notes": 46}
    rows = tuple(_hardware_row(item, said) for item in hardware)
    return [Heading(said["hardware_title"], 2), _list_table("hardware_title", shares, rows, said)]


def _list_table(title: str, shares: Mapping[str, float], rows: tuple[tuple[str, ...], ...], said: Said) -> Table:
    """A table with boxes to tick, and the key of its heading, which is repeated where it goes on over a page; without the
    columns in which nothing stands."""
    carried = f"{said[title]}, {said['continued']}"
    told = [any(row[at] for row in rows) for at in range(len(shares))]
    kept = {key: share for (key, share), is_told in zip(shares.items(), told, strict=True) if is_told}
    rows = tuple(tuple(compress(row, told)) for row in rows)
    return Table(columns_of(said, kept, tick=True), rows, carried=carried, is_fitted=True)


def _hardware_row(item: HardwareItem, said: Said) -> tuple[str, ...]:
    hardware = item.hardware
    notes = "\n".join(filter(None, (hardware_sizes(hardware, said), hardware.note, spare_words(item, said))))
    return (hardware.what, str(item.count), post_words(item, said), hardware.finish, notes)


def hardware_sizes(hardware: Hardware, said: Said) -> str:
    """Inside width and thickness of the bar."""
    sizes = ((said["inside"], hardware.inside_mm), (said["bar"], hardware.bar_mm))
    return ", ".join(f"{label} {format_mm(size)}" for label, size in sizes if size)


def spare_words(item: HardwareItem, said: Said) -> str:
    """How many to have besides, where no spare is counted: what is set badly is not set again."""
    each = f" {said['of_each_post']}" if item.posts else ""
    told = f"{said['no_spare']} {item.wanted} {said['more']}{each}" if item.wanted else ""
    return hold_measures(f"{told}; {said['no_spare_buy']} {_posts_to_buy(item, said)}") if told and item.tried else told


def _posts_to_buy(item: HardwareItem, said: Said) -> str:
    """How many of each post, those to try and the spares in it: `8 of 6 mm, 6 of 10 mm`."""
    counts = Counter(dict(item.posts)) + Counter(dict(item.tried))
    told = ((count + item.wanted, format_mm(post)) for post, count in sorted(counts.items()) if post)
    return ", ".join(f"{count} {said['of']} {post}".replace(" ", "\u00a0") for count, post in told)


def post_words(item: HardwareItem, said: Said) -> str:
    """The posts chosen, "8 with a 6 mm post", apart for both halves of a snap where these differ; those in the drawer where
    none could be chosen."""
    if item.posts:
        cap = f"{said['post_cap']} " if item.has_other_studs else ""
        told = [
            hold_measures(f"{count} {cap}{said['post_with']} {format_mm(post)} {said['post_long']}")
            if post
            else f"{count} {said['post_open']}"
            for post, count in item.posts
        ]
        told += [
            hold_measures(f"{count} {said['post_stud']} {said['post_with']} {format_mm(post)} {said['post_long']}")
            for post, count in (item.studs if item.has_other_studs else ())
        ]
        told += [
            hold_measures(f"{count} {said['post_more']} {format_mm(post)} {said['post_try']}: {said['post_why']}")
            for post, count in item.tried
        ]
        return "\n".join(told)
    posts = item.hardware.posts_mm
    return f"{said['posts']} {', '.join(format_mm(post) for post in posts)}" if posts else ""


THREAD_SHARES = {
    "thread": 35,
    "needle": 20,
    "sewn": 20,
    "needle_thread": 22,
    "bobbin_thread": 20,
    "bobbins": 22,
    "spools": 22,
}
HAND_SHARES = {"thread": 44, "needle": 26, "sewn": 32, "thread_in_all": 32, "spools": 42}


def trimming_blocks(trimmings: Sequence[TrimmingItem], show: Show, said: Said) -> list[Block]:
    """Goods by length: a row for each length that is cut, then what to buy of them; nothing without any."""
    if not trimmings:
        return []
    shares = {"trimming": 42, "how_many": 16, "trimming_length": 28, "trimming_for": 66, "trimming_buy": 36}
    rows = tuple(_trimming_row(item, index, show, said) for item in trimmings for index in range(len(item.cuts)))
    table = _list_table("trimming_title", shares, rows, said)
    return [Together((Heading(said["trimming_title"], 2), Paragraph(said["trimming_note"]), table))]


def _trimming_row(item: TrimmingItem, index: int, show: Show, said: Said) -> tuple[str, ...]:
    """What it is and what to buy stand once, beside its first length."""
    (cut, count), first = item.cuts[index], index == 0
    return (
        trimming_words(item.trimming, show, said) if first else "",
        str(count),
        format_length(cut.length_mm, show).replace(" (", "\n("),
        hold_measures(
            "\n".join([*_named_in(item, cut, said), *trimming_notes(item.trimming, cut, show, is_first=first)])
        ),
        trimming_to_buy(item, show, said) if first else "",
    )


def _named_in(item: TrimmingItem, cut: TrimmingCut, said: Said) -> list[str]:
    """Of what is cut for itself, as a tie, the step that names it."""
    return [f"{said['for_step']} {item.step}"] if item.step and not cut.where else []


def trimming_words(item: Trimming, show: Show, said: Said) -> str:
    """What it is, and how wide."""
    wide = f"{format_length(item.width_mm, show)} {said['wide']}" if item.width_mm else ""
    return hold_measures("\n".join(filter(None, (item.what, wide))))


def trimming_notes(item: Trimming, cut: TrimmingCut, show: Show, *, is_first: bool = True) -> list[str]:
    """Where it is sewn, what of it is over; and once how it is cut, and the spec's note."""
    kind = TRIMMING_KINDS[item.kind]
    own = [cut.where, *run_words(item, cut, show)]
    return [words for words in (*own, *((kind.cut, ends_words(item), item.note) if is_first else ())) if words]


def trimming_to_buy(item: TrimmingItem, show: Show, said: Said) -> str:
    """`2 × 10 in (254 mm)`, of zips between stops, or a length from the roll with its spare."""
    is_zip = item.trimming.kind == "zip"
    if item.ready:
        lengths = [f"{count} × {format_length(mm, show)}" for mm, count in item.ready]
        return hold_measures("\n".join([*lengths, *([said["between_stops"]] if is_zip else [])]))
    spare = f"{format_number(item.trimming.spare * 100, 1)} % {said['spare']}" if item.trimming.spare else ""
    told = (format_bought_run(item.gross_mm, show), said["from_roll"], said["slider"] if is_zip else "", spare)
    return hold_measures("\n".join(filter(None, told)))


def thread_blocks(threads: Sequence[ThreadNeed], show: Show, said: Said) -> list[Block]:
    """Thread to buy and to wind, and the threads to cut for sewing by hand; nothing without seams."""
    if not threads:
        return []
    has_bobbins = any(need.bobbin_thread_mm for need in threads)
    rows = tuple((_thread_row if has_bobbins else _hand_row)(need, show, said) for need in threads)
    by_hand = any(not need.bobbin_thread_mm for need in threads)
    named = said if by_hand else {**said, "needle_thread": said["needle_thread_alone"]}
    table = _list_table("thread_title", THREAD_SHARES if has_bobbins else HAND_SHARES, rows, named)
    blocks: list[Block] = [Together((Heading(said["thread_title"], 2), Paragraph(said["thread_note"]), table))]
    return blocks + _hand_blocks(threads, show, said)


def _hand_row(need: ThreadNeed, show: Show, said: Said) -> tuple[str, ...]:
    """Where nothing is sewn by machine: nothing is wound."""
    return (
        need.thread_words,
        needle_words(need.needles, need.by),
        format_run(need.sewn_mm, show),
        format_bought_run(need.needle_thread_mm, show),
        f"{need.spools}, {said['each']} {full_words(need.spool_mm, show)}",
    )


def _thread_row(need: ThreadNeed, show: Show, said: Said) -> tuple[str, ...]:
    has_bobbin = bool(need.bobbin_thread_mm)
    return (
        need.thread_words,
        needle_words(need.needles, need.by),
        _run(need.sewn_mm, show),
        _bought(need.needle_thread_mm, show),
        _bought(need.bobbin_thread_mm, show) if has_bobbin else said["no_bobbin"],
        f"{need.bobbins}\n{said['each']} {full_words(need.bobbin_mm, show)}" if has_bobbin else said["no_bobbin"],
        f"{need.spools}\n{said['each']} {full_words(need.spool_mm, show)}",
    )


def full_words(length_mm: float, show: Show) -> str:
    """What a bobbin or spool holds, in whole yards and metres: "827 yd (756 m)"."""
    yards, metres = (format_number(length_mm / unit_mm, 0) for unit_mm in (MM_PER_YARD, 1000))
    return format_both(f"{yards} yd", f"{metres} m", show)


def _run(length_mm: float, show: Show) -> str:
    return format_run(length_mm, show).replace(" (", "\n(")


def _bought(length_mm: float, show: Show) -> str:
    """Thread that has to be there, rounded up."""
    return format_bought_run(length_mm, show).replace(" (", "\n(")


def _hand_blocks(threads: Sequence[ThreadNeed], show: Show, said: Said) -> list[Block]:
    """What to cut before sewing by hand."""
    shares = {"hand_seam": 70, "hand_count": 20, "hand_length": 40, "thread": 50}
    rows = tuple(
        (cut.title, str(cut.count), format_bought_run(cut.length_mm, show), need.thread_words)
        for need in threads
        for cut in need.hand
    )
    return [Heading(said["hand_title"], 3), _list_table("hand_title", shares, rows, said)] if rows else []


def needles_to_buy(needles: Needles, said: Said) -> str:
    """`machine needles 110/18, 130/21`; `2 hand needles`; with their points where these differ."""
    told = needle_words(needles.sizes, needles.by)
    if len({point for _, point in needles.points}) > 1:
        told = ", ".join(" ".join(needle_parts(size, needles.by, point)) for size, point in needles.points)
    return told if needles.by == "hand" else f"{said['machine_needles']} {told}"


def supply_blocks(plan: Plan, said: Said) -> list[Block]:
    """Needles, and what the steps' tools name that is used up; nothing where there is neither."""
    needed = [(needles_to_buy(needles, said), needles.steps) for needles in plan.needles]
    needed += [(item.what, item.steps) for item in plan.supplies]
    rows = tuple((what, ", ".join(map(str, steps))) for what, steps in needed)
    if not rows:
        return []
    table = _list_table("supply_title", {"supply": 110, "for_step": 60}, rows, said)
    return [Together((Heading(said["supply_title"], 2), table))]
