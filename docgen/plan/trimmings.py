"""Goods by length: what is cut of them for the batch, and what a step cuts and sews of them, in words."""

from collections.abc import Collection, Iterator, Sequence

from docgen.assemble import Assembled
from docgen.plan.names import spoken
from docgen.plan.plan import TrimmingItem
from docgen.plan.step_words import said_in
from docgen.resolve import Build, Step, Trimming, TrimmingCut
from docgen.tables.cautions import has_phrase
from docgen.tables.trimmings import TRIMMING_KINDS
from docgen.written.units.telling import Show, format_length, format_number

Line = tuple[str, str]
BOTH = 2  # ends

CROSSED = (
    "from the end of the seam",
    "from the end of the seam, and inside the row that crosses its other end",
    "inside the row that crosses its end",
)
"""Where the stops of a zip lie, by at how many ends of it another seam crosses them."""


FREE_ENDS = "no seam crosses its ends: turn them under past the stops, or cover them"
TURNING = ("turn", "fold", "tuck", "cover", "close")


def plan_trimmings(build: Assembled) -> tuple[TrimmingItem, ...]:
    """Goods by length for the whole batch, each length as often as its seams are sewn."""
    return tuple(
        TrimmingItem(
            trimming=item,
            cuts=tuple((cut, count_cuts(build, cut) * build.makes) for cut in item.cuts),
            step=next((at for at, step in enumerate(build.steps, start=1) if item.name in step.trimmings), 0),
        )
        for item in build.trimmings
    )


def count_cuts(build: Assembled, cut: TrimmingCut) -> int:
    """How many of one length are cut for one make: of a zip one for both of its seams."""
    return cut.count or max((build.assembly.times(seam) for seam in cut.seams), default=1)


def trimming_lines(build: Assembled, steps: Sequence[Step], at: int) -> Iterator[Line]:
    """What step `at` (from 0) cuts of goods by length, as label and words: the first that names or sews them."""
    for item in build.trimmings:
        cuts = [cut for cut in item.cuts if _first_step(build, steps, item, cut) == at]
        yield from ((item.what, words) for cut in cuts for words in cut_words(build, item, cut))
        if cuts:
            if (told := ends_words(item)) and not (told == FREE_ENDS and _turns_ends(steps[at])):
                yield item.what, told
            seams = {name for cut in cuts for name in cut.seams}
            yield from ((item.what, f"lay it in the fold of {title}") for title in _folded_round(build, item, seams))
        yield from ((item.what, words) for words in _tape_words(build, item, steps[at]))


def _turns_ends(step: Step) -> bool:
    """Whether a step says in its own words what is done with ends."""
    return any(has_phrase(words, "ends") and any(has_phrase(words, way) for way in TURNING) for words in said_in(step))


def _folded_round(build: Build, item: Trimming, seams: Collection[str]) -> Iterator[str]:
    """The strips that are folded round a cord which the same seams sew in, by their titles."""
    if item.kind != "piping-cord":
        return
    parts = {side.part for seam in build.seams if seam.name in seams for side in seam.sides}
    for piece in build.pieces:
        if piece.name in parts and piece.shape == "strip" and any(not fold.is_open for fold in piece.marks.folds):
            yield spoken(piece.title)


def _tape_words(build: Build, item: Trimming, step: Step) -> Iterator[str]:
    """Which tape of a zip each seam of a step sews."""
    for seam in build.seams:
        sides = [use.side for use in seam.trimmings if use.name == item.name and use.side]
        yield from (f"sew its {side} tape: {spoken(seam.title)}" for side in sides if seam.name in step.seams)


def _first_step(build: Assembled, steps: Sequence[Step], item: Trimming, cut: TrimmingCut) -> int | None:
    laid = {event.step for event in build.assembly.events if (event.kind, event.name) == ("dividers", cut.on)}
    for number, step in enumerate(steps):
        if number in laid or item.name in step.trimmings or not set(cut.seams).isdisjoint(step.seams):
            return number
        if not set(cut.joins).isdisjoint(step.joins):
            return number
    return None


def cut_words(build: Assembled, item: Trimming, cut: TrimmingCut) -> list[str]:
    """`2 of 9 7/8 in (250 mm), cut by the list, for Zip to front`; of a zip also where its stops come to lie."""
    show, count = build.show, count_cuts(build, cut)
    told = f"{count} of {format_length(cut.length_mm, show)}, cut by the list"
    told += f", for {cut.where}" if cut.where else ""
    return [told, *run_words(item, cut, show)]


def ends_words(item: Trimming) -> str:
    """What is done with the cut ends: as the spec says, else what is usual; nothing where later seams catch them all."""
    if item.finish:
        return f"its ends {item.finish}"
    if item.cuts and all(cut.caught == BOTH for cut in item.cuts):
        return ""
    if item.kind == "zip" and item.cuts and all(cut.seams and not any(cut.crossed_mm) for cut in item.cuts):
        return FREE_ENDS
    usual = TRIMMING_KINDS[item.kind].ends
    return f"{usual}, where they stand over" if any(cut.caught for cut in item.cuts) else usual


def run_words(item: Trimming, cut: TrimmingCut, show: Show) -> list[str]:
    """Between which stops a zip is, what of elastic is stretched, and what is left over at the ends."""
    told = []
    if cut.between_mm:
        away_mm = (cut.run_mm - sum(cut.crossed_mm) - cut.between_mm) / 2 if item.written_mm else item.stops_mm
        between, away = (format_length(mm, show) for mm in (cut.between_mm, away_mm))
        where = CROSSED[sum(mm > 0 for mm in cut.crossed_mm)]
        told.append(f"{between} between its stops, each {away} {where}")
    if item.relaxed < 1:
        share = format_number(item.relaxed * 100, 1)
        told.append(f"stretch it along {format_length(cut.run_mm, show)}: it is cut to {share} % of that, and its ends")
    is_run, over = cut.seams or not item.written_mm, format_length(item.ends_mm, show)
    if cut.caught == BOTH:
        told.append("its ends level: the seams that cross them catch them")
    elif cut.caught:
        told.append(f"{over} over at one end, level at the other: the seam that crosses it catches that")
    elif item.ends_mm and is_run:
        told.append(f"{over} over at each end")
    return told
