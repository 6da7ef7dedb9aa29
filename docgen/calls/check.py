"""Finding all that is wrong with a spec, without writing anything."""

from dataclasses import replace
from pathlib import Path

from docgen.assemble import Assembled, TakenApart
from docgen.calls.asked import CheckCall
from docgen.calls.outside import (
    Checked,
    check_builds,
    pick_layouts,
    read_for_shop,
    tell_drawn_edges,
    tell_irons,
    tell_undrawn,
)
from docgen.checks import explain_check, resolve_variants
from docgen.checks.questions import ask_maker
from docgen.layout_files import use_layouts
from docgen.problems import CallRejected, Problem
from docgen.read import Spec, find_shop_file, read_shop_file


def check_spec(asked: CheckCall) -> Checked:
    """The cautions of a spec without errors, and those accepted.

    Raises SpecRejected with all problems, those of the shop's layouts too, when there is an error; CallRejected when no
    spec is named.
    """
    if asked.spec is None:
        raise CallRejected("check needs a spec, or --explain with the name of a check")
    with use_layouts(pick_layouts(asked.spec, asked.layouts)):
        spec, _ = read_for_shop(asked.spec)
        builds = resolve_variants(spec)
    apart = [TakenApart(build) for build in builds]
    checked = check_builds(builds, *_tell_issued(Path(asked.spec), spec, builds[0]))
    return replace(
        checked,
        drawn_edges=tell_drawn_edges(builds),
        irons=tell_irons(builds),
        undrawn=tell_undrawn(apart),
        asked=ask_maker(spec, builds, apart),
    )


def _tell_issued(path: Path, spec: Spec, build: Assembled) -> tuple[Problem, ...]:
    """A caution where this version was issued with other contents."""
    if not any(path.parent.glob(f"*/{build.code}/{build.version}")):
        return ()  # no register here has it: what reads registers is not loaded
    from docgen.versions.compared.sides import tell_draft

    draft = tell_draft(path, build)
    place = spec.spec.version.place if spec.spec and spec.spec.version else None
    return () if draft is None else (replace(draft, place=place or draft.place),)


def explain(name: str, spec: str | Path | None = None) -> str:
    """What is known of a check, for a person; figures as in the spec and the shop's file, as far as there are any.

    Raises CallRejected for a check that does not exist, SpecRejected for a spec or a shop's file that cannot be read.
    """
    if spec is not None:
        return explain_check(name, read_for_shop(spec)[0].limits)
    found = find_shop_file("spec.toml")  # the one of this folder
    return explain_check(name, read_shop_file(found).limits if found else None)
