"""Recording a spec as an issued version."""

from collections.abc import Sequence
from dataclasses import replace
from functools import partial

from docgen.assemble import Assembled
from docgen.calls.asked import IssueCall
from docgen.calls.outside import own_title, pick_date, pick_layouts, read_for_shop
from docgen.calls.printing import choose_plainly, settings_for
from docgen.checks import resolve_variants
from docgen.layout_files import use_layouts
from docgen.pages import lay_out
from docgen.plan import plan_work
from docgen.problems import SpecRejected
from docgen.versions.kept.issue import IssueOutcome, record_version
from docgen.versions.kept.printed import KeptPages, keep_pages


def issue_spec(asked: IssueCall) -> IssueOutcome:
    """Record the spec. Raises SpecRejected, CallRejected, VersionRefused, or WriteFailed; then the register is as it
    was."""
    day = pick_date(asked.date)
    spec, _ = read_for_shop(asked.spec)
    builds = resolve_variants(spec)
    build = replace(builds[0], title=own_title(spec))
    return record_version(asked.spec, build, day, partial(_lay_out, asked, builds, day))


def _lay_out(asked: IssueCall, builds: Sequence[Assembled], day: str) -> KeptPages | None:
    """What names the pages as the spec and the shop's file have them printed; None where they cannot be laid out."""
    choices = choose_plainly(builds[0], settings_for(asked.spec))
    try:
        with use_layouts(pick_layouts(asked.spec, None)):
            packets = [(build.variant, lay_out(plan_work(build), choices=choices, date=day)) for build in builds]
            return keep_pages(packets, choices)
    except SpecRejected:
        return None
