"""Recording a spec as an issued version."""

from __future__ import annotations

from docgen.calls.asked import IssueCall
from docgen.calls.outside import pick_date, read_for_shop
from docgen.checks import resolve_variants
from docgen.versions.compared.issue import issue_version
from docgen.versions.kept.issue import IssueOutcome


def issue_spec(asked: IssueCall) -> IssueOutcome:
    """Record the spec. Raises SpecRejected, CallRejected, VersionRefused, or WriteFailed; then the register is as it
    was."""
    day = pick_date(asked.date)
    return issue_version(asked.spec, resolve_variants(read_for_shop(asked.spec)[0])[0], day)
