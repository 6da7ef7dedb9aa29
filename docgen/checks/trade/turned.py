"""Checks of turned ends and keepers: room for what lies in the end, and ends that meet."""

from collections.abc import Iterator

from docgen.checks.trade.check import PRACTICE, Found, Subject, check
from docgen.geometry.vector import add, distance, scale
from docgen.problems import Place
from docgen.resolve import Strap, by_name
from docgen.written.units.telling import format_percent

TINY_MM = 0.5
LEAST_SKIVED = 0.2  # share of what lies back that is thinned at least: our choice
STITCHES = 2  # beside what lies in the end
LEAST_LAYERS, DOUBLED_LAYERS, MOST_LAYERS = 2, 3, 4


@check(
    "strap-end-crowded",
    "What lies back of a turned end is as long as the keeper and the further fittings that it holds, and two stitches.",
    PRACTICE,
    needs_whole=True,
)
def find_crowded_ends(subject: Subject) -> Iterator[Found]:
    hardware, straps = by_name(subject.build.hardware), by_name(subject.build.straps)
    for strap in subject.build.straps:
        for end in strap.ends:
            keeper = straps.get(end.keeper)
            further_mm = sum(hardware[name].bar_mm for name in end.further if name in hardware)
            stitch = subject.parts.stitches.get(end.sewn)
            least_mm = (keeper.width_mm if keeper else 0.0) + further_mm
            if end.shape != "turned" or not least_mm:
                continue
            least_mm += STITCHES * stitch.pitch_mm if stitch else 0.0
            if end.back_mm < least_mm - 1e-6:
                what = (
                    f'an end of the strap "{strap.name}" lies back {subject.length(end.back_mm)}, and what it holds takes '
                    f"{subject.length(least_mm)}"
                )
                yield _back_place(subject, strap, strap.ends.index(end)), what, "let it lie back farther", strap.name


def _back_place(subject: Subject, strap: Strap, which: int) -> Place:
    spec = next(spec for spec in subject.spec.straps if spec.name == strap.name)
    value = spec.ends[which].back if which < len(spec.ends) else None
    return value.place if value else strap.ends[which].place


@check(
    "keeper-layers",
    f"A keeper holds its strap and the tip: {LEAST_LAYERS} layers or more, and at most {MOST_LAYERS}.",
    'instructables.com, "After the belt is made": two thicknesses, three for a doubled end; the most is our choice',
)
def find_odd_keepers(subject: Subject) -> Iterator[Found]:
    for spec in subject.spec.straps:
        value = spec.layers
        if value is not None and spec.keeper_for and not LEAST_LAYERS <= value.value <= MOST_LAYERS:
            held = f'"{spec.keeper_for.value}"'
            words = "one layer" if value.value == 1 else f"{value.value} layers"
            what = f'the keeper "{spec.name}" has room for {words} of {held}, and the strap and its tip are two'
            mend = f"write layers = {LEAST_LAYERS}, or {DOUBLED_LAYERS} where the turned end lies in it too"
            yield value.place, what, mend, spec.name


@check(
    "strap-short-of-rings",
    "A strap is as long as the straight way between what holds its ends, where the parts come to lie.",
    "solid geometry",
    needs_whole=True,
    gives_way=("strap-short-between",),
)
def find_short_straps(subject: Subject) -> Iterator[Found]:
    """Straps that do not reach from one hold to the other; once for a strap."""
    told: set[str] = set()
    for one in subject.build.space.unplaced:
        strap = subject.parts.straps.get(one.copy.part)
        if strap is None or strap.name in told or one.way_mm <= strap.finished_mm + TINY_MM:
            continue
        told.add(strap.name)
        what = (
            f'the strap "{strap.name}" is {subject.length(strap.finished_mm)} long when made up, and what holds its ends '
            f"lies {subject.length(one.way_mm)} apart"
        )
        place = subject.written_at(subject.spec.straps, strap.name, "finished", "wears")
        yield place, what, "look at both figures and their units", strap.name


@check(
    "strap-short-between",
    "A strap that lies fast at both ends on one piece is as long as it is from the one to the other.",
    "plane geometry",
    needs_whole=True,
)
def find_short_spans(subject: Subject) -> Iterator[Found]:
    """Straps of which the first and the second end land on one piece: what is left between against the straight way, by
    the longest way of its copies."""
    specs = {spec.name: spec for spec in subject.spec.straps}
    for base in subject.build.pieces:
        for name in dict.fromkeys(landing.strap for landing in base.strap_landings):
            strap = subject.parts.straps.get(name)
            ends = [[one for one in base.strap_landings if one.strap == name and one.end == which] for which in (0, 1)]
            if strap is None or not strap.finished_mm or not (ends[0] and ends[1]):
                continue
            ways = [
                distance(*(add(one.at, scale(one.way, one.over_mm)) for one in pair)) + sum(one.over_mm for one in pair)
                for pair in zip(*ends, strict=False)
            ]
            if max(ways) > strap.finished_mm + TINY_MM:
                spec = specs[name]
                value = spec.finished or spec.wears
                what = (
                    f'the strap "{name}" is {subject.length(strap.finished_mm)} long, and where both ends lie on '
                    f'"{base.name}" it takes {subject.length(max(ways))} from end to end'
                )
                place = value.place if value else strap.piece.place
                yield place, what, f"make it longer, or measure the landings again (line {ends[1][0].place.line})", name


@check(
    "strap-skive-short",
    f"What is skived of a turned end is {format_percent(LEAST_SKIVED)} of what lies back, or more.",
    "common practice, no published source: makers thin an end to its fold, saddlers its very end alone",
    needs_whole=True,
)
def find_short_skives(subject: Subject) -> Iterator[Found]:
    for strap in subject.build.straps:
        for end in strap.ends:
            if end.shape == "turned" and end.skive and end.skive.over_mm < LEAST_SKIVED * end.back_mm - 1e-6:
                what = (
                    f'an end of the strap "{strap.name}" lies back {subject.length(end.back_mm)}, and is skived over '
                    f"{subject.length(end.skive.over_mm)} of that"
                )
                yield (end.skive.place, what, "look at both figures and their units", strap.name)


@check(
    "strap-ends-meet", "Between two turned ends a strap goes on by its width or more.", "our choice", needs_whole=True
)
def find_meeting_ends(subject: Subject) -> Iterator[Found]:
    """Straps turned back at both ends, by their finished length."""
    specs = {spec.name: spec for spec in subject.spec.straps}
    for strap in subject.build.straps:
        left_mm = strap.finished_mm - sum(end.back_mm + end.loop_mm for end in strap.ends)
        is_turned = all(end.shape == "turned" for end in strap.ends)
        if is_turned and strap.finished_mm and left_mm < strap.width_mm - 1e-6:
            spec = specs[strap.name]
            value = spec.finished or spec.wears
            loops = ["with its loop " if end.loop_mm else "" for end in strap.ends]
            long_mm = [end.back_mm + end.loop_mm for end in strap.ends]
            back = " and ".join(f"{loop}{subject.length(mm)}" for loop, mm in zip(loops, long_mm, strict=True))
            what = (
                f'the strap "{strap.name}" is {subject.length(strap.finished_mm)} long, and its ends lie back {back}: '
            )
            what += f"{subject.length(left_mm)} stay between" if left_mm > 0 else "they lie over each other"
            what += f", and it is {subject.length(strap.width_mm)} wide" if left_mm > 0 else ""
            less = "let the ends lie back less" + (", or make the loop shorter" if any(loops) else "")
            place = value.place if value else strap.piece.place
            yield place, what, f"look at its length and its unit, or {less}", strap.name


@check(
    "strap-tip-long",
    "A strap goes on after its last hole for {longest_tip} at most.",
    "common practice, no published source: 50 to 120 mm",
    needs_whole=True,
)
def find_long_tips(subject: Subject) -> Iterator[Found]:
    specs = {spec.name: spec for spec in subject.spec.straps}
    for strap in subject.build.straps:
        tip_mm = min(strap.hole_tips_mm, default=0.0)
        if tip_mm > subject.build.limits.longest_tip_mm + 1e-6:
            row = specs[strap.name].holes
            what = f'the strap "{strap.name}" goes on {subject.length(tip_mm)} after its last hole'
            place = row.tip.place if row and row.tip else strap.piece.place
            yield place, what, "look at tip and its unit", strap.name
