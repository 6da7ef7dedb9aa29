"""Finding all that is wrong with a spec, without writing anything."""

from __future__ import annotations

from dataclasses import dataclass

from docgen.calls.asked import CheckCall
from docgen.calls.outside import accepted_of, cautions_of, pick_layouts, read_for_shop, worked_out_of
from docgen.layout_files import use_layouts
from docgen.problems import Problem
from docgen.resolve import Accepted, resolve_variants


@dataclass(frozen=True, slots=True, kw_only=True)
class Checked:
    """What was found in a spec without errors, what of it the maker accepts, and the measures that a seam
    gave."""

    cautions: tuple[Problem, ...]
    accepted: tuple[Accepted, ...] = ()
    worked_out: tuple[tuple[str, str], ...] = ()


def check_spec(asked: CheckCall) -> Checked:
    """The cautions of a spec without errors, and those accepted.

    Raises SpecRejected with all problems, those of the shop's layouts too, when there is an error.
    """
    with use_layouts(pick_layouts(asked.spec, asked.layouts)):
        builds = resolve_variants(read_for_shop(asked.spec)[0])
    return Checked(cautions=cautions_of(builds), accepted=accepted_of(builds), worked_out=worked_out_of(builds))
