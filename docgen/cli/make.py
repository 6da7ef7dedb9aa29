"""`docgen make`"""

from __future__ import annotations

from typing import TYPE_CHECKING

from docgen.calls.asked import MakeCall
from docgen.cli.describing import describe_checked, describe_printer
from docgen.cli.telling import DONE, make_progress, say

if TYPE_CHECKING:
    from docgen.calls.make import Outcome
    from docgen.pages.marks.page import SheetCount

ABOUT = """\
Write the documents of a spec into a folder: all of them, or none when something is wrong.
They are named pattern, cutting-list, build-sheet and care-card; packet is these four in one file.
Where prices are known there is a shop-page, and of variants a joint-cutting-list, besides; a cutting-lay,
which shows where the templates lie, only with --only.

  docgen make field-bag.toml
  docgen make field-bag.toml --only pattern care-card --paper a4
  docgen make field-bag.toml --pieces back strap --mirror --printer office

What is not asked for here comes from the spec's [pattern], else from the shop's own file: shop.toml
beside the spec, or in this folder.
"""
ASKED = MakeCall


def run(asked: MakeCall) -> int:
    """Write the documents, and tell which."""
    from docgen.calls.cores import count_cores
    from docgen.calls.make import make_documents

    outcome = make_documents(asked, make_progress(), count_cores())
    say(describe_outcome(outcome))
    return DONE


def describe_outcome(outcome: Outcome) -> str:
    """What was written, for a person: files with their pages, paper for the pattern, every caution."""
    from docgen.problems import count_words

    names = [path.relative_to(outcome.folder).as_posix() for path in outcome.paths]
    wide = max((len(name) for name in names), default=0)
    lines = [f"wrote {outcome.folder}"] if names else []
    for name, pages in zip(names, outcome.pages, strict=True):
        lines.append(f"  {name.ljust(wide)}  {count_words(pages, 'page') if pages else 'table'}")
    if outcome.count is not None:
        lines.append(describe_count(outcome.count, outcome.paper))
    if outcome.printer is not None:
        lines.append(f"it is corrected for the printer {describe_printer(outcome.printer)}; print it on no other")
    if outcome.draft is not None:
        lines.append(f"{outcome.draft.what}; {outcome.draft.mend}")
    return "\n".join([*lines, *describe_checked(outcome)])


def describe_count(count: SheetCount, paper: str) -> str:
    """What the pattern takes, and the least that any placement takes."""
    from docgen.problems import count_words
    from docgen.tables.paper import paper_words

    if not count.sheets:
        return "no template is printed: the cutting list tells how every piece is cut"
    kind = f"paper from the {paper}" if paper.lower().startswith("roll") else f"{paper_words(paper)} paper"
    joins = count_words(count.joins, "join") or "no joins"
    least = f" than {count_words(count.bound, 'sheet')}" if count.bound < count.sheets else ""
    return (
        f"the pattern takes {count_words(count.sheets, 'sheet')} of {kind} and {joins} "
        f"(no placement can take fewer{least}); print it at 100 %, not fitted to the page"
    )
