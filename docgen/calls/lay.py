"""The lay of several specs on goods or hides, as pages to look at beside the hide."""

from pathlib import Path
from typing import Final

from docgen.calls.asked import LayCall, MakeCall
from docgen.calls.cut import label_all, read_all
from docgen.calls.lays import lay_plan
from docgen.calls.make import Outcome
from docgen.calls.outside import check_builds, pick_date, pick_layouts
from docgen.calls.printing import read_pattern
from docgen.lay import Hide, drawn_hide
from docgen.layout_files import use_layouts
from docgen.pages import lay_out_cutting_lay, make_packet
from docgen.plan import join_plans, join_specs
from docgen.problems import Place, SpecRejected, make_error
from docgen.read import DrawingError, read_hide
from docgen.write import finish_documents, replace_files

FOLDER: Final = Path("out", "lay")


def lay_specs(asked: LayCall) -> Outcome:
    """Write the pages of the lay of all specs together.

    Raises SpecRejected with the problems of all specs or of the drawing of a hide, CallRejected, or WriteFailed; then
    nothing was written.
    """
    day, said = pick_date(asked.date), read_pattern(MakeCall(spec=asked.specs[0], paper=asked.paper))
    with use_layouts(pick_layouts(asked.specs[0], asked.layouts)):
        read, choices = read_all(asked, said)
        specs = label_all(read)
        (first, *more) = specs
        plan = join_specs(specs, day) if more else join_plans(first.plans, first.title)
        hides = read_hides(asked)
        laid = lay_plan(plan, asked.goods, hides, is_patient=asked.patient)
        document = lay_out_cutting_lay(
            laid, plan, choices=choices, date=day, is_draft=any(spec.is_draft for spec in read)
        )
        contents = finish_documents(make_packet(plan.build, (document,), day), only=(document.name,))
    target = FOLDER if asked.out is None else Path(asked.out)
    paths = replace_files(target, contents)
    return Outcome(
        paths=paths,
        pages=tuple(len(document.pages) for _ in paths),
        count=None,
        paper=choices.paper,
        folder=target,
        cautions=check_builds([build for spec in read for build in spec.builds]).cautions,
    )


def read_hides(asked: LayCall) -> tuple[Hide, ...]:
    """The hides that are drawn in the files of the call. Raises SpecRejected with what is wrong in each."""
    hides, problems = [], []
    for path in asked.hides:
        try:
            hides.append(drawn_hide(read_hide(path)))
        except DrawingError as error:
            problems.append(make_error(Place(path=str(path)), error.what, error.mend))
    if problems:
        raise SpecRejected(problems)
    return tuple(hides)
