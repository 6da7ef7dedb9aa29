"""Bindings whose rows lie far from their own edges: what is beyond the row hangs loose on both sides."""

from collections.abc import Iterator
from typing import Final

from docgen.checks.questions.question import Question, question
from docgen.checks.trade import Subject

LAYERS: Final = 2  # of a binding whose edges are folded under there are more
LOOSE_MM: Final = 5.0  # so much beyond a row stands off and rolls up, where it is more than lies within: our choice


@question
def ask_loose_bindings(subject: Subject) -> Iterator[Question]:
    """Bindings much wider than the row that holds them lies in from the edge; once for each, of its rows the farthest in.
    It goes round the edge, as far down on one side as on the other."""
    items = [item for item in subject.build.trimmings if item.kind == "binding" and item.layers == LAYERS]
    written = {spec.name: spec.width for spec in subject.spec.trimmings}
    for item in items:
        seams = [seam for seam in subject.build.seams if any(use.name == item.name for use in seam.trimmings)]
        rows = [(subject.inset_mm(seam.stitch), seam.stack_mm - item.layers * item.thickness_mm) for seam in seams]
        width = written.get(item.name)
        if not rows or width is None:
            continue
        inset_mm = max(inset_mm for inset_mm, _ in rows)
        down_mm = min(item.width_mm - max(0.0, thick_mm) for _, thick_mm in rows) / 2
        if down_mm - inset_mm > max(LOOSE_MM, inset_mm) + 1e-6:
            down, inset, loose = map(subject.length, (down_mm, inset_mm, down_mm - inset_mm))
            what = f'"{item.name}" comes {down} down on both sides of its edge, and is sewn {inset} from that: {loose} '
            what += "of it hangs loose"
            answer = (
                "give its seam a stitch whose inset lies near the edge of the binding, or look at its width; where "
            )
            answer += "another row holds it there is nothing to do"
            yield Question(place=width.place, what=what, answer=answer)
