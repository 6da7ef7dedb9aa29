"""Recording a version; where its number is taken by other contents, what differs."""

from pathlib import Path

from docgen.problems import SpecRejected
from docgen.resolve import Build
from docgen.versions.compared.changes import Comparison
from docgen.versions.compared.compare import compare_builds
from docgen.versions.compared.sides import build_issued, label_version
from docgen.versions.kept.issue import IssueOutcome, VersionTaken, record_version
from docgen.versions.kept.register import Issued, VersionRefused


class OtherContents(VersionRefused):
    """The number is taken; `comparison` tells what differs, None where this docgen cannot read the issued spec."""

    def __init__(self, taken: VersionTaken, comparison: Comparison | None) -> None:
        self.comparison = comparison
        super().__init__(taken.problem)


def issue_version(path: Path | str, build: Build, day: str) -> IssueOutcome:
    """As `record_version`, but a number that is taken raises OtherContents."""
    try:
        return record_version(path, build, day)
    except VersionTaken as taken:
        raise OtherContents(taken, _compare(taken.issued, build)) from taken


def _compare(issued: Issued, build: Build) -> Comparison | None:
    try:
        before = build_issued(issued)[0]
    except SpecRejected:
        return None
    return compare_builds(before, build, before_label=label_version(before), after_label="the spec")
