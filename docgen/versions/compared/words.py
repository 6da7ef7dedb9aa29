"""Comparisons, traces and refusals in words for a person; the only place of this package that makes text."""

from collections.abc import Iterable, Mapping, Sequence
from typing import Final

from docgen.pages import CARD
from docgen.pages import words as page_words
from docgen.plan import join_words
from docgen.problems import count_words, render_problem, shorten, show_plain
from docgen.versions.compared.changes import Change, Comparison, Fact, PageVerdict, PrintedPage, Spot, TemplateVerdict
from docgen.versions.compared.compare import compare_issued
from docgen.versions.compared.inside import tell_doubts
from docgen.versions.kept.codes import PageCode
from docgen.versions.kept.issue import IssueOutcome, VersionTaken
from docgen.versions.kept.register import VersionRefused
from docgen.versions.kept.shelf import tell_shelf, version_key
from docgen.versions.traced.trace import Standing, Trace, Traced, TracedFile
from docgen.written.units.telling import (
    Show,
    format_area,
    format_length,
    format_mm,
    format_number,
    format_pitch,
    format_punch,
)

FINE_MM: Final = 1.0
"""A difference smaller than this is told in mm with two decimals: in 1/32 in it would round to nothing."""

CUT_AGAIN: Final = "cut again"
THROW: Final = "throw away"
RIGHT: Final = "still right"
VOUCHED: Final = "told by its codes and the spec inside; what is drawn on the pages is not held against them"
HOW_MARKS: Final = {"added": "+", "removed": "-", "changed": " "}
REASONS: Final = {"outline": "its outline", "holes": "its holes", "marks": "the marks on it", "label": "its label"}

STANDINGS: Final[Mapping[Standing, tuple[str, ...]]] = {
    "current": ("issued on {issued.date}; it is the current version{changed}",),
    "older": (
        "issued on {issued.date}{changed}",
        "NOT current: version {current.version} was issued on {current.date}",
    ),
    "altered": (
        "caution: on record, version {issued.version} has the digest {issued.digest}, not {code.digest}:",
        "this page was made from other contents under the same number; do not cut by it",
    ),
    "draft-as-issued": (
        "a draft, printed before version {issued.version} was issued on {issued.date} with the same contents",
    ),
    "draft-before": (
        "a draft, with other contents than version {issued.version}, issued on {issued.date}; do not cut by it",
    ),
    "draft-open": ("a draft, not issued; {spec} still says the same",),
    "draft-unknown": ("a draft, not issued, and no spec here has these contents any more",),
    "lost": (
        "issued with these contents, as another record says; its own is lost",
        "NOT current: version {current.version} was issued on {current.date}",
    ),
    "lost-other": ("caution: another record says that this version was issued with other contents; do not cut by it",),
    "unknown": ("not on record here; say where its register is with --in FOLDER",),
}
"""What is said of a code, by how it stands."""


def describe_issue(outcome: IssueOutcome) -> str:
    """What was issued, or that it was before."""
    issued = outcome.issued
    beside = "".join(f"\ncaution: {line}" for line in tell_shelf(outcome.shelf))
    if not outcome.is_new:
        return (
            f"version {issued.version} of {issued.code} was issued on {issued.date} already, "
            f"with the very same contents; nothing was written\n  {issued.folder}{beside}"
        )
    copies = count_words(len(issued.files), "file")
    with_drawings = f" and {copies}" if copies else ""
    return (
        f"issued version {issued.version} of {issued.code}: digest {issued.digest}, {issued.date}\n"
        f"  {issued.folder}  (the spec{with_drawings}; keep this folder, for example in git){beside}"
    )


def describe_refusal(error: VersionRefused) -> str:
    """What is wrong, what would mend it, and what differs."""
    lines = [render_problem(error.problem)]
    if isinstance(error, VersionTaken) and (comparison := compare_issued(error.issued, error.build, "the spec")):
        lines += ["what differs:", *list_changes(comparison)]
    return "\n".join(lines)


def describe_comparison(comparison: Comparison) -> str:
    """All that changed, and what must be cut and printed again."""
    head = f"{name_side(comparison, 0)} -> {name_side(comparison, 1)}"
    if not comparison.changes and all(item.is_kept for item in comparison.templates):
        return f"{head}\nnothing to make differently: what is cut and printed is still right"
    return "\n".join([head, *list_changes(comparison), *list_templates(comparison), *list_pages(comparison)])


def name_side(comparison: Comparison, side: int) -> str:
    """`field-bag version 2 (9F2C61AB04)`, or with the file's name first."""
    one = (comparison.before, comparison.after)[side]
    variant = f", variant {one.variant}," if one.variant else ""
    name = f"{one.code}{variant} version {one.version}"
    return f"{name} ({one.digest})" if one.label.startswith("version ") else f"{one.label}: {name} ({one.digest})"


def list_changes(comparison: Comparison) -> list[str]:
    """The lines of all changes; one that says there are none."""
    lines = [line for change in comparison.changes for line in render_change(change, comparison.show)]
    return lines or ["  no change to anything that is made; only words of the spec file differ"]


def render_change(change: Change, show: Show) -> list[str]:
    """One part: a line of its own, and a line for each fact."""
    name = " ".join(word for word in (change.part, change.name) if word)
    title = f" ({shorten(change.title, 60)})" if change.title and change.part != "step" else ""
    what = f": {shorten(change.title, 80)}" if change.part == "step" else ""
    if change.how != "changed":
        return [f"{HOW_MARKS[change.how]} {name}{title}{what} {change.how}"]
    return [f"  {name}{title}{what}", *(f"      {render_fact(fact, show)}" for fact in change.facts)]


def render_fact(fact: Fact, show: Show) -> str:
    """`height: 4 3/4 in (120.7 mm), was 4 1/2 in (114.3 mm); 1/4 in (6.4 mm) more`."""
    if fact.unit == "hole":
        return _render_hole(fact, show)
    if fact.unit == "move":
        return f"{fact.name}: up to {_format_small(_number(fact.after), show)} from where it was"
    now, was = (_format(value, fact.unit, show) for value in (fact.after, fact.before))
    if fact.unit in ("length", "count"):
        return f"{fact.name}: {now}, was {was}; {_difference(fact, show)}"
    return f"{fact.name}: {now}, was {was}"


def _difference(fact: Fact, show: Show) -> str:
    by = _number(fact.after) - _number(fact.before)
    way = "more" if by > 0 else "less"
    if fact.unit == "length":
        return f"{_format_small(abs(by), show)} {way}"
    return f"{_format(abs(by), fact.unit, show)} {way}"


def _format_small(mm: float, show: Show) -> str:
    return format_mm(mm, 2) if mm < FINE_MM else format_length(mm, show)


def _number(value: object) -> float:
    return float(value) if isinstance(value, int | float) else 0.0


def _format(value: object, unit: str, show: Show) -> str:
    if isinstance(value, int | float) and unit != "words":
        match unit:
            case "length":
                return format_length(value, show)
            case "area":
                return format_area(value, show)
            case "share":
                return f"{format_number(value * 100, 1)} %"
            case "pitch":
                return format_pitch(value)
            case "needle":
                return f"NM {value}"
            case _:
                return format_number(value, 2)
    return f'"{shorten(str(value), 80)}"' if value not in (None, "") else "nothing"


def _render_hole(fact: Fact, show: Show) -> str:
    old = fact.before if isinstance(fact.before, Spot) else None
    new = fact.after if isinstance(fact.after, Spot) else None
    if old is None or new is None:
        spot, how = (new, "new") if new is not None else (old, "gone")
        assert spot is not None
        return f"hole {_size(spot, show)} at {_place(spot, show)}: {how}"
    if (old.diameter_mm, old.takes, old.long_mm) == (new.diameter_mm, new.takes, new.long_mm):
        return f"hole {_size(old, show)} at {_place(old, show)}: now at {_place(new, show)}"
    return f"hole at {_place(new, show)}: {_size(new, show)}, was {_size(old, show)}"


def _size(spot: Spot, show: Show) -> str:
    size = format_punch(spot.diameter_mm, show)
    if spot.long_mm:
        size = f"{size} wide, {format_length(spot.long_mm, show)} long"
    return f"{size} for {spot.takes}" if spot.takes else size


def _place(spot: Spot, show: Show) -> str:
    return f"{format_length(spot.from_left_mm, show)} from left, {format_length(spot.from_top_mm, show)} from top"


def list_templates(comparison: Comparison) -> list[str]:
    """Which templates to cut again, and which older ones are still right."""
    lines = ["templates:"]
    for item in sorted(comparison.templates, key=lambda item: (item.is_kept, item.how != "changed")):
        label, why = judge_words(item)
        why = f"{comparison.before.label}'s template" if item.is_kept else why
        lines.append(f"  {label:<12} {item.title}{': ' if why else ''}{why}")
    return lines


def judge_words(verdict: TemplateVerdict) -> tuple[str, str]:
    """What to do with an older template, and why; "" where that goes without saying."""
    if verdict.is_kept:
        return RIGHT, ""
    if verdict.how == "changed":
        return CUT_AGAIN, f"{join_words([REASONS[reason] for reason in verdict.reasons])} changed"
    return (THROW, "it is no longer in the build") if verdict.how == "removed" else ("new", "")


def join_titles(titles: Sequence[str]) -> str:
    """`Shoulder strap, hole part; Handle`: titles may have commas of their own."""
    return "; ".join(titles)


def list_pages(comparison: Comparison) -> list[str]:
    """Which pages to print again and which to throw away, document by document; nothing when not compared."""
    if not comparison.pages:
        return []
    lines = []
    documents = dict.fromkeys(verdict.page.document for verdict in comparison.pages)
    for document in documents:
        own = [verdict for verdict in comparison.pages if verdict.page.document == document]
        lines.append(f"{document_title(document)}:")
        lines += [f"  {label:<12} {text}" for label, text in page_lines(own, comparison, document)]
    return lines


def page_lines(verdicts: Sequence[PageVerdict], comparison: Comparison, document: str) -> list[tuple[str, str]]:
    """What to print, what to throw away, what is still right, of one document."""
    fresh = [item.page for item in verdicts if item.kept is None and not item.is_moved]
    moved = [item.page for item in verdicts if item.kept is None and item.is_moved]
    thrown = [item for item in comparison.thrown if item.document == document]
    kept = [item for item in verdicts if item.kept is not None]
    old = comparison.before.label
    lines = [("print", name_pages(fresh))] if fresh else []
    if moved:
        note = "the pieces on it are unchanged and only lie elsewhere; not needed where they are cut out already"
        lines.append(("print", f"{name_pages(moved)}: {note}"))
    lines += [(THROW, f"{name_pages(thrown)} of {old}")] if thrown else []
    lines += [(RIGHT, f"{name_kept(kept)} of {old}")] if kept else []
    return lines


def name_pages(pages: Sequence[PrintedPage]) -> str:
    """`page 1 and sheets A1, A2 and C`; `pages 2, 3 and 5`."""
    sheets = [page.name for page in pages if page.name]
    plain = [str(page.number) for page in pages if not page.name]
    parts = []
    if plain:
        parts.append(f"{'page' if len(plain) == 1 else 'pages'} {join_words(plain)}")
    if sheets:
        parts.append(f"{'sheet' if len(sheets) == 1 else 'sheets'} {join_words(sheets)}")
    return " and ".join(parts)


def name_kept(kept: Sequence[PageVerdict]) -> str:
    """The older pages that are still right, and the place of those that are now called otherwise."""
    names = name_pages([item.kept for item in kept if item.kept is not None])
    renamed = [
        f"{item.kept.name} is now {item.page.name}"
        for item in kept
        if item.kept is not None and item.kept.name != item.page.name
    ]
    return f"{names} ({', '.join(renamed)})" if renamed else names


def document_title(name: str) -> str:
    """ "build-sheet" -> "Build sheet", as its pages say."""
    return page_words("documents").get(name.upper(), name)


def describe_trace(trace: Trace) -> str:
    """All that a code, a picture or a PDF tells."""
    lines: list[str] = []
    if trace.file is not None:
        lines += _file_lines(trace.file)
    for traced in trace.found:
        lines += _traced_lines(traced)
    lines += [f"also found: {shorten(text, 80)}, which is not from docgen" for text in trace.strangers]
    if trace.unread:
        lines.append(f"not looked at, for lack of time: the last {count_words(trace.unread, 'page')}; save them apart")
    return "\n".join(lines)


def _file_lines(file: TracedFile) -> list[str]:
    pages, name = count_words(len(file.enclosed.labels), "page"), shorten(file.inside.name, 60)
    lines = [f"{file.path}: {pages}, with the spec {name} inside"]
    if not file.inside.is_right and name not in file.enclosed.doubles:
        lines.append("  caution: the spec inside is not the one its pages were made from; their digests differ")
    lines += [f"  caution: {words}" for words in tell_doubts(file.path, file.enclosed)]
    return [*lines, f"  {VOUCHED}"]


def _traced_lines(traced: Traced) -> list[str]:
    lines = [name_code(traced.code), *(f"  {line}" for line in (*_standing_lines(traced), *_beside_lines(traced)))]
    if traced.changes is not None:
        lines += [f"  changed since, up to version {traced.changes.after.version}:"]
        lines += [f"  {line}" for line in list_changes(traced.changes)]
    if traced.issued is not None and traced.standing not in ("altered", "draft-before"):
        lines.append(f"  the spec lies in {traced.issued.spec_path}; --save FILE writes a copy")
    return lines


def name_code(code: PageCode) -> str:
    """`field-bag, version 3, Pattern, page 4 (digest 9F2C61AB04)`."""
    # All cards of a version have one number.
    number = f", page {code.page}" if code.document != CARD else ""
    page = f", {document_title(code.document)}{number}" if code.document else ""
    page = f", variant {code.variant.lower()}{page}" if code.variant else page
    draft = ", DRAFT" if code.is_draft else ""
    return f"{code.code.lower()}, version {code.version.lower()}{draft}{page} (digest {code.digest})"


def _standing_lines(traced: Traced) -> Iterable[str]:
    issued, current, code = traced.issued, traced.current, traced.code
    if traced.damage is not None:
        yield from ["the register is damaged, so that nothing can be said for sure:"]
        yield from describe_refusal(traced.damage).split("\n")
        return
    changed = f'; "{shorten(issued.changed, 200)}"' if issued and issued.changed else ""
    for line in STANDINGS[traced.standing]:
        yield line.format(issued=issued, current=current, code=code, spec=traced.draft_spec, changed=changed)
    if traced.standing.startswith("draft") and current is not None and issued is None:
        yield f"the current version is {current.version}, issued on {current.date}"
    if traced.standing == "unknown" and current is not None:
        yield f"the current version on record is {current.version}, issued on {current.date}"
        if version_key(code.version) > version_key(current.version):
            yield f"caution: the page is of a later one: the record of version {code.version.lower()} may be lost"


def _beside_lines(traced: Traced) -> Iterable[str]:
    """What lies beside the versions, and specs of a version above all on record."""
    for path, version in traced.higher:
        if path != traced.draft_spec:
            yield f"{show_plain(path)} says version {shorten(version, 20)}, later than any on record:"
            yield "if that was issued, its record is lost, and the current version is another than the record says"
    for line in tell_shelf(traced.shelf) if traced.shelf else ():
        yield f"caution: {line}"
