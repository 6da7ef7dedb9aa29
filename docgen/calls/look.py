"""A look at a spec: read as `docgen make` reads it, as one web page."""

from pathlib import Path
from typing import Final

from docgen.calls.asked import LookCall
from docgen.calls.outside import (
    check_builds,
    pick_date,
    pick_layouts,
    read_for_shop,
    settle_shop,
    tell_drawn_edges,
    tell_irons,
)
from docgen.calls.printing import choose_plainly
from docgen.checks import resolve_variants
from docgen.checks.questions import ask_maker
from docgen.layout_files import use_layouts
from docgen.look.page import make_page
from docgen.look.sight import Shown, Sight
from docgen.pages import draw_finished, lay_out_sheets
from docgen.plan import plan_work
from docgen.problems import CallRejected, Problem, SpecRejected, refuse_unknown, shorten
from docgen.read import ShopFile, Spec
from docgen.write import GENERATOR, read_ours, replace_files

FINISHED_MM: Final = 180.0


def write_look(asked: LookCall) -> Path:
    """Write the page into the file `asked.to`; returns its path.

    Raises SpecRejected, CallRejected, or WriteFailed; then nothing was written.
    """
    target = Path(str(asked.to))
    spec, shop = read_for_shop(asked.spec)
    page = make_page(_show(asked, spec, shop))
    read_ours(target, GENERATOR)  # which refuses to write over another's file
    return replace_files(target.parent, {target.name: page})[0]


def see_spec(asked: LookCall) -> tuple[Sight, tuple[Path, ...]]:
    """What is seen of the spec, and the further files that it names. Raises CallRejected for a variant that is not
    there; nothing else stops a look."""
    name = Path(asked.spec).name
    files: tuple[Path, ...] = ()
    try:
        spec, shop = read_for_shop(asked.spec)
        files = tuple(Path(asked.spec).parent / file for file, _ in spec.files)
        return _show(asked, spec, shop), files
    except SpecRejected as error:
        return Sight(name=name, problems=error.problems), files
    except CallRejected:
        raise
    except Exception as error:  # a look goes on, whatever happens to it; what it was is on the page
        return Sight(name=name, fault=f"{type(error).__name__}: {shorten(str(error))}"), files


def _show(asked: LookCall, spec: Spec, shop: ShopFile | None) -> Sight:
    """The sight of a spec without errors. Raises SpecRejected for one with errors, CallRejected as `see_spec` does."""
    layouts = pick_layouts(asked.spec, asked.layouts)
    with use_layouts(layouts):
        builds = resolve_variants(spec)
        settings = settle_shop(shop)
        variants = tuple(build.variant for build in builds if build.variant)
        refuse_unknown("variant", [asked.variant] if asked.variant else [], variants, "the spec has no variants")
        build = next(build for build in builds if asked.variant in (None, build.variant))
        plan, choices = plan_work(build), choose_plainly(build, settings)
        problems: tuple[Problem, ...] = ()
        try:
            sheets = lay_out_sheets(plan, choices=choices, date=pick_date(None), is_draft=True)
        except SpecRejected as error:  # the sheets cannot be laid out, all else can be seen
            sheets, problems = (), error.problems
        found = check_builds(builds, *problems)
        worked = [f"{what} = {length}" for what, length in found.worked_out]
        return Sight(
            name=Path(asked.spec).name,
            problems=found.cautions,
            asked=ask_maker(spec, builds),
            accepted=tuple(f"{item.problem.check}: {shorten(item.reason)}" for item in found.accepted),
            worked_out=(*worked, *tell_drawn_edges(builds), *tell_irons(builds)),
            shown=Shown(
                plan=plan,
                finished=draw_finished(plan, FINISHED_MM),
                sheets=sheets,
                variant=build.variant,
                variants=variants,
            ),
        )
