"""Finding all that is wrong with a spec, without writing anything."""

from dataclasses import replace
from pathlib import Path

from docgen.calls.asked import CheckCall
from docgen.calls.outside import Checked, check_builds, pick_layouts, read_for_shop, tell_drawn_edges, tell_irons
from docgen.checks import explain_check, resolve_variants
from docgen.layout_files import use_layouts
from docgen.problems import CallRejected
from docgen.read import find_shop_file, read_shop_file


def check_spec(asked: CheckCall) -> Checked:
    """The cautions of a spec without errors, and those accepted.

    Raises SpecRejected with all problems, those of the shop's layouts too, when there is an error; CallRejected when no
    spec is named.
    """
    if asked.spec is None:
        raise CallRejected("check needs a spec, or --explain with the name of a check")
    with use_layouts(pick_layouts(asked.spec, asked.layouts)):
        builds = resolve_variants(read_for_shop(asked.spec)[0])
    return replace(check_builds(builds), drawn_edges=tell_drawn_edges(builds), irons=tell_irons(builds))


def explain(name: str, spec: str | Path | None = None) -> str:
    """What is known of a check, for a person; figures as in the spec and the shop's file, as far as there are any.

    Raises CallRejected for a check that does not exist, SpecRejected for a spec or a shop's file that cannot be read.
    """
    if spec is not None:
        return explain_check(name, read_for_shop(spec)[0].limits)
    found = find_shop_file("spec.toml")  # the one of this folder
    return explain_check(name, read_shop_file(found).limits if found else None)
