"""One cutting list over several specs: what they take together of every material."""

from dataclasses import replace
from pathlib import Path
from typing import Final

from docgen.assemble import Assembled
from docgen.calls.asked import CutCall, LayCall, MakeCall
from docgen.calls.make import Outcome, change_build, check_call, pick_variants
from docgen.calls.outside import check_builds, own_title, pick_date, pick_layouts, read_for_shop, settle_shop
from docgen.calls.printing import choose_plainly, read_pattern
from docgen.classes import dataclass
from docgen.layout_files import use_layouts
from docgen.pages import Choices, lay_out_joint_list, make_csv_tables
from docgen.plan import Several, join_specs, label_specs, plan_work
from docgen.problems import CallRejected, SpecRejected
from docgen.resolve import Printing
from docgen.versions.compared.sides import tell_draft
from docgen.write import finish_documents, replace_files

MOST_SPECS: Final = 50
FOLDER: Final = Path("out", "cut")


@dataclass(frozen=True, slots=True, kw_only=True)
class Read:
    """A spec as it is cut this time: its title, a build for each variant, whether its pages would say DRAFT."""

    title: str
    builds: tuple[Assembled, ...]
    is_draft: bool


def cut_specs(asked: CutCall) -> Outcome:
    """Write the cutting list of all specs together, and as tables where asked for.

    Raises SpecRejected with the problems of all specs, CallRejected, or WriteFailed; then nothing was written.
    """
    if len(asked.specs) > MOST_SPECS:
        raise CallRejected(f"one list takes up to {MOST_SPECS} specs, not {len(asked.specs)}")
    day, said = pick_date(asked.date), read_pattern(MakeCall(spec=asked.specs[0], paper=asked.paper))
    with use_layouts(pick_layouts(asked.specs[0], asked.layouts)):
        read, choices = read_all(asked, said)
        joint = join_specs(label_all(read), day)
        packet = lay_out_joint_list(joint, choices=choices, date=day, is_draft=any(spec.is_draft for spec in read))
        tables = make_csv_tables(joint) if asked.csv else ()
        contents = finish_documents(packet, only=[document.name for document in packet.documents], tables=tables)
    target = FOLDER if asked.out is None else Path(asked.out)
    paths = replace_files(target, contents)
    builds = [build for spec in read for build in spec.builds]
    counts = {f"{document.name}.pdf": len(document.pages) for document in packet.documents}
    return Outcome(
        paths=paths,
        pages=tuple(counts.get(path.name, 0) for path in paths),
        count=None,
        paper=choices.paper,
        folder=target,
        cautions=check_builds(builds).cautions,
    )


def read_all(asked: CutCall | LayCall, said: Printing) -> tuple[tuple[Read, ...], Choices]:
    """Every spec with its builds, and how the first is printed. Raises SpecRejected with the problems of all."""
    read, problems = [], []
    for path in asked.specs:
        try:
            read.append(read_one(path, asked))
        except SpecRejected as error:
            problems += [problem for problem in error.problems if problem not in problems]
    if problems:
        raise SpecRejected(problems)
    settings = settle_shop(read_for_shop(asked.specs[0], asked.shop)[1])
    return tuple(read), choose_plainly(read[0].builds[0], settings, said)


def read_one(path: str | Path, asked: CutCall | LayCall) -> Read:
    """One spec, in the units and the number that the call asks for."""
    call = MakeCall(spec=path, makes=asked.makes, units=asked.units)
    check_call(call)
    spec, _ = read_for_shop(path, asked.shop)
    builds = tuple(change_build(build, call) for build in pick_variants(spec, (), 1))
    return Read(title=own_title(spec), builds=builds, is_draft=tell_draft(Path(path), builds[0]) is not None)


def label_all(read: tuple[Read, ...]) -> tuple[Several, ...]:
    """The plans of all specs, each named; one unit stands first on all of them."""
    show = read[0].builds[0].show
    return label_specs([(spec.title, [plan_work(replace(build, show=show)) for build in spec.builds]) for spec in read])
