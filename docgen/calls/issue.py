"""Recording a spec as an issued version."""

from dataclasses import replace

from docgen.calls.asked import IssueCall
from docgen.calls.outside import own_title, pick_date, read_for_shop
from docgen.checks import resolve_variants
from docgen.versions.kept.issue import IssueOutcome, record_version


def issue_spec(asked: IssueCall) -> IssueOutcome:
    """Record the spec. Raises SpecRejected, CallRejected, VersionRefused, or WriteFailed; then the register is as it
    was."""
    day = pick_date(asked.date)
    spec, _ = read_for_shop(asked.spec)
    build = replace(resolve_variants(spec)[0], title=own_title(spec))
    return record_version(asked.spec, build, day)
