"""Spec -> Build: every length in mm, every outline there, open lengths solved, seams matched.

Only what is exported here may be used by later phases. Problems of the spec are noted, and the checks raise them.
"""

from dataclasses import replace

from docgen.problems import Problem
from docgen.read import Spec
from docgen.resolve.build import WORK_KINDS, Accepted, Build, Sharing, Step, WorkKind, by_name, find_bed
from docgen.resolve.figures import hold_ranges
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
from docgen.resolve.goods.sold import add_shop_goods
from docgen.resolve.goods.values import (
    Care,
    CarePart,
    Costs,
    Goods,
    Hardware,
    Held,
    Inside,
    Machine,
    Material,
    Photo,
    Price,
    Shop,
    Trimming,
    TrimmingCut,
    Weight,
)
from docgen.resolve.growing import find_parts, grow_build
from docgen.resolve.limits import add_shop_limits, settle_limits
from docgen.resolve.marks import NOTCH_MM, Drawn, Fold, Hole, Landing, Marks, Notch, PieceLine, Skive, Slit, StitchLine
from docgen.resolve.moving import Move
from docgen.resolve.one_figure import blame_figure
from docgen.resolve.open_measure import find_worst_gap, set_measure, solve_measure
from docgen.resolve.parts import Parts
from docgen.resolve.piece import Divider, Hem, Piece, StrapLanding, TemplateWay, edge_mm, lines_of
from docgen.resolve.pieces.drawings import tell_edges_of
from docgen.resolve.pieces.left_outside import blame_shapes
from docgen.resolve.pieces.marks import neighbours
from docgen.resolve.pieces.positions import side_line, straight_edge
from docgen.resolve.seams.deep_insets import blame_insets
from docgen.resolve.seams.folded_along import layers_folded_along
from docgen.resolve.seams.joined_goods import lay_goods_in_joins
from docgen.resolve.seams.joins import (
    STRIP_ENDS,
    from_start,
    joint_ends,
    joint_ends_mm,
    notch_on_joint,
    strip_ends,
    turned_strip,
)
from docgen.resolve.seams.lengths import LENGTH_TOLERANCE_MM
from docgen.resolve.seams.likely import blame_likely
from docgen.resolve.seams.match_marks import farthest_mm, marks_along, turn_to_meet
from docgen.resolve.seams.over_edge import comes_from_inside, turns_out
from docgen.resolve.seams.seam import Join, Layer, Seam, SeamSide, SeamTrimming, Stitch, joint_gap_mm, side_words
from docgen.resolve.seams.stitch_lines import divider_name, keep_within
from docgen.resolve.seams.strip_holes import LaidStrip, lay_out_strips, tick_every_ten
from docgen.resolve.seams.ticks import SideKey, count_backward
from docgen.resolve.sequence import (
    catches,
    closes,
    find_punching,
    find_turning,
    folding_words,
    is_punching,
    only_grooves,
    side_pieces,
    speaks_of_folding,
    turns_hems,
)
from docgen.resolve.sharing import (
    EACH,
    label_materials,
    name_findings,
    pick_homes,
    share_templates,
    show_shared,
    tell_variants,
)
from docgen.resolve.straps.strap import (
    END_NAMES,
    Strap,
    StrapEnd,
    closes_end,
    closing_spots,
    end_name,
    end_names,
    from_end_mm,
    sewn_on_name,
)
from docgen.resolve.straps.strap_ends import bar_wrap_mm, slot_long_mm
from docgen.resolve.straps.strap_outline import is_shaped
from docgen.resolve.values import find_open_measures, read_measures, words
from docgen.resolve.variants import Each, check_variants, find_make, pick_variant, resolve_each
from docgen.resolve.windows import find_windows


def resolve_spec(spec: Spec, variant: str, problems: list[Problem]) -> tuple[Spec, Build]:
    """The build that a spec describes, or a variant of it, and the spec with that variant's measures. What is wrong is
    added to the problems; the build is whole only when none of it is an error. ValueError for a variant that is not
    there."""
    problems += check_variants(spec)
    laid = lay_goods_in_joins(hold_ranges(pick_variant(spec, variant), problems), problems)
    picked, solved = _solve_measures(laid, problems)
    reader = read_measures(picked, problems)
    build = grow_build(reader, picked)
    likely = blame_figure(picked, blame_likely(picked, problems, find_worst_gap), build.show)
    problems[:] = blame_shapes(picked, blame_insets(picked, likely, build))
    choices = tuple((words(one.axis), one.name) for one in find_make(spec, variant).choices) if variant else ()
    return picked, replace(
        build,
        variant=variant,
        choices=choices,
        solved_measures=solved,
        materials=label_materials(build.materials, spec, picked),
    )


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
