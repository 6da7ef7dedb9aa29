"""What may be told in public of a comparison: what is made differently, in words; never what it costs or takes.

A fact is told only when it is a measure or a number of the thing itself, or words under one of the names below; a kind
of fact that comes later stays private until its name is added.
"""

from collections.abc import Sequence
from dataclasses import replace
from typing import Final

from docgen.assemble import Assembled
from docgen.classes import dataclass
from docgen.pages import hold_measures
from docgen.problems import shorten
from docgen.versions.compared.changes import Change, Comparison, Fact, TemplateVerdict
from docgen.versions.compared.words import RIGHT, judge_words, render_fact
from docgen.written.units.telling import Show

PUBLIC_PARTS: Final = ("spec", "piece", "strap", "join", "seam", "material", "stitch", "hardware", "step", "care card")
PUBLIC_UNITS: Final = ("length", "area", "count", "needle", "pitch", "hole", "move")
PUBLIC_WORDS: Final = frozenset(
    (
        *("title", "kind", "tannage", "finish", "thickness"),
        *("sewn by", "type", "thread", "cut from", "partner", "stitch"),
        *("strips", "meets", "ends", "posts", "what", "do", "group", "pieces", "skives"),
        *("joins", "seams", "straps", "hardware", "tools", "extra", "repair", "half of them mirrored"),
    )
)
PUBLIC_MARKS: Final = ("skive ", "notch", "fold", "slit", "landing of", "stitch line", "drawn line")
NOT_OF_THE_THING: Final = frozenset(("makes in a batch", "width of the goods"))
FACT_LETTERS: Final = 160


@dataclass(frozen=True, slots=True, kw_only=True)
class ChangeWords:
    """One part that changed, and each fact, in words."""

    head: str
    facts: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class VerdictWords:
    """One template: its title, what to do with an older one, and why ("" when it is still right)."""

    title: str
    label: str
    why: str = ""

    @property
    def is_right(self) -> bool:
        return self.label == RIGHT


def hide_private(build: Assembled) -> Assembled:
    """The build without prices, times, accepted cautions, and notes on what is bought; for pages that are published."""
    steps = tuple(replace(step, minutes=0) for step in build.steps)
    return replace(
        build,
        materials=tuple(replace(item, price=None, note="") for item in build.materials),
        hardware=tuple(replace(item, price=None, note="") for item in build.hardware),
        stitches=tuple(replace(item, thread_price=None) for item in build.stitches),
        steps=steps,
        assembly=replace(build.assembly, steps=steps or build.assembly.steps),
        costs=replace(build.costs, currency="", labour=None),
        accepted=(),
    )


def list_public_changes(comparisons: Sequence[Comparison]) -> tuple[ChangeWords, ...]:
    """What changed, each change once though several variants share it."""
    told: dict[ChangeWords, None] = {}
    for comparison in comparisons:
        for change in comparison.changes:
            words = _tell_change(change, comparison.show)
            if words is not None:
                told[words] = None
    return tuple(told)


def _tell_change(change: Change, show: Show) -> ChangeWords | None:
    """None for a change that is not public, or of which no fact is."""
    if change.part not in PUBLIC_PARTS:
        return None
    facts = tuple(
        hold_measures(shorten(render_fact(_without_note(fact), show), FACT_LETTERS))
        for fact in change.facts
        if is_public(change.part, fact)
    )
    if change.how == "changed" and not facts:
        return None
    name = change.name if change.part == "step" else shorten(change.title or change.name, 60)
    head = " ".join(word for word in (change.part, name) if word)
    if change.part == "step":
        head = f"{head}: {shorten(change.title, 80)}"
    return ChangeWords(head=head if change.how == "changed" else f"{head}, {change.how}", facts=facts)


def is_public(part: str, fact: Fact) -> bool:
    """True for a fact of the thing itself; see the names above."""
    if part == "spec":
        return fact.name == "title"
    if fact.unit == "words":
        return fact.name in PUBLIC_WORDS or fact.name.startswith(PUBLIC_MARKS)
    return fact.unit in PUBLIC_UNITS and fact.name not in NOT_OF_THE_THING


def _without_note(fact: Fact) -> Fact:
    """A fold is known by its note, which is the maker's own."""
    return replace(fact, name="fold") if fact.name.startswith("fold") else fact


def tell_verdict(verdict: TemplateVerdict) -> VerdictWords:
    """What to do with an older template."""
    label, why = judge_words(verdict)
    return VerdictWords(title=shorten(verdict.title, 60), label=label, why=why)
