"""Templates that are not printed: what a die cuts, what a rule measures off, what is kept, what two pieces share."""

from collections.abc import Mapping
from dataclasses import replace

from docgen.geometry.measure import gap_finder
from docgen.geometry.outline import outline_box, outline_path
from docgen.geometry.path import flatten, points_at, transform_path
from docgen.geometry.shapes import Path, Point
from docgen.geometry.vector import distance, translation
from docgen.problems import Place
from docgen.read import PieceSpec, Spec, StrapSpec
from docgen.resolve.parts import Parts
from docgen.resolve.piece import Piece, TemplateWay
from docgen.resolve.straps.strap import Strap
from docgen.resolve.values import Reader, flag, where
from docgen.tables.defaults import IS_RULED

SAME_MM = 0.05  # about as wide as a sharp line, as where two builds are compared
RULED_SHAPES = ("rectangle", "strip")


def read_template(reader: Reader, spec: PieceSpec | StrapSpec) -> tuple[TemplateWay, str]:
    """How the piece or strap is cut, and by which die or template; two ways at once are noted."""
    ways: list[tuple[TemplateWay, str, Place]] = []
    if spec.die:
        ways.append(("die", spec.die.value, spec.die.place))
    if flag(spec.rule, IS_RULED):
        ways.append(("rule", "", where(spec.rule) or spec.place))
    if spec.kept:
        ways.append(("kept", spec.kept.value, spec.kept.place))
    if isinstance(spec, PieceSpec) and spec.shares:
        ways.append(("shared", spec.shares.value, spec.shares.place))
    for _, _, place in ways[1:]:
        what = f'"{spec.name}" is cut in two ways at once'
        shares = ", kept and shares" if isinstance(spec, PieceSpec) else " and kept"
        reader.error(place, what, f"keep one of die, rule{shares}")
    return ways[0][:2] if ways else ("printed", "")


def settle_templates(reader: Reader, spec: Spec, parts: Parts) -> Parts:
    """The parts with the templates that are shared judged, and each with the pieces that are cut by it besides; what
    cannot be cut so is noted."""
    specs = {item.name: item for item in spec.pieces}
    pieces = dict(parts.pieces)
    for name, piece in parts.pieces.items():
        if piece.template == "rule":
            _check_ruled(reader, piece, where(specs[name].rule) or piece.place)
        elif piece.template == "shared":
            place = where(specs[name].shares) or piece.place
            if _check_shared(reader, piece, parts.pieces, place):
                host = pieces[piece.template_of]
                pieces[host.name] = replace(host, also_cuts=(*host.also_cuts, name))
    rules = {item.name: where(item.rule) or item.place for item in spec.straps}
    for name, strap in parts.straps.items():
        if strap.piece.template == "rule":
            _check_ruled_strap(reader, strap, rules[name])
    return replace(parts, pieces=pieces)


def _check_ruled_strap(reader: Reader, strap: Strap, place: Place) -> None:
    """A strap that is cut off at its length, and whose holes no template has to give."""
    shaped = [end.shape for end in strap.ends if end.shape in ("rounded", "pointed")]
    found = [f"a {shaped[0]} end"] if shaped else ["a taper"] if any(end.taper for end in strap.ends) else []
    found += ["holes"] if strap.piece.marks.holes else []
    if found:
        what = f'"{strap.name}" has {" and ".join(found)}, and cannot be cut by the rule alone'
        reader.error(place, what, "leave rule out, so that its template is printed")


def _check_ruled(reader: Reader, piece: Piece, place: Place) -> None:
    """Only a plain shape can be measured off: what has marks inside needs its template."""
    marks = piece.marks
    found = [
        name
        for name, there in (
            ("holes", marks.holes),
            ("slits", marks.slits),
            ("notches", marks.notches),
            ("places where others land", (*marks.landings, *piece.strap_landings)),
            ("dividing lines", piece.dividers),
            ("rounded corners", [edge for edge in piece.outline.edges if edge.corner]),
        )
        if there
    ]
    if piece.shape not in RULED_SHAPES:
        reader.error(place, f'"{piece.name}" is no rectangle or strip, and cannot be cut by the rule', "leave rule out")
    elif found:
        what = f'"{piece.name}" has {" and ".join(found)}, and cannot be cut by the rule alone'
        reader.error(place, what, "leave rule out, so that its template is printed")


def _check_shared(reader: Reader, piece: Piece, pieces: Mapping[str, Piece], place: Place) -> bool:
    """Whether a piece can be cut by another's template; when not, it is noted."""
    host = pieces.get(piece.template_of)
    if host is None:
        return False  # wrong in itself (noted)
    if host.name == piece.name:
        reader.error(place, f'"{piece.name}" cannot share its own template', "name another piece")
    elif host.template != "printed":
        what = f'the template of "{host.name}" is not printed'
        reader.error(place, what, "share one that is, or say the same of both")
    elif not _is_same_shape(piece, host):
        what = f'"{piece.name}" has not the outline of "{host.name}"'
        reader.error(place, what, f'leave shares out, or write like = "{host.name}"')
    elif (missing := _missing(piece, host)) is not None:
        what = f'"{piece.name}" has {missing} which the template of "{host.name}" has not'
        reader.error(place, what, "leave shares out, so that it has a template of its own")
    else:
        return True
    return False


def _is_same_shape(piece: Piece, host: Piece) -> bool:
    """Whether two outlines lie on each other, as they are or one turned over."""
    return _is_same(piece, host) or _is_same(piece.turned_over(), host)


def _is_same(piece: Piece, host: Piece) -> bool:
    own, other = _placed(piece), _placed(host)
    return _lies_on(own, other) and _lies_on(other, own)


def _placed(piece: Piece) -> Path:
    """The outline with the lower left of its box at (0, 0)."""
    box = outline_box(piece.outline)
    return transform_path(outline_path(piece.outline), translation(-box.left, -box.bottom))


def _lies_on(path: Path, line: Path) -> bool:
    gap = gap_finder(line)
    return all(gap(at) <= SAME_MM for at in flatten(path, SAME_MM / 4))


def _missing(piece: Piece, host: Piece) -> str | None:
    """What is cut, punched or pricked on a piece, and not in the same place on the template of another."""
    found = [_first_missing(turned, host) for turned in (piece, piece.turned_over()) if _is_same(turned, host)]
    return None if None in found else found[0]


def _first_missing(piece: Piece, host: Piece) -> str | None:
    there = _points(host)
    for kind, key, at in _points(piece):
        if not any((kind, key) == (other, its) and distance(at, spot) <= SAME_MM for other, its, spot in there):
            return kind
    return None


def _points(piece: Piece) -> list[tuple[str, tuple[float, ...], Point]]:
    """All places that a template gives to the knife, the punch and the awl, each with its kind and sizes."""
    marks, box = piece.marks, outline_box(piece.outline)
    found: list[tuple[str, tuple[float, ...], Point]] = [
        ("holes", (round(hole.diameter_mm, 2), round(hole.long_mm, 2)), hole.at) for hole in marks.holes
    ]
    found += [("slits", (), at) for slit in marks.slits for at in (slit.start, slit.end)]
    found += [("notches", (), notch.at) for notch in marks.notches]
    lines = [line for line in marks.stitch_lines if line.by == "hand"]
    found += [("stitch holes", (), at) for line in lines for at, _ in points_at(line.path, line.holes_mm)]
    return [(kind, key, Point(at.x - box.left, at.y - box.bottom)) for kind, key, at in found]
