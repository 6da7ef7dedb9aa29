"""Which templates must be cut again, and which older ones are still right.

A template is right as long as its outline, its holes and marks, and what its label tells the knife are the same; the
version and digest printed on it do not count.
"""

from collections.abc import Sequence

from docgen.geometry.outline import outline_box, outline_path
from docgen.geometry.path import polyline
from docgen.geometry.shapes import Path, Point
from docgen.pages import also_notes, cut_words, draw_piece, load_pattern_style, material_words, tick_notes, work_notes
from docgen.pages.marks.page import PathMark, TextMark
from docgen.plan import template_notes
from docgen.resolve import Build, Piece, by_name, lines_of, show_shared
from docgen.versions.compared.alike import is_same_line, move_path
from docgen.versions.compared.changes import TemplateVerdict

Lines = list[tuple[str, Path]]


def judge_templates(before: Build, after: Build) -> tuple[TemplateVerdict, ...]:
    """A verdict on each template of the newer build, then on those that are no longer there."""
    before, after = show_shared(before), show_shared(after)
    old, new = by_name(before.cut), by_name(after.cut)
    verdicts = [
        TemplateVerdict(name=name, title=_title(after, piece), reasons=_reasons(before, after, old[name], piece))
        if name in old
        else TemplateVerdict(name=name, title=_title(after, piece), reasons=("new",), how="added")
        for name, piece in new.items()
    ]
    verdicts += [
        TemplateVerdict(name=name, title=_title(before, piece), reasons=("gone",), how="removed")
        for name, piece in old.items()
        if name not in new
    ]
    return tuple(verdicts)


def _title(build: Build, piece: Piece) -> str:
    """The title, with how it is cut where no template of its own is printed."""
    notes = template_notes(build, piece)
    return f"{piece.title} ({'; '.join(notes)})" if notes else piece.title


def _reasons(before: Build, after: Build, old: Piece, new: Piece) -> tuple[str, ...]:
    kinds = {
        "outline": ([("", outline_path(old.outline))], [("", outline_path(new.outline))]),
        "holes": (_holes(old), _holes(new)),
        "marks": (_marks(old), _marks(new)),
    }
    corners = [Point(-box.left, -box.bottom) for box in (outline_box(old.outline), outline_box(new.outline))]
    reasons = [
        name for name, (was, now) in kinds.items() if not _is_same_set(_place(was, corners[0]), _place(now, corners[1]))
    ]
    is_said_otherwise = new.is_printed and _label(before, old) != _label(after, new)
    return (*reasons, *(["label"] if is_said_otherwise else []))


def _label(build: Build, piece: Piece) -> tuple[object, ...]:
    material = next(item for item in build.materials if item.name == piece.material)
    return (
        piece.title,
        cut_words(piece, build.makes),
        material_words(material, "mm"),
        work_notes(piece, "mm"),
        tick_notes(build, piece),
        also_notes(build, piece),
        template_notes(build, piece),
    )


def _holes(piece: Piece) -> Lines:
    return [(line.key, line.path) for line in lines_of(piece) if line.kind == "hole"]


def _marks(piece: Piece) -> Lines:
    """Everything drawn on the template but its outline and its holes, each with its kind; words by where they stand, but
    the name of a landing, which stands where there is room."""
    outline = outline_path(piece.outline)
    landed = {one.title for one in piece.marks.landings} | {one.title for one in piece.strap_landings}
    lines: Lines = []
    for mark in draw_piece(piece.with_marks(holes=()), load_pattern_style(), "mm"):
        if isinstance(mark, PathMark) and mark.path != outline:
            lines.append((f"{mark.layer} {mark.fill}", mark.path))
        elif isinstance(mark, TextMark):
            at = Point(0.0, 0.0) if mark.text in landed else Point(mark.x_mm, mark.y_mm)
            lines.append((mark.text, polyline((at, Point(at.x + 1.0, at.y)))))
    return lines


def _place(lines: Lines, by: Point) -> list[tuple[str, tuple[Point, ...]]]:
    return [(kind, move_path(path, by)) for kind, path in lines]


def _is_same_set(
    before: Sequence[tuple[str, tuple[Point, ...]]], after: Sequence[tuple[str, tuple[Point, ...]]]
) -> bool:
    """True when each line lies on one of its kind on the other side, in whatever order."""
    if len(before) != len(after):
        return False
    left = list(after)
    for kind, line in before:
        found = next(
            (place for place, (other, its) in enumerate(left) if other == kind and is_same_line(line, its)), None
        )
        if found is None:
            return False
        left.pop(found)
    return True
