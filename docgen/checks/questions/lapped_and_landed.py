"""What is lapped over an edge of a piece, and is written to land on that besides: two places for one part."""

from collections.abc import Iterator

from docgen.checks.questions.places import landing_place
from docgen.checks.questions.question import Question, question
from docgen.checks.trade import Subject
from docgen.problems import line_words


@question
def ask_lapped_and_landed(subject: Subject) -> Iterator[Question]:
    """Pieces that a seam laps over an edge of their host, on the outside of which they land as well."""
    for seam in subject.build.seams:
        lapped = [side for side in seam.sides if side.edges] if any(side.lap_mm for side in seam.sides) else []
        for own in lapped if len(lapped) == 2 else ():
            host = next(side for side in lapped if side is not own)
            base = subject.parts.pieces.get(host.part)
            landings = base.marks.landings if base is not None and own.part != host.part else ()
            for landing in landings:
                if base is not None and landing.piece == own.part and not landing.is_inside:
                    what = (
                        f'"{own.part}" is lapped over an edge of "{host.part}" by the seam "{seam.name}"'
                        f"{line_words(seam.place.line)}, and lands on it besides: both say where it lies"
                    )
                    answer = f'leave the landing out, or write the seam flat on "{host.part}", without lap'
                    yield Question(place=landing_place(subject.specs[base.name], landing), what=what, answer=answer)
