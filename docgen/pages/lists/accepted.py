"""Cautions that the maker accepts -> a block of their own: what was found, where, and why it may stay."""

from docgen.pages.looks.words import words
from docgen.pages.setting.blocks import Block, Heading, Table
from docgen.pages.setting.paging import columns_of, hold_measures
from docgen.problems import Problem
from docgen.resolve import Build

SHARES = {"where": 34.0, "found": 80.0, "reason": 66.0}


def accepted_blocks(build: Build) -> tuple[Block, ...]:
    """Heading and table; nothing where nothing is accepted."""
    if not build.accepted:
        return ()
    said = words("accepted")
    rows = tuple(
        (_where_words(item.problem, build, said["whole"]), hold_measures(item.problem.what), item.reason)
        for item in build.accepted
    )
    return Heading(said["title"], 3), Table(columns_of(said, SHARES), rows)


def _where_words(problem: Problem, build: Build, whole: str) -> str:
    """The title of the part that the check names; its name where it has no title."""
    return build.titles.get(problem.at, problem.at) or whole
