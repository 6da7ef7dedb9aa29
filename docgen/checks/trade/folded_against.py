"""Check of two layers that fold together, whether the side said to lie inside goes with how they lie on each other."""

from collections.abc import Iterator

from docgen.checks.trade.check import Found, Subject, check
from docgen.problems import line_words
from docgen.resolve import layers_folded_along


@check(
    "folds-against",
    "Of two layers that lie flesh to flesh and fold together, one has its grain side inside, and the other its flesh side.",
    "plane geometry",
    needs_whole=True,
)
def find_folds_against(subject: Subject) -> Iterator[Found]:
    """Folds of a piece and of the one that it is like and sewn to, both said to have the same side inside; once."""
    for name, model, own, its in layers_folded_along(subject.parts):
        if own.inside and own.inside == its.inside:
            other = {"flesh": "grain", "grain": "flesh"}[own.inside]
            what = (
                f'"{name}" lies flesh to flesh on "{model}" and folds with it, and both have their {own.inside} side '
                f"inside the fold{line_words(its.place.line)}"
            )
            mend = f'write inside = "{other}" for the one whose {other} side lies inside when it is folded, or leave it out'
            yield own.place, what, mend, name
