"""Zips that do not go with the edges along which they are sewn: longer, far shorter, turned in along one of two."""

from collections.abc import Iterator

from docgen.checks.questions.question import Question, question
from docgen.checks.trade import Subject

LEAST_SHARE = 0.8  # of the edges beside it a zip opens mostly as much or more: our choice


@question
def ask_zip_lengths(subject: Subject) -> Iterator[Question]:
    """Zips of a written length, from stop to stop longer than the edges that they are sewn to, or far shorter."""
    for own in subject.spec.trimmings:
        item = next((one for one in subject.build.trimmings if one.name == own.name), None)
        runs = [cut for cut in item.cuts if cut.run_mm and cut.between_mm] if item and item.written_mm else []
        sewn = [seam.length_mm for seam in subject.build.seams if any(use.name == own.name for use in seam.trimmings)]
        for cut in runs[:1] if own.length and sewn else ():
            along_mm = min(sewn) - sum(cut.crossed_mm)
            is_told = sum(cut.crossed_mm) and cut.between_mm > along_mm  # its stops are sewn over
            if is_told or LEAST_SHARE * along_mm <= cut.between_mm <= along_mm:
                continue
            between, along = map(subject.length, (cut.between_mm, along_mm))
            what = f'"{own.name}" is {between} long between its stops, and what it is sewn along {along}'
            answer = (
                "look at its length; where its end is to hang over, or the rest to stay shut, there is nothing to do"
            )
            assert own.length is not None
            yield Question(place=own.length.place, what=what, answer=answer)


@question
def ask_zip_sides(subject: Subject) -> Iterator[Question]:
    """Zips of which one side is sewn in and turned, and the other one not."""
    for item in subject.build.trimmings:
        seams = [
            seam for seam in subject.build.seams if any(use.name == item.name and use.side for use in seam.trimmings)
        ]
        turned = [seam for seam in seams if seam.is_turned]
        flat = [seam for seam in seams if not seam.is_turned]
        if item.kind == "zip" and len(turned) == len(flat) == 1:
            what = (
                f'one side of "{item.name}" is sewn face to face and turned, in "{turned[0].name}", and the other, in '
            )
            what += f'"{flat[0].name}", is not'
            answer = "write turned = true there too; where both are meant to look unlike there is nothing to do"
            yield Question(place=flat[0].place, what=what, answer=answer)
