"""What documents of words share: the head of their first page, the band on every page, words for needles and findings."""

import re
from collections.abc import Iterable, Mapping, Sequence

from docgen.pages.looks.words import words
from docgen.pages.marks.page import ClipMark, Document, Mark, TextMark
from docgen.pages.setting.blocks import Beside, Block, Column, Figure, Heading, KeyValues, Paragraph, Table, scale_style
from docgen.pages.setting.flow import flow_pages
from docgen.pages.setting.setup import Setup, band_page, make_stamp
from docgen.plan import Plan
from docgen.problems import Problem
from docgen.resolve import Build
from docgen.tables.thread import format_needle

LITTLE_SHARE = 0.4  # of a last page, up to which it is worth saving
TIGHT_SHARES = (0.85, 0.7, 0.55, 0.45)
SPACES = (
    "paragraph_gap_mm",
    "item_gap_mm",
    "block_gap_mm",
    "title_gap_mm",
    "heading_gap_mm",
    "subheading_gap_mm",
    "cell_pad_mm",
)
HAND_NEEDLES = 2  # a saddle stitch has one at each end of the thread
QUOTED = re.compile(r'"([^"]+)"')
COUNTED = "(?:holes?|layers?|rivets?|stitches|times|slots?|slits?|rows?|pieces?|straps?|bobbins?)"
MEASURE_GAP = re.compile(
    rf"(?<=\d) (?=\d+/\d|×|(?:in|mm|cm|oz|ft|yd|m|dm²|sq|{COUNTED})\b)|(?<=\d ×) |(?<=\(of) (?=\d)"
)


def page_blocks(blocks: Iterable[Block], name: str, plan: Plan, setup: Setup) -> Document:
    """A document of flowed pages, each with its band; `name` is the document's, such as "cutting-list"."""
    payload_name = name.upper()
    stamp = make_stamp(plan.build, setup, payload_name)
    flowed = _flow_well(tuple(blocks), setup)
    pages = (
        band_page(marks, stamp, payload_name, number, len(flowed), setup)
        for number, marks in enumerate(flowed, start=1)
    )
    return Document(name=name, title=words("documents")[payload_name], pages=tuple(pages))


def _flow_well(blocks: Sequence[Block], setup: Setup) -> tuple[tuple[Mark, ...], ...]:
    """The marks of each page; a last page with little on it is saved by less space between blocks, where that does."""
    loose = flow_pages(blocks, setup.frame, setup.style)
    if len(loose) < 2 or _filled_share(loose[-1], setup) > LITTLE_SHARE:
        return loose
    for share in TIGHT_SHARES:
        tight = flow_pages(blocks, setup.frame, scale_style(setup.style, SPACES, share))
        if len(tight) < len(loose):
            return tight
    return loose


def _filled_share(marks: Sequence[Mark], setup: Setup) -> float:
    """How much of the page's height its lines of type and its drawings reach down, from 0 to 1."""
    lows = [mark.y_mm for mark in marks if isinstance(mark, TextMark)]
    lows += [mark.box.bottom for mark in marks if isinstance(mark, ClipMark)]
    return (setup.frame.top - min(lows, default=setup.frame.top)) / setup.frame.height


def head_blocks(name: str, plan: Plan, setup: Setup, more: tuple[tuple[str, str], ...] = ()) -> tuple[Block, ...]:
    """The head of a first page: document and build, version, date, size of the batch, `more`, and what has changed."""
    said, build = words("opening"), plan.build
    facts = (
        (said["version"], make_stamp(build, setup, name.upper()).version_words),
        (said["date"], setup.date),
        (said["batch"], f"{build.makes} {said['make'] if build.makes == 1 else said['makes']}"),
        *more,
    )
    changed = (Paragraph(f"{said['changed'].capitalize()}: {hold_measures(build.changed)}"),) if build.changed else ()
    templates = (KeyValues(((said["templates"], _home_words(build, said)),), 1),) if build.sharing else ()
    title = f"{words('documents')[name.upper()]}: {build.title}"
    return (Heading(title, 2), KeyValues(facts, max(4, len(facts))), *templates, *changed)


def picture_beside(blocks: tuple[Block, ...], picture: Figure | None) -> tuple[Block, ...]:
    """The blocks with a small picture at their right, where there is one."""
    return (Beside(blocks, picture, picture.width_mm),) if picture else blocks


def _home_words(build: Build, said: Mapping[str, str]) -> str:
    """Where the templates are that a variant shares with others."""
    sharing = build.sharing
    if sharing is None or build.has_pattern:
        return said["templates_here"]
    return f"{said['templates_of']} {sharing.home}"


def needle_words(sizes: Iterable[int], by: str) -> str:
    """Needle sizes in words: "130/21"; a saddle stitch takes two hand needles, whatever the table says."""
    if by == "hand":
        return f"{HAND_NEEDLES} {words('opening')['hand_needles']}"
    return ", ".join(format_needle(size) for size in sizes)


def needle_parts(size: int, by: str, point: str) -> tuple[str, ...]:
    """A needle in words by its size, and where it has one its point: "130/21", "leather point"."""
    return (needle_words((size,), by), *([words("building")[point]] if point else []))


def hold_measures(text: str) -> str:
    """The text with no line break inside a measure, or between a number and what it counts: "7 3/4 in" parted after its
    7 would be read as 3/4 in."""
    return MEASURE_GAP.sub("\u00a0", text)


def finding_words(problem: Problem, build: Build) -> str:
    """What checking found, as the bench reads it: parts by their titles, and without what would mend it, which is for
    whoever writes the spec."""
    titles = build.titles
    return QUOTED.sub(lambda found: f'"{titles.get(found[1], found[1])}"', problem.what)


def accepted_blocks(build: Build) -> tuple[Block, ...]:
    """Cautions that the maker accepts: what was found, where, and why it may stay; nothing where there are none."""
    if not build.accepted:
        return ()
    said = words("accepted")
    rows = tuple(
        (
            build.titles.get(item.problem.at, item.problem.at) or said["whole"],
            hold_measures(finding_words(item.problem, build)),
            item.reason,
        )
        for item in build.accepted
    )
    return Heading(said["title"], 3), Table(columns_of(said, {"where": 34, "found": 80, "reason": 66}), rows)


def columns_of(said: Mapping[str, str], shares: Mapping[str, float], *, tick: bool = False) -> tuple[Column, ...]:
    """Columns by the keys of their headings, each with its share of the width; `tick` draws boxes in the first."""
    return tuple(Column(said[key], share, tick=tick and not at) for at, (key, share) in enumerate(shares.items()))


def paragraph(lines: Sequence[str]) -> tuple[Paragraph, ...]:
    """All lines in one paragraph; nothing where there are none."""
    return (Paragraph(" ".join(lines)),) if lines else ()
