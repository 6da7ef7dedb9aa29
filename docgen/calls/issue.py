"""Recording a spec as an issued version."""

from collections.abc import Sequence
from dataclasses import replace
from functools import partial

from docgen.assemble import Assembled
from docgen.calls.asked import IssueCall
from docgen.calls.cores import work_each
from docgen.calls.outside import own_title, pick_date, pick_layouts, read_for_shop
from docgen.calls.printing import choose_plainly, settings_for
from docgen.checks import resolve_variants
from docgen.layout_files import Layouts, use_layouts
from docgen.pages import Choices, lay_out
from docgen.plan import plan_work
from docgen.problems import SpecRejected
from docgen.versions.kept.issue import IssueOutcome, record_version
from docgen.versions.kept.printed import KeptDocument, KeptPages, keep_documents, keep_pages


def issue_spec(asked: IssueCall, cores: int = 1) -> IssueOutcome:
    """Record the spec, its pages laid out on so many `cores`. Raises SpecRejected, CallRejected, VersionRefused, or
    WriteFailed; then the register is as it was."""
    day = pick_date(asked.date)
    spec, _ = read_for_shop(asked.spec)
    builds = resolve_variants(spec, partial(work_each, cores=cores))
    build = replace(builds[0], title=own_title(spec))
    return record_version(asked.spec, build, day, partial(_lay_out, asked, builds, day, cores))


def _lay_out(asked: IssueCall, builds: Sequence[Assembled], day: str, cores: int) -> KeptPages | None:
    """What names the pages as the spec and the shop's file have them printed; None where they cannot be laid out."""
    choices = choose_plainly(builds[0], settings_for(asked.spec))
    try:
        work = partial(_lay_out_one, builds, choices, day, pick_layouts(asked.spec, None))
        return keep_pages(work_each(work, len(builds), cores), choices)
    except SpecRejected:
        return None


def _lay_out_one(
    builds: Sequence[Assembled], choices: Choices, day: str, layouts: Layouts, number: int
) -> tuple[KeptDocument, ...]:
    with use_layouts(layouts):
        build = builds[number]
        return keep_documents(build.variant, lay_out(plan_work(build), choices=choices, date=day))
