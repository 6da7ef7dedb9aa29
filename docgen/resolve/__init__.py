"""Spec -> Build: every length in mm, every outline there, open lengths solved, seams matched.

Only what is exported here may be used by later phases. `resolve_build` raises SpecRejected with all problems
of the spec, those of reading included; cautions travel in the build.
"""

from dataclasses import replace

from docgen.problems import Problem, SpecRejected, has_errors
from docgen.read import Spec
from docgen.resolve.accepting import accept_cautions, check_accepts
from docgen.resolve.build import WORK_KINDS, Accepted, Build, Step, WorkKind, by_name
from docgen.resolve.checks.explain import explain_check
from docgen.resolve.goods.prices import price_build
from docgen.resolve.goods.printing import (
    Choices,
    JoinWay,
    Printer,
    Printing,
    check_join_overlap,
    choices_of,
    parse_measured,
    parse_printing,
)
from docgen.resolve.goods.shop_settings import ShopSettings, resolve_shop_file
from docgen.resolve.goods.values import (
    Care,
    CarePart,
    Costs,
    Hardware,
    Held,
    Inside,
    Machine,
    Material,
    Price,
    Shop,
    Weight,
)
from docgen.resolve.growing import grow_build
from docgen.resolve.layers.layer import Fitting, Layer
from docgen.resolve.limits import add_shop_limits
from docgen.resolve.marks import (
    NOTCH_MM,
    Drawn,
    Fold,
    Hole,
    Landing,
    Marks,
    Move,
    Notch,
    PieceLine,
    Skive,
    Slit,
    StitchLine,
)
from docgen.resolve.open_measure import set_measure, solve_measure
from docgen.resolve.piece import Divider, Hem, Piece, StrapLanding, lines_of
from docgen.resolve.seams.seam import Join, Seam, SeamSide, Stitch
from docgen.resolve.seams.stitch_lines import divider_name
from docgen.resolve.sequence import closes, find_punching, side_pieces
from docgen.resolve.straps.strap import Strap, StrapEnd
from docgen.resolve.values import find_open_measures, read_measures
from docgen.resolve.variants import Each, check_variants, pick_variant, resolve_each


def resolve_build(spec: Spec, variant: str = "") -> Build:
    """The build that a spec describes, or a variant of it. Raises SpecRejected with every problem found, when any is
    an error, and ValueError for a variant that is not there."""
    if spec.unread:
        raise SpecRejected(spec.problems)  # all that names what stands there would seem wrong
    problems: list[Problem] = [*spec.problems, *check_variants(spec), *check_accepts(spec.accept)]
    spec, solved = _solve_measures(pick_variant(spec, variant), problems)
    reader = read_measures(spec.measures, problems)
    build = grow_build(reader, spec)
    if has_errors(problems):
        raise SpecRejected(problems)
    cautions, accepted = accept_cautions(spec.accept, problems)
    return replace(build, cautions=cautions, accepted=accepted, variant=variant, solved_measures=solved)


def _solve_measures(spec: Spec, problems: list[Problem]) -> tuple[Spec, tuple[tuple[str, float], ...]]:
    """The spec with the measure that a seam gives, and its value; what keeps it from being found is noted."""
    wanted = find_open_measures(spec)
    if not wanted:
        return spec, ()
    value_mm, problem = solve_measure(spec)
    problems += [problem] if problem else []
    if value_mm is None:
        return spec, ()
    return set_measure(spec, value_mm), ((wanted[0].name, value_mm),)


def resolve_variants(spec: Spec, each: Each | None = None) -> tuple[Build, ...]:
    """Every variant of a spec; of one without variants the build alone. `each` may work on them side by side. Raises
    SpecRejected as `resolve_build` does, with the problems of all variants in one go."""
    return resolve_each(spec, resolve_build, each or (lambda work, count: map(work, range(count))))
