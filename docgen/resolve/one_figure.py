"""Which one figure is likely the slip where the sides of seams are unequal: each that the pieces of these seams are as
large by is made a little larger, and all seams are measured again. Where one figure alone, longer or shorter by so much,
makes all of them equal, it is told in place of what every side lacks."""

import re
from collections.abc import Callable, Iterator, Mapping
from dataclasses import replace
from itertools import islice

from docgen.classes import dataclass
from docgen.problems import Place, Problem, count_words, line_words
from docgen.read import PieceSpec, Spec, Value
from docgen.resolve.open_measure import Gaps, find_gaps
from docgen.resolve.seams.likely import CHECK, MOST_MEASURED, MOST_TRIED
from docgen.resolve.values import OPEN, list_part_names, names, words
from docgen.written.measures import evaluate_length, resolve_measures
from docgen.written.units.lengths import parse_length
from docgen.written.units.telling import Show, format_inches, format_length, format_number

PROBE_MM = 0.5
LEAST_SLOPE, AGREE_MM = 0.1, 0.2
MOST_NAMED, MOST_PLACES = 3, 2
MOST_TIMES, NEARLY, WHOLE_SLIPS = 2.0, 0.05, (10.0, 25.4, 100.0)
MEANT = ("did you mean ", "write ", "hem ", "name ")
"""What a mend begins with that tells one word for another."""
PLAIN_RE = r"[\d ./]+(mm|in)\s*"
DENOMINATOR = 64


@dataclass(frozen=True, slots=True, kw_only=True)
class Figure:
    """A length that is written, the spec with another in its place, and how many others are made by it."""

    value: Value[str]
    put: Callable[[Value[str]], Spec]
    uses: int = 1

    def longer(self, mm: float) -> Spec:
        """The spec with the figure so much longer."""
        return self.put(replace(self.value, value=f"({self.value.value}) {'+' if mm >= 0 else '-'} {abs(mm):.6f} mm"))


def blame_figure(spec: Spec, problems: list[Problem], show: Show) -> list[Problem]:
    """The problems, those of seams with unequal sides told as one where one figure alone would mend them all."""
    unequal = [problem for problem in problems if problem.check == CHECK]
    others = [problem for problem in problems if problem.severity == "error" and problem.check != CHECK]
    if not unequal or others or any(problem.mend.startswith(MEANT) for problem in unequal):
        return problems
    gaps = find_gaps(spec)
    wrong = {pair: gap_mm for pair, gap_mm in gaps.items() if gap_mm}
    most = min(MOST_TRIED, MOST_MEASURED // (len(spec.pieces) + len(spec.seams)))
    tried = ((one, _find_change(one, gaps, wrong)) for one in islice(_list_figures(spec, wrong), most))
    known = dict(resolve_measures([(item.name, item.length.value) for item in spec.measures])[0])
    found = [(one, mm) for one, mm in tried if mm and _is_slip(one.value.value, mm, known)]
    told = {one.value.place for one, _ in found}
    found = [(one, mm) for one, mm in found if not _stands_for(spec, one.value, told)]
    found.sort(key=lambda each: each[0].uses)  # what more is made by is the likelier to be right
    if not found or len(found) > MOST_PLACES or (len(found) > 1 and found[0][0].uses == found[1][0].uses):
        return problems
    first, lines = unequal[0], {seam.name: seam.place.line for seam in spec.seams}
    more = [name for name in dict.fromkeys(name for name, _ in wrong) if name != first.at]
    named = ", ".join(f'"{name}"{line_words(lines.get(name))}' for name in more[:MOST_NAMED])
    further = f" and {count_words(len(more) - MOST_NAMED, 'other seam')}" if len(more) > MOST_NAMED else ""
    what = f"{first.what}; nor are those of {named}{further}" if more else first.what
    ways = [_tell(one.value.value, mm, show) for one, mm in found]
    ways[1:] = [f"{way} on line {one.value.place.line}" for way, (one, _) in zip(ways[1:], found[1:], strict=True)]
    mend = f"{', or '.join(ways)}{'' if more else f'; else {first.mend}'}"
    blamed = replace(first, place=found[0][0].value.place, what=what, mend=mend)
    return [*(problem for problem in problems if problem.check != CHECK), blamed]


def _is_slip(written: str, mm: float, known: Mapping[str, float]) -> bool:
    """Whether a figure may have slipped by so much: to less than twice what it is and more than half, by a decimal or to
    the other unit. What is farther off is of another part."""
    try:
        was_mm = evaluate_length(written, known)
    except ValueError:
        return False
    times = (was_mm + mm) / was_mm if was_mm > 0 else 0.0
    times = max(times, 1 / times) if times > 0 else 0.0
    return 0 < times <= MOST_TIMES or any(abs(times / whole - 1) < NEARLY for whole in WHOLE_SLIPS)


def _stands_for(spec: Spec, value: Value[str], told: set[Place]) -> bool:
    """Whether a size is a measure by its name, and that is told itself."""
    return any(item.name == value.value.strip() and item.length.place in told for item in spec.measures)


def _find_change(figure: Figure, gaps: Gaps, wrong: Mapping[tuple[str, int], float]) -> float:
    """By how much a figure would have to be longer for all seams to have equal sides; 0 where no change does that."""
    trial = find_gaps(figure.longer(PROBE_MM))
    if trial.keys() != gaps.keys():
        return 0.0
    slopes = {pair: (trial[pair] - gaps[pair]) / PROBE_MM for pair in gaps}
    if any(abs(slopes[pair]) < LEAST_SLOPE for pair in wrong):
        return 0.0
    changes = [-gap_mm / slopes[pair] for pair, gap_mm in wrong.items()]
    if max(changes) - min(changes) > AGREE_MM:
        return 0.0
    mm = round(sum(changes) / len(changes), 3)
    after = find_gaps(figure.longer(mm))
    return mm if after.keys() == gaps.keys() and not any(after.values()) else 0.0


def _list_figures(spec: Spec, wrong: Mapping[tuple[str, int], float]) -> Iterator[Figure]:
    """The sizes of the pieces that the seams with unequal sides sew, then all measures that are no sums."""
    seams = {name for name, _ in wrong}
    known = {*list_part_names(spec)}
    parts = {value.value.split(":")[0].split()[0] for seam in spec.seams if seam.name in seams for value in seam.meet}
    parts |= {name for join in spec.joins if join.name in parts for name in names(join.of)}
    parts |= {words(piece.like) for piece in spec.pieces if piece.name in parts and piece.like}
    for piece in spec.pieces:
        if piece.name in parts & known:
            yield from _figures_of(spec, piece)
    for at, item in enumerate(spec.measures):
        if any(letter.isdigit() for letter in item.length.value):

            def put(value: Value[str], at: int = at) -> Spec:
                items = tuple(replace(one, length=value) if k == at else one for k, one in enumerate(spec.measures))
                return replace(spec, measures=items)

            yield Figure(value=item.length, put=put, uses=1 + _count_uses(spec, item.name))


def _count_uses(spec: Spec, name: str) -> int:
    """How many figures of pieces, and further measures, a measure is named in."""
    word = re.compile(rf"(?<![\w-]){re.escape(name)}(?![\w-])")
    written = [
        value for piece in spec.pieces for value in (*piece.size, *(at for one in piece.points for at in one.at))
    ]
    written += [item.length for item in spec.measures]
    return sum(bool(word.search(value.value)) for value in written)


def _figures_of(spec: Spec, piece: PieceSpec) -> Iterator[Figure]:
    for at, value in enumerate(piece.size):
        if value.value.strip() != OPEN:

            def put(value: Value[str], at: int = at) -> Spec:
                sizes = tuple(value if k == at else one for k, one in enumerate(piece.size))
                return _with(spec, piece, replace(piece, size=sizes))

            yield Figure(value=value, put=put)
    if piece.diameter is not None:
        yield Figure(value=piece.diameter, put=lambda value: _with(spec, piece, replace(piece, diameter=value)))


def _with(spec: Spec, piece: PieceSpec, other: PieceSpec) -> Spec:
    return replace(spec, pieces=tuple(other if one is piece else one for one in spec.pieces))


def _tell(written: str, mm: float, show: Show) -> str:
    """The figure that is meant, in the unit that it is written in; of a sum by how much it would be longer."""
    unit = re.fullmatch(PLAIN_RE, written)
    if unit is not None:
        meant_mm = parse_length(written) + mm
        inches = format_inches(meant_mm, DENOMINATOR)
        if unit[1] == "mm" or abs(parse_length(inches) - meant_mm) < AGREE_MM:
            return f'write "{inches if unit[1] == "in" else f"{format_number(meant_mm, 1)} mm"}"'
    return f"make it {format_length(abs(mm), show)} {'longer' if mm > 0 else 'shorter'}"
