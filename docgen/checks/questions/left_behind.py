"""What is sewn on a model along lines of its own, and does not come along with its shape and marks."""

from __future__ import annotations

from collections.abc import Iterator

from docgen.checks.questions.question import Question, question
from docgen.checks.trade import Subject
from docgen.problems import line_words
from docgen.read import PieceSpec


@question
def ask_rows_left_behind(subject: Subject) -> Iterator[Question]:
    """Pieces like another of the same goods, with its marks, that say nothing of goods laid on that, or of its dividing
    lines; not what lies behind it."""
    for own in subject.spec.pieces:
        model = _find_model(subject, own)
        if model is None or own.like is None or subject.lies_behind(own.name, model.name):
            continue
        laid = [item for item in model.laid if item.goods] if not own.laid else []
        lines = model.dividers if not own.dividers else ()
        named = [
            f'"{item.goods.value}", which is laid on that{line_words(item.place.line)}' for item in laid if item.goods
        ]
        named += [f"its dividing lines{line_words(lines[0].place.line)}"] if lines else []
        if named:
            keys = " and ".join(key for key, there in (("laid", laid), ("dividers", lines)) if there)
            what = f'"{own.name}" takes the shape and marks of "{model.name}", but not {", nor ".join(named)}'
            answer = f"write {keys} in [pieces.{own.name}] too; where it has none there is nothing to do"
            yield Question(place=own.like.place, what=what, answer=answer)


def _find_model(subject: Subject, own: PieceSpec) -> PieceSpec | None:
    """The nearest model of a piece with goods laid on it, or dividing lines, of which its marks come along."""
    one, seen = own, {own.name}
    while one.like is not None and one.like.value in subject.specs and one.like.value not in seen:
        if one.of is not None or one.inset is not None or (one.marks is not None and not one.marks.value):
            return None
        one = subject.specs[one.like.value]
        seen.add(one.name)
        if one.laid or one.dividers:
            return one
    return None
