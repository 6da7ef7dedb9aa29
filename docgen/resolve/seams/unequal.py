"""Sides of a seam that are not equally long: what is told of them, and what mends it."""

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace

from docgen.problems import Place, count_words, is_are, line_words
from docgen.resolve.seams.lengths import LENGTH_TOLERANCE_MM, Lengths
from docgen.resolve.seams.seam import SeamSide, side_words
from docgen.written.units.telling import Show, format_length, format_mm

MOST_EASE = 0.03  # share of a side that leather lets itself be eased in: common practice, no published source
NEARLY = 0.05  # share of a side that its corners, or another inset, make it longer: our choice


def check_equal(
    lengths: Lengths,
    seam: str,
    first: SeamSide,
    other: SeamSide,
    ease_mm: float,
    show: Show,
    find_meant: Callable[[], SeamSide | None],
    find_else: Callable[[], str],
) -> None:
    """Only the other side may be longer, by the ease. Told with the lines where both sizes are written."""
    gap_mm = other.length_mm - first.length_mm
    if -LENGTH_TOLERANCE_MM <= gap_mm <= ease_mm + LENGTH_TOLERANCE_MM:
        return
    meant, can_ease = find_meant(), 0 < gap_mm <= MOST_EASE * first.length_mm
    if other.part in lengths.opened and not meant and first.part not in lengths.opened:
        first, other = other, first  # what another seam gives cannot be changed here
    change = lengths.change_words(first, other, show)
    told = (problem.mend for problem in lengths.reader.problems if problem.check == "unequal-partners")
    model = lengths.models.get(other.part, other.part)
    same = (f"make {other.part} ", f"make {model} ", f'make "{model}", which ')
    if any(words in mend and change in mend for mend in told for words in same):
        return  # one length that is wrong in two seams
    eased = f", and {format_length(ease_mm, show)} may be eased in" if ease_mm and gap_mm > 0 else ""
    lengths.reader.error(
        meant.place if meant else other.place,
        f'the sides of the seam "{seam}" are not equally long: {_measured_words(lengths, first, show)}, '
        f"{_measured_words(lengths, other, show)}{eased}",
        (f'did you mean "{meant.part}: {" ".join(meant.edges)}"? else ' if meant else find_else())
        + lengths.mend_unequal(first, other, show)
        + (f', or ease it in with ease = "{math.ceil(gap_mm)} mm"' if can_ease else ""),
        "unequal-partners",
        seam,
    )


def look_first(
    lengths: Lengths,
    sides: tuple[SeamSide, SeamSide],
    turned: Mapping[Place, int],
    solved: Mapping[str, float],
    flat: Sequence[str],
) -> str:
    """What to do where both land at unlike places on a part that lies `flat` beneath; else what may be the cause
    that two sides are not equally long: corners that are square along one alone, or a stitch, where another seam gives the
    length of one of them and another stitch would make them equal."""
    one, other = sides
    places = [lengths.landed.get(side.part, {}) for side in sides]
    for host in flat:
        if host in places[0] and host in places[1] and places[0][host] != places[1][host]:
            return f'where they lie at unlike heights on "{host}", name "{other.part}" in a seam of its own; else '
    if abs(other.length_mm - one.length_mm) > NEARLY * one.length_mm:
        return ""
    if len(one.edges) == len(other.edges) > 1 and turned[one.place] != turned[other.place]:
        square, round_ = sorted(sides, key=lambda side: -turned[side.place])
        what = (
            f'{count_words(turned[square.place], "corner")} of "{square.part}" along it {is_are(turned[square.place])}'
        )
        return f'look at the corners of both: {what} square, and {turned[round_.place] or "none"} of "{round_.part}"; else '
    if {one.part, other.part}.isdisjoint(lengths.opened):
        return ""
    quiet = replace(lengths, reader=replace(lengths.reader, problems=[]))
    for stitch, inset_mm in lengths.insets.items():
        found = [quiet.side_length("", side, inset_mm, solved) for side in sides]
        if None not in found and abs((found[0] or 0.0) - (found[1] or 0.0)) <= LENGTH_TOLERANCE_MM:
            return f'sew it with the stitch "{stitch}", {format_mm(inset_mm)} from the edge, by which they are equal; else '
    return ""


def _measured_words(lengths: Lengths, side: SeamSide, show: Show) -> str:
    ends = {0: "", 1: " to the row of the seam beside it", 2: " between the rows of the seams beside it"}
    told = f"{side_words(side)} is {format_length(side.length_mm, show)}{ends[sum(mm > 0 for mm in side.lost_mm)]}, "
    told += f"{side.stitches} stitches"
    return told + line_words(lengths.written.get(lengths.models.get(side.part, side.part)))
