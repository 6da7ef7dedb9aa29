"""Versions: issuing a spec, comparing two, tracing a page back, and printing only what changed.

It stands beside the phases and uses them; only the pipeline and the command line import it, and only what stands here.
"""

from __future__ import annotations

from docgen.versions.compared.changes import Change, Comparison, Fact, PageVerdict, PrintedPage, Side, TemplateVerdict
from docgen.versions.compared.compare import compare_builds
from docgen.versions.compared.issue import OtherContents, issue_version
from docgen.versions.compared.reprint import judge_pages, lay_out_both, list_thrown
from docgen.versions.compared.sides import Named, home_of, pair_variants, read_pair, read_version, tell_draft
from docgen.versions.compared.since import lay_out_since
from docgen.versions.compared.words import describe_comparison, describe_issue, describe_refusal, describe_trace
from docgen.versions.kept.codes import NotOurs, PageCode, parse_code
from docgen.versions.kept.issue import IssueOutcome
from docgen.versions.kept.register import Issued, VersionRefused, list_versions, read_issued, register_of
from docgen.versions.site.site import SiteOutcome, describe_site, write_site
from docgen.versions.traced.scan import ScanMissing, read_codes
from docgen.versions.traced.trace import Trace, save_spec, trace
from docgen.write import NotReadable

__all__ = [
    "Change",
    "Comparison",
    "Fact",
    "IssueOutcome",
    "Issued",
    "Named",
    "NotOurs",
    "NotReadable",
    "OtherContents",
    "PageCode",
    "PageVerdict",
    "PrintedPage",
    "ScanMissing",
    "Side",
    "SiteOutcome",
    "TemplateVerdict",
    "Trace",
    "VersionRefused",
    "compare_builds",
    "describe_comparison",
    "describe_issue",
    "describe_refusal",
    "describe_site",
    "describe_trace",
    "home_of",
    "issue_version",
    "judge_pages",
    "lay_out_both",
    "lay_out_since",
    "list_thrown",
    "list_versions",
    "pair_variants",
    "parse_code",
    "read_codes",
    "read_issued",
    "read_pair",
    "read_version",
    "register_of",
    "save_spec",
    "tell_draft",
    "trace",
    "write_site",
]
