"""All pieces that a drawing shows, for a spec that is begun from it."""

import math
import re
from pathlib import Path
from typing import Final

from docgen.classes import dataclass
from docgen.geometry.path import end_point, path_box, start_point
from docgen.read.kinds import WORDS_MOST
from docgen.read.letters import judge_letters, judge_typeface
from docgen.read.svg.drawing import Drawing, DrawingPage, draw_element, draw_outline, read_page
from docgen.read.svg.outlines import lies_in, number_outline
from docgen.read.svg.svg_file import DrawingError, Node, read_file, read_tree
from docgen.read.svg.svg_lines import Shape
from docgen.read.svg.svg_shapes import describe, find_id, find_scale, list_nodes
from docgen.read.words import quote_word

PIECES_MOST: Final = 100
OWN_ID: Final = r"(?!(path|rect|polygon|polyline|circle|ellipse|shape|layer|object|svg|g)[-_]?[0-9_-]*$)\w.*"
"""Ids that a person gave; drawing programs number the rest."""


@dataclass(frozen=True, slots=True, kw_only=True)
class FoundPiece:
    """One outline: what a spec writes for it as `element` (None for the only one), what it is called, and all of it."""

    element: str | None
    words: str
    drawing: Drawing


@dataclass(frozen=True, slots=True, kw_only=True)
class FoundDrawing:
    """The pieces in the order of the file, sizes in mm; `is_real` is False where nothing says how large a unit is, and
    one is taken as 1 mm. `left_out`: what is no piece, and what would mend it."""

    is_real: bool
    pieces: tuple[FoundPiece, ...]
    left_out: tuple[tuple[str, str], ...] = ()


def find_pieces(folder: Path, file: str, scale_mm: float | None) -> FoundDrawing:
    """What is drawn in a file of the folder or a folder in it. Raises DrawingError, also when no outline is good."""
    source = read_file(folder, file)
    is_real = scale_mm is not None or find_scale(read_tree(source, file), file) is not None
    page = read_page(source, file, scale_mm if is_real else 1.0)
    shapes, named = page.lines, page.named
    if len(named) > PIECES_MOST:
        what = f"{quote_word(file)} has {len(named)} outlines; at most {PIECES_MOST} pieces are begun at once"
        raise DrawingError(what, "put them into several drawings")
    pieces, left_out = [], _list_stray(page, shapes, [shape for shape, _ in named])
    for k, (shape, words) in enumerate(named, 1):
        try:
            pieces.append(_find_piece(page, shape, words, k, [other for other, _ in named]))
        except DrawingError as error:
            left_out.append((error.what, error.mend))
    if not pieces:
        what, mend = left_out[0] if left_out else (f"there is no line in {quote_word(file)}", "draw each piece")
        raise DrawingError(what, mend)
    return FoundDrawing(is_real=is_real, pieces=tuple(pieces), left_out=tuple(left_out))


def _find_piece(page: DrawingPage, shape: Shape, words: str, number: int, outlines: list[Shape]) -> FoundPiece:
    """The outline with all that lies in it, by the plainest name that leads to just that."""
    whole = draw_outline(page, shape)
    group = shape.node.parent
    is_sole = group is not None and sum(1 for other in outlines if _is_below(other.node, group)) == 1
    ids = [find_id(shape.node), find_id(group) if is_sole and group is not None else ""]
    ids = [name for name in ids if name and _can_stand(name)]
    words = words if _can_stand(words) else ""
    once = [name for name in ids if sum(1 for node in list_nodes(page.root) if find_id(node) == name) == 1]
    good = once if draw_outline(page, shape, group) == whole else []
    own = [name for name in good if re.match(OWN_ID, name)]
    if len(outlines) == 1 and _draws(page, None, whole):
        element = None
    else:
        element = next(iter([*own, *([words] if words else []), *good]), number_outline(number))
    given = [name for name in ids if re.match(OWN_ID, name)]
    called = next(iter([*given, *([words] if words else []), *ids]), f"piece {number}")
    return FoundPiece(element=element, words=called, drawing=whole)


def _can_stand(name: str) -> bool:
    """Whether a name can stand in a spec as it is."""
    fits = len(name) <= WORDS_MOST and name == name.strip()
    return fits and not judge_letters("", name) and not judge_typeface("", name)


def _is_below(node: Node, group: Node) -> bool:
    above: Node | None = node
    while above is not None and above is not group:
        above = above.parent
    return above is group


def _draws(page: DrawingPage, element: str | None, whole: Drawing) -> bool:
    try:
        return draw_element(page, element) == whole
    except DrawingError:
        return False


def _list_stray(page: DrawingPage, shapes: list[Shape], outlines: list[Shape]) -> list[tuple[str, str]]:
    """Open lines that lie in no outline: most often an outline whose ends do not meet."""
    boxes = [path_box(shape.path) for shape in outlines]
    stray = []
    for shape in shapes:
        if shape.path.closed or any(lies_in(path_box(shape.path), box) for box in boxes):
            continue
        gap_mm = math.dist(start_point(shape.path), end_point(shape.path))
        what = f"{describe(shape.node)} in {quote_word(page.file)} is open, and lies in no outline"
        mend = f"its ends lie {gap_mm:.3g} mm apart; close the path if it is a piece"
        stray.append((what, mend))
    return stray
