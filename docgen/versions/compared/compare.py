"""Two builds -> what changed, and what of the older papers is still right."""

from docgen.pages.marks.page import Packet
from docgen.problems import SpecRejected
from docgen.resolve import Build
from docgen.versions.compared.changes import Comparison, Side
from docgen.versions.compared.differences import list_changes
from docgen.versions.compared.recut import judge_templates
from docgen.versions.compared.reprint import judge_pages, list_thrown
from docgen.versions.compared.sides import build_issued, label_version
from docgen.versions.kept.register import Issued


def compare_builds(
    before: Build, after: Build, *, before_label: str, after_label: str, packets: tuple[Packet, Packet] | None = None
) -> Comparison:
    """What changed from one build to another; with both packets (see `reprint.lay_out_both`) also which pages."""
    templates = judge_templates(before, after)
    pages = judge_pages(*packets, templates) if packets else ()
    return Comparison(
        before=make_side(before, before_label),
        after=make_side(after, after_label),
        show=after.show,
        changes=list_changes(before, after),
        templates=templates,
        pages=pages,
        thrown=list_thrown(packets[0], pages) if packets else (),
    )


def compare_issued(issued: Issued, after: Build, after_label: str) -> Comparison | None:
    """What changed since an issued version; None where this docgen cannot read its spec any more."""
    try:
        before = build_issued(issued)[0]
    except SpecRejected:
        return None
    return compare_builds(before, after, before_label=label_version(before), after_label=after_label)


def make_side(build: Build, label: str) -> Side:
    """A build as one side of a comparison."""
    return Side(label=label, code=build.code, variant=build.variant, version=build.version, digest=build.digest)
