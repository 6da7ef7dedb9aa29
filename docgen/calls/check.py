"""Finding all that is wrong with a spec, without writing anything."""

from pathlib import Path

from docgen.calls.asked import CheckCall
from docgen.calls.outside import (
    accepted_of,
    cautions_of,
    drawn_edges_of,
    iron_notes_of,
    pick_layouts,
    read_for_shop,
    worked_out_of,
)
from docgen.checks import explain_check, resolve_variants
from docgen.classes import dataclass
from docgen.layout_files import use_layouts
from docgen.problems import CallRejected, Problem
from docgen.read import find_shop_file, read_shop_file
from docgen.resolve import Accepted


@dataclass(frozen=True, slots=True, kw_only=True)
class Checked:
    """What was found in a spec without errors, what of it the maker accepts, the measures that a seam gave, the edges
    of drawings that have no name of their own, and what irons of a fixed pitch mark."""

    cautions: tuple[Problem, ...]
    accepted: tuple[Accepted, ...] = ()
    worked_out: tuple[tuple[str, str], ...] = ()
    drawn_edges: tuple[str, ...] = ()
    irons: tuple[str, ...] = ()


def check_spec(asked: CheckCall) -> Checked:
    """The cautions of a spec without errors, and those accepted.

    Raises SpecRejected with all problems, those of the shop's layouts too, when there is an error; CallRejected when no
    spec is named.
    """
    if asked.spec is None:
        raise CallRejected("check needs a spec, or --explain with the name of a check")
    with use_layouts(pick_layouts(asked.spec, asked.layouts)):
        builds = resolve_variants(read_for_shop(asked.spec)[0])
    return Checked(
        cautions=cautions_of(builds),
        accepted=accepted_of(builds),
        worked_out=worked_out_of(builds),
        drawn_edges=drawn_edges_of(builds),
        irons=iron_notes_of(builds),
    )


def explain(name: str, spec: str | Path | None = None) -> str:
    """What is known of a check, for a person; figures as in the spec and the shop's file, as far as there are any.

    Raises CallRejected for a check that does not exist, SpecRejected for a spec or a shop's file that cannot be read.
    """
    if spec is not None:
        return explain_check(name, read_for_shop(spec)[0].limits)
    found = find_shop_file("spec.toml")  # the one of this folder
    return explain_check(name, read_shop_file(found).limits if found else None)
