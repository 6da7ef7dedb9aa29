"""Zips that do not go with the edges along which they are sewn: longer, far shorter, turned in along one of two; and bags
of the window of a zip that lie over it, do not reach all round it, lie mostly above it, or are folded and not sewn."""

from collections.abc import Iterator, Sequence

from docgen.assemble import list_behind
from docgen.checks.questions.question import Question, question
from docgen.checks.trade import Subject
from docgen.geometry.path import boxes_overlap, grow_box, holds_box, path_box, polyline
from docgen.read import LandingSpec
from docgen.resolve import Piece, Slit, find_windows

NEAR_MM = 40.0  # what lies nearer to the window of a zip is the bag behind it: our choice
LOW = 0.5  # the window of a zip is mostly above the middle of its bag: our choice
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


@question
def ask_bags(subject: Subject) -> Iterator[Question]:
    """What lies behind a piece with a zip laid on it, alone near its window, and does not hold all of that, or hangs up."""
    for base in subject.build.pieces:
        zipped = any(cut.on == base.name for item in subject.build.trimmings if item.kind == "zip" for cut in item.cuts)
        windows = find_windows(base.marks.slits) if zipped else []
        own = subject.piece_spec(base.name)
        items = [item for item in own.landings if item.piece] if own else []
        yield from _ask_covered(subject, base, items, windows)
        inside = [(it, one) for it, one in zip(items, base.marks.landings, strict=False) if one.is_inside]
        if len(windows) != 1 or len(inside) != 1:
            continue
        corners = [slit.start for slit in windows[0]]
        (item, landing), box = inside[0], path_box(polyline(corners, closed=True))
        lies = path_box(landing.outline)
        is_near = boxes_overlap(grow_box(lies, NEAR_MM), box) and item.at is not None
        if is_near and not holds_box(lies, box) and item.at is not None:
            what = f'"{landing.piece}" lies behind "{base.name}", and does not reach all round the window of its zip'
            answer = (
                "look at its size and its place, and at that of the zip; if it is no bag of that there is nothing to do"
            )
            yield Question(place=item.at.place, what=what, answer=answer)
        elif is_near and own and box.width > box.height and box.bottom - lies.bottom < LOW * (lies.height - box.height):
            below = subject.length(box.bottom - lies.bottom)
            what = f'the window of the zip in "{base.name}" lies {below} above the foot of "{landing.piece}" behind it'
            answer = "look from which edge it is measured; where the bag hangs up over it there is nothing to do"
            yield Question(place=next((it.at.place for it in own.laid if it.at), own.place), what=what, answer=answer)


@question
def ask_open_bags(subject: Subject) -> Iterator[Question]:
    """What is folded and laid behind the window of a zip, of which no seam or line of stitches joins the two layers."""
    sewn = {side.part for seam in subject.build.seams for side in seam.sides}
    zips = {item.name for item in subject.build.trimmings if item.kind == "zip"}
    for base in subject.build.pieces:
        behind = list_behind(base) if any(line.goods in zips for line in base.dividers) else ()
        for bag in (subject.parts.pieces[one.piece] for one in behind if one.piece in subject.parts.pieces):
            folds = [fold for fold in bag.own_folds if not fold.is_open and not fold.around]
            own = subject.piece_spec(bag.name)
            if len(folds) == 1 and own and own.folds and not (bag.name in sewn or bag.dividers or bag.marks.holes):
                what = (
                    f'"{bag.name}" is folded behind the window of the zip in "{base.name}", and nothing joins its two '
                )
                what += "layers: what is put in falls out at its sides"
                answer = "write a seam of its open edges; where they are glued to each other there is nothing to do"
                yield Question(place=own.folds[0].place, what=what, answer=answer)


def _ask_covered(
    subject: Subject, base: Piece, items: Sequence[LandingSpec], windows: Sequence[Sequence[Slit]]
) -> Iterator[Question]:
    """What lies on the side that shows and hides the window of a zip; a flap over it is sewn by one edge, and a frame round
    it has a window of its own."""
    for item, landing in zip(items, base.marks.landings, strict=False):
        laid = subject.parts.pieces.get(landing.piece)
        is_flap = laid is not None and len(subject.edges_sewn(laid.name)) == 1
        if laid is None or landing.is_inside or is_flap or laid.marks.slits or item.piece is None:
            continue
        for window in windows:
            if holds_box(path_box(landing.outline), path_box(polyline([it.start for it in window], closed=True))):
                what = (
                    f'"{landing.piece}" lies on the side of "{base.name}" that shows, and covers the window of its zip'
                )
                answer = (
                    "write inside = true where it is the bag behind that; where it is to hide it there is nothing to do"
                )
                place = item.inside.place if item.inside else item.piece.place
                yield Question(place=place, what=what, answer=answer)
                break
