"""`docgen issue`"""

from docgen.calls.asked import IssueCall
from docgen.cli.telling import DONE, say

ABOUT = """\
Record a spec, and every drawing it names, as an issued version: exact copies in the folder "issued"
beside the spec. Pages say DRAFT until their version is issued. An issued version never changes.

  docgen issue field-bag.toml
"""
ASKED = IssueCall


def run(asked: IssueCall) -> int:
    """Record a version, and tell where."""
    from docgen.calls.cores import count_cores
    from docgen.calls.issue import issue_spec
    from docgen.versions.compared.words import describe_issue

    say(describe_issue(issue_spec(asked, count_cores())))
    return DONE
