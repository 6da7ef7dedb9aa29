"""What `docgen check` says of a text: its problems, in this process, as the command finds them."""

import math
import re
import tempfile
from dataclasses import replace
from pathlib import Path

from docgen.assemble import Assembled
from docgen.assemble.assembly import Event
from docgen.checks import resolve_variants
from docgen.checks.questions import ask_maker
from docgen.geometry.outline import outline_box, outline_path
from docgen.geometry.segment import segment_start
from docgen.geometry.shapes import Curve, Point
from docgen.problems import Problem, SpecRejected
from docgen.read import read_spec
from docgen.resolve import Divider, Fold, Piece, Slit

PLACE_RE = re.compile(r"Place\([^()]*\)")
EVEN_MM = 0.5
TINY_RE = re.compile(r"(\.\d{6})\d+")


class Checker:
    """Checks texts as specs that stand in a folder with the drawings of a build."""

    def __init__(self, drawings: Path) -> None:
        self._folder = tempfile.TemporaryDirectory()
        for path in drawings.glob("*.svg"):
            (Path(self._folder.name) / path.name).write_bytes(path.read_bytes())
        self._path = Path(self._folder.name) / "spec.toml"

    def problems(self, text: str) -> tuple[Problem, ...]:
        """All problems of this text, errors and cautions."""
        self._path.write_text(text, "utf-8")
        try:
            builds = resolve_variants(read_spec(self._path))
        except SpecRejected as error:
            return error.problems
        return tuple(dict.fromkeys(problem for build in builds for problem in build.cautions))

    def asked(self, text: str) -> tuple[tuple[int, str], ...]:
        """What is asked of this text: the line of each question, and its words; nothing of one that is wrong."""
        self._path.write_text(text, "utf-8")
        spec = read_spec(self._path)
        try:
            return tuple((one.place.line, one.what) for one in ask_maker(spec, resolve_variants(spec)))
        except SpecRejected:
            return ()

    def work(self, text: str) -> tuple[str, ...]:
        """All that is cut, joined and set by a right text, and when, without which parts a step says to have in hand."""
        self._path.write_text(text, "utf-8")
        return tuple(
            TINY_RE.sub(r"\1", PLACE_RE.sub("", repr(_work(b)))) for b in resolve_variants(read_spec(self._path))
        )

    def is_done_elsewhere(self, text: str, changed: str, step: int) -> bool:
        """Whether other steps of a changed text do all that a step (from 0) of a right one does, and it does some."""
        before, after = (self._events(one) for one in (text, changed))
        gone = [[event for event in events if event.step == step] for events, _ in before]
        kept = [{(event.kind, event.name) for event in events if event.step < count} for events, count in after]
        return all(gone) and all({(e.kind, e.name) for e in one} <= its for one, its in zip(gone, kept, strict=True))

    def _events(self, text: str) -> list[tuple[list[Event], int]]:
        self._path.write_text(text, "utf-8")
        builds = resolve_variants(read_spec(self._path))
        return [([it for it in b.assembly.events if it.kind != "pieces"], len(b.steps)) for b in builds]

    def layers(self, text: str) -> list[dict[str, list[str]]]:
        """Seam -> the parts that its needle goes through; for each variant."""
        self._path.write_text(text, "utf-8")
        builds = resolve_variants(read_spec(self._path))
        return [{seam.name: sorted(layer.part for layer in seam.layers) for seam in build.seams} for build in builds]

    def is_lopsided(self, text: str, changed: str) -> bool:
        """Whether an outline that is even left and right in a right text is so no more."""
        before, after = ({piece.name: _is_even(piece) for piece in self.pieces(one)} for one in (text, changed))
        return any(before[name] and not even for name, even in after.items() if name in before)

    def moved_mm(self, text: str, changed: str) -> float:
        """How far a hole, or what lands, lies elsewhere at most; infinite where anything else is other."""
        before, after = (self.pieces(one) for one in (text, changed))
        if len(before) != len(after):
            return math.inf
        return max((_apart_mm(one, other) for one, other in zip(before, after, strict=True)), default=0.0)

    def pieces(self, text: str) -> list[Piece]:
        """The pieces of a right text, and the straps as pieces, of all its variants."""
        self._path.write_text(text, "utf-8")
        builds = resolve_variants(read_spec(self._path))
        return [piece for b in builds for piece in (*b.pieces, *(strap.piece for strap in b.straps))]

    def shapes(self, text: str) -> tuple[str, ...]:
        """All that is known of the build that a right text gives, without where it is written."""
        self._path.write_text(text, "utf-8")
        builds = resolve_variants(read_spec(self._path))
        return tuple(TINY_RE.sub(r"\1", PLACE_RE.sub("", repr((b.pieces, b.straps, b.joins, b.seams)))) for b in builds)


def even_points(piece: Piece) -> list[Point]:
    """The points of an outline, which lie alike across its middle where it is even."""
    return [
        at
        for segment in outline_path(piece.outline).segments
        for at in (
            segment_start(segment),
            *((segment.handle_1, segment.handle_2) if isinstance(segment, Curve) else ()),
        )
    ]


def _is_even(piece: Piece) -> bool:
    points = even_points(piece)
    twice_mm = 2 * outline_box(piece.outline).centre.x
    return all(any(math.dist((twice_mm - at.x, at.y), other) < EVEN_MM for other in points) for at in points)


def _apart_mm(one: Piece, other: Piece) -> float:
    spots = [
        [*(hole.at for hole in piece.marks.holes), *(end.at for end in piece.strap_landings)]
        + [
            at
            for line in (*piece.marks.folds, *piece.marks.slits, *piece.dividers)
            for at in sorted((line.start, line.end))
        ]
        + [Point(landing.dx_mm, landing.dy_mm) for landing in piece.marks.landings]
        for piece in (one, other)
    ]
    if one.outline != other.outline or len(spots[0]) != len(spots[1]):
        return math.inf
    return max((math.dist(a, b) for a, b in zip(*spots, strict=True)), default=0.0)


def _work(build: Assembled) -> list[object]:
    work = build.assembly
    done: list[object] = [event for event in work.events if event.kind != "pieces"]
    for one in (*work.sewn, *work.runs, *work.fastened):
        done += [work.events[one.event], replace(one, event=0)]
    goods = (build.materials, build.stitches, build.pieces, build.straps, build.joins, build.seams)
    return [*goods, build.hardware, build.trimmings, build.front or _front(build), done, work.lies, work.turning]


def _front(build: Assembled) -> str:
    """Which part is taken for the front where the spec does not say it."""
    return next((piece.name for piece in build.pieces if piece.name == "front"), "")


def _ends(line: Fold | Slit | Divider) -> list[Point]:
    """Both ends of a line, in an order that does not hang on the side it is measured from."""
    return sorted((line.start, line.end))
