"""Issuing, comparing and tracing versions, and printing only what changed: the calls of the command line.

What the outside supplies (the folder, the day, the paper) comes in here, as in `pipeline`.
"""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from docgen.pages import Choices, Packet
from docgen.plan import Plan
from docgen.printing import Asked, choose_printing, read_asked, read_for_shop
from docgen.problems import SpecRejected
from docgen.resolve import Build, resolve_variants
from docgen.versions import (
    Comparison,
    IssueOutcome,
    Named,
    NotReadable,
    Trace,
    compare_builds,
    home_of,
    issue_version,
    lay_out_both,
    lay_out_since,
    pair_variants,
    read_pair,
    read_version,
    save_spec,
    trace,
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Traced:
    """What `trace_page` found, and the files it saved."""

    found: Trace
    saved: tuple[Path, ...]


def issue_spec(path: str | Path, day: str) -> IssueOutcome:
    """Record the spec at `path` as an issued version; `day` is YYYY-MM-DD.

    Raises SpecRejected, VersionRefused, or WriteFailed; then the register is as it was.
    """
    return issue_version(path, resolve_variants(read_for_shop(path))[0], day)


def compare_versions(first: str, second: str, folder: Path, day: str) -> tuple[Comparison, ...]:
    """What changed from one spec, issued version or PDF to another, pages included where both can be laid out; one
    comparison for each variant of the second.

    Raises SpecRejected, VersionRefused, NotReadable, or CallRejected.
    """
    before, after = read_pair(first, second, folder)
    return tuple(
        _compare(
            Named(builds=(old,), label=before.label),
            Named(builds=(new,), label=after.label),
            (_choose(old, first), _choose(new, second)),
            day,
        )
        for old, new in pair_variants(before.builds, after.builds)
    )


def _compare(before: Named, after: Named, choices: tuple[Choices, Choices], day: str) -> Comparison:
    try:
        packets = lay_out_both(before.build, after.build, choices, day)
    except SpecRejected:
        packets = None
    return compare_builds(
        before.build, after.build, before_label=before.label, after_label=after.label, packets=packets
    )


def _choose(build: Build, name: str) -> Choices:
    """How a side is printed: as its spec says, else as the shop's file says."""
    asked = Asked()
    return choose_printing(asked, read_asked(asked), build, name)


def trace_page(what: str, folder: Path, save: str | None) -> Traced:
    """Trace a code, a PDF or a picture, and save the spec it leads to into a new file when asked to.

    Raises NotOurs, NotReadable, ScanMissing, or WriteFailed.
    """
    found = trace(what, folder)
    if not folder.is_dir():
        raise NotReadable(f"there is no folder {folder}")
    return Traced(found=found, saved=save_spec(found, Path(save)) if save else ())


def lay_out_changes(path: str | Path, since: str, plan: Plan, choices: Choices, *, day: str, is_draft: bool) -> Packet:
    """The pages of a plan that changed since an issued version, behind a cover; `path` is the spec's.

    Raises VersionRefused when that version is not there, SpecRejected when its spec is no longer understood.
    """
    build: Build = plan.build
    before = read_version(home_of(Path(path), build.code), since)
    ((old, _),) = pair_variants(before.builds, (build,))
    packets = lay_out_both(old, build, (choices, choices), day, is_draft)
    comparison = compare_builds(old, build, before_label=before.label, after_label=build.source_name, packets=packets)
    return lay_out_since(comparison, packets[1], plan, choices, date=day, is_draft=is_draft)
