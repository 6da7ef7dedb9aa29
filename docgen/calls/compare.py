"""What changed from one version to another, and the pages that show it."""

from dataclasses import replace
from pathlib import Path

from docgen.assemble import Assembled
from docgen.calls.asked import CompareCall
from docgen.calls.outside import pick_date
from docgen.calls.printing import choose_plainly, settings_for
from docgen.calls.shares import PATTERN
from docgen.pages import Choices, Packet
from docgen.plan import Plan
from docgen.problems import SpecRejected
from docgen.versions.compared.changes import Comparison
from docgen.versions.compared.compare import compare_builds
from docgen.versions.compared.reprint import lay_out_both, name_as_kept
from docgen.versions.compared.sides import Named, home_of, pair_variants, read_pair, read_version
from docgen.versions.compared.since import lay_out_since


def compare_versions(asked: CompareCall) -> tuple[Comparison, ...]:
    """What changed from one spec, issued version or PDF to another, pages included where both can be laid out; one
    comparison for each variant of the second.

    Raises SpecRejected, VersionRefused, NotReadable, or CallRejected.
    """
    day = pick_date(None)
    before, after = read_pair(asked.before, asked.after, Path())
    old_shop, new_shop = settings_for(asked.before), settings_for(asked.after)
    return tuple(
        _compare(
            replace(before, builds=(old,)),
            replace(after, builds=(new,)),
            (choose_plainly(old, old_shop), choose_plainly(new, new_shop)),
            day,
        )
        for old, new in pair_variants(before.builds, after.builds)
    )


def _compare(before: Named, after: Named, choices: tuple[Choices, Choices], day: str) -> Comparison:
    try:
        then = before.pages.choose(choices[0]) if before.pages else choices[0]
        packets = _lay_out(before, after.build, (then, choices[1]), day)
    except SpecRejected:
        packets = None
    return compare_builds(
        before.build, after.build, before_label=before.label, after_label=after.label, packets=packets
    )


def lay_out_changes(path: str | Path, since: str, plan: Plan, choices: Choices, *, day: str, is_draft: bool) -> Packet:
    """The pages of a plan that changed since an issued version, behind a cover; `path` is the spec's.

    Raises VersionRefused when that version is not there, SpecRejected when its spec is no longer understood.
    """
    build = plan.build
    before = read_version(home_of(Path(path), build.code), since)
    ((old, _),) = pair_variants(before.builds, (build,))
    then = before.pages.choose(choices) if before.pages else choices
    packets = _lay_out(replace(before, builds=(old,)), build, (then, choices), day, is_draft)
    if not build.has_pattern:
        packets = _without_pattern(packets[0]), _without_pattern(packets[1])
    comparison = compare_builds(old, build, before_label=before.label, after_label=build.source_name, packets=packets)
    return lay_out_since(comparison, packets[1], plan, choices, date=day, is_draft=is_draft, paper=then.paper)


def _lay_out(
    before: Named, after: Assembled, choices: tuple[Choices, Choices], day: str, is_draft: bool = False
) -> tuple[Packet, Packet]:
    """Both packets, the older one with its pages named as they were when it was issued, where that was kept."""
    older, newer = lay_out_both(before.build, after, choices, day, is_draft)
    return (name_as_kept(older, before.pages, before.build.variant) if before.pages else older), newer


def _without_pattern(packet: Packet) -> Packet:
    """The packet of a variant whose templates are printed with another."""
    return replace(packet, documents=tuple(one for one in packet.documents if one.name != PATTERN))
