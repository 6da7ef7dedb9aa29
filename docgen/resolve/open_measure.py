"""A measure written "solve": the value at which the seam that hangs on it has sides of one length.

A few trial values from 1 mm to 3 m tell which seam hangs on it; many more find the places where one of its sides becomes
longer than the other, and the straight line between two lengths (regula falsi, with its Illinois change) closes in on
the value. One such place is needed.
"""

from collections.abc import Callable
from dataclasses import replace
from itertools import pairwise

from docgen.problems import Problem, make_error
from docgen.read import Spec, Value
from docgen.resolve.growing import read_goods
from docgen.resolve.pieces.outlines import find_recipes, open_piece
from docgen.resolve.seams.lengths import LENGTH_TOLERANCE_MM
from docgen.resolve.seams.sew import prepare_sewing
from docgen.resolve.values import OPEN, Reader, find_open_measures, names, read_measures
from docgen.tables.defaults import EASE_MM
from docgen.written.units.telling import format_mm

LEAST_MM = 1.0
MOST_MM = 3000.0
PROBE_STEP = 2.0
STEP = 1.15
NEAR_MM = 1e-9
ROUNDS = 60

Pair = tuple[str, int]
"""A seam, and which of its partners with edges is held against the first."""
Gaps = dict[Pair, float]


def solve_measure(spec: Spec) -> tuple[float | None, Problem | None]:
    """The value of the one open measure in mm, or the problem that keeps it from being found.

    Both are None when no seam hangs on it: then the spec may have other problems that hide the seam.
    """
    first, *others = find_open_measures(spec)
    if others:
        what = f'only one measure may be "{OPEN}", and "{first.name}" is'
        return None, make_error(others[0].length.place, what, "write a length for this one")
    probes = [(value_mm, measure_gaps(spec, value_mm)) for value_mm in _trial_values(PROBE_STEP)]
    pairs = dict.fromkeys(pair for _, gaps in probes for pair in gaps)
    pair = next((pair for pair in pairs if _hangs_on(pair, probes)), None)
    if pair is None:
        return None, None
    seam = pair[0]
    alone = _keep_seam(spec, seam)
    trials = [(value_mm, measure_gaps(alone, value_mm)) for value_mm in _trial_values(STEP)]
    roots = _find_roots(pair, trials, lambda value_mm: measure_gaps(alone, value_mm).get(pair))
    if len(roots) == 1:
        return roots[0], None
    if roots:
        values = " and at ".join(format_mm(root) for root in roots)
        what = f'the sides of the seam "{seam}" are equally long with "{first.name}" at {values}'
        return None, make_error(first.length.place, what, "write the one that is meant")
    what = f'no value of "{first.name}" makes the sides of the seam "{seam}" equally long'
    return None, make_error(first.length.place, what, "change the other side, or write a length")


def set_measure(spec: Spec, value_mm: float) -> Spec:
    """The spec with a length in place of "solve"."""
    words = f"{value_mm:.8f}".rstrip("0").rstrip(".") + " mm"
    return replace(
        spec,
        measures=tuple(
            replace(item, length=Value(value=words, place=item.length.place))
            if item.length.value.strip() == OPEN
            else item
            for item in spec.measures
        ),
    )


def measure_gaps(spec: Spec, value_mm: float) -> Gaps:
    """For each seam whose sides can be measured with that value: by how much each further one is longer than the first."""
    return _measure_sides(set_measure(spec, value_mm))[0]


def find_worst_gap(spec: Spec) -> float | None:
    """By how much the sides of a seam are unequal at most, in mm, but for what is eased in; None where that is too much,
    or sides cannot be measured."""
    gaps, reader = _measure_sides(spec)
    ease_mm = {seam.name: (reader.length(seam.ease, zero=True) if seam.ease else EASE_MM) or 0.0 for seam in spec.seams}
    over_mm = [max(-gap_mm, gap_mm - ease_mm[name], 0.0) for (name, _), gap_mm in gaps.items()]
    worst_mm = max(over_mm, default=0.0)
    return None if reader.problems or worst_mm > LENGTH_TOLERANCE_MM else worst_mm


def find_gaps(spec: Spec) -> Gaps:
    """For each seam whose sides can be measured: by how much each further one is longer than the first, 0 of those that are
    as long, but for what is eased in. Nothing where more is wrong."""
    gaps, reader = _measure_sides(spec)
    if reader.problems:
        return {}
    ease_mm = {seam.name: (reader.length(seam.ease, zero=True) if seam.ease else EASE_MM) or 0.0 for seam in spec.seams}
    return {
        pair: 0.0 if -LENGTH_TOLERANCE_MM <= gap_mm <= ease_mm[pair[0]] + LENGTH_TOLERANCE_MM else gap_mm
        for pair, gap_mm in gaps.items()
    }


def _measure_sides(spec: Spec) -> tuple[Gaps, Reader]:
    reader = read_measures(spec, [])
    sewing = prepare_sewing(reader, spec, read_goods(reader, spec))
    solved = sewing.solve()
    gaps: Gaps = {}
    for name, stitch in sewing.sewn.items():
        edged = [partner for partner in sewing.partners[name] if partner.edges]
        sides = [sewing.lengths.side_length(name, partner, stitch.inset_mm, solved) for partner in edged]
        first_mm = sides[0] if sides else None
        if first_mm is not None:
            further = ((index, side_mm) for index, side_mm in enumerate(sides[1:], start=1) if side_mm is not None)
            gaps |= {(name, index): side_mm - first_mm for index, side_mm in further}
    return gaps, reader


def _keep_seam(spec: Spec, seam: str) -> Spec:
    """The spec with this seam alone, unless a partner has an open length that another seam may have to give."""
    kept = tuple(item for item in spec.seams if item.name == seam)
    joined = {join.name: names(join.of) for join in spec.joins}
    parts = [word for item in kept for value in item.meet for word in value.value.split(":")[0].split()[:1]]
    names = {name for part in parts for name in joined.get(part, [part])}
    recipes = find_recipes(Reader({}, []), spec.pieces, spec.drawings)
    if any(open_piece(recipes[name]) for name in names if name in recipes):
        return spec
    return replace(spec, seams=kept)


def _trial_values(step: float) -> list[float]:
    values = [LEAST_MM]
    while values[-1] * step < MOST_MM:
        values.append(values[-1] * step)
    return values


def _hangs_on(pair: Pair, trials: list[tuple[float, Gaps]]) -> bool:
    found = [gaps[pair] for _, gaps in trials if pair in gaps]
    return bool(found) and max(found) - min(found) > 1e-3


def _find_roots(pair: Pair, trials: list[tuple[float, Gaps]], gap_at: Callable[[float], float | None]) -> list[float]:
    roots = [value_mm for value_mm, gaps in trials if gaps.get(pair) == 0.0]
    for (low, before), (high, after) in pairwise(trials):
        if pair in before and pair in after and before[pair] * after[pair] < 0:
            roots.append(_close_in((low, before[pair]), (high, after[pair]), gap_at))
    return sorted(roots)


def _close_in(low: tuple[float, float], high: tuple[float, float], gap_at: Callable[[float], float | None]) -> float:
    """The value between two, each given with its gap, the gaps of unlike sign, at which there is none."""
    (a, gap_a), (b, gap_b) = low, high
    for _ in range(ROUNDS):
        middle = b - gap_b * (b - a) / (gap_b - gap_a)
        gap = gap_at(middle)
        if gap is None or abs(gap) < NEAR_MM:
            return middle
        if gap * gap_b < 0:
            a, gap_a = b, gap_b
        else:
            gap_a /= 2
        b, gap_b = middle, gap
    return b
