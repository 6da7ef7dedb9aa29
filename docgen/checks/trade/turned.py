"""Checks of turned ends and keepers: room for what lies in the end, and ends that meet."""

from collections.abc import Iterator

from docgen.checks.trade.check import PRACTICE, Found, Subject, check
from docgen.problems import Place
from docgen.resolve import Strap, by_name

STITCHES = 2  # beside what lies in the end
LEAST_LAYERS, DOUBLED_LAYERS, MOST_LAYERS = 2, 3, 4


@check(
    "strap-ends-meet",
    "What lies back of the two ends of a strap does not meet in its middle.",
    "plain from the work; a loop that is closed all along may be accepted",
    needs_whole=True,
)
def find_meeting_ends(subject: Subject) -> Iterator[Found]:
    specs = {spec.name: spec for spec in subject.spec.straps}
    for strap in subject.build.straps:
        backs_mm = [end.back_mm for end in strap.ends if end.shape == "turned"]
        if len(backs_mm) == 2 and strap.finished_mm and sum(backs_mm) > strap.finished_mm - 1e-6:
            backs = " and ".join(map(subject.length, backs_mm))
            what = f'the strap "{strap.name}" is {subject.length(strap.finished_mm)} long, and its ends lie back {backs}'
            spec = specs[strap.name]
            value = spec.finished or spec.wears
            place = value.place if value else strap.piece.place
            yield place, what, "look at the figures: the ends lie on each other", strap.name


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
