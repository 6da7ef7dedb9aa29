"""The drawings that pieces name, the pictures of steps, and the shop's name mark -> read, and carried in the spec, so
that no later phase opens a file."""

import hashlib
from dataclasses import field, replace
from pathlib import Path
from typing import Final

from docgen.classes import dataclass
from docgen.problems import Problem, make_error, sort_problems
from docgen.read.spec import Spec
from docgen.read.spec_pieces import PieceSpec
from docgen.read.svg.drawing import Sketch, draw_sketch
from docgen.read.svg.name_mark import MARK, Picture, parse_name_mark
from docgen.read.svg.svg_file import DRAWING, DrawingError, FileKind, read_file

BYTES_MOST: Final = 20 * 1024 * 1024


@dataclass(slots=True)
class _Shelf:
    """The files opened so far, and what was found wrong."""

    folder: Path
    files: dict[str, bytes] = field(default_factory=dict)
    problems: list[Problem] = field(default_factory=list)


def read_drawings(spec: Spec) -> Spec:
    """The spec with `drawings`, `mark`, `pictures` and `files` filled; what cannot be read is noted, its piece marked as
    wrong."""
    shelf = _Shelf(Path(spec.path).parent, dict(spec.files))
    pieces, drawings = [], []
    for piece in spec.pieces:
        drawing = _read_piece(shelf, piece) if _is_drawn(piece) else None
        if drawing is not None:
            drawings.append((piece.name, drawing))
        elif _is_drawn(piece):
            piece = replace(piece, wrong=(*piece.wrong, "file"))
        pieces.append(piece)
    mark = _read_mark(shelf, spec)
    pictures = _read_pictures(shelf, spec)
    return replace(
        spec,
        mark=mark,
        pictures=pictures,
        pieces=tuple(pieces),
        drawings=tuple(drawings),
        files=tuple(sorted(shelf.files.items())),
        problems=sort_problems([*spec.problems, *shelf.problems]),
    )


def _is_drawn(piece: PieceSpec) -> bool:
    return piece.file is not None and (piece.shape is None or piece.shape.value == "drawing")


def _read_piece(shelf: _Shelf, piece: PieceSpec) -> Sketch | None:
    """What the piece names, drawn for trial unless its scale may hang on a measure; None when it cannot be (noted)."""
    assert piece.file is not None
    if {"element", "scale"} & set(piece.wrong):
        return None
    place, element = piece.file.place, piece.element
    try:
        source = _open_file(shelf, piece.file.value)
        place = element.place if element else place
        sketch = Sketch(source=source, file=piece.file.value, element_id=element.value if element else "", place=place)
        if piece.scale is None:
            draw_sketch(sketch, None)
        return sketch
    except DrawingError as error:
        shelf.problems.append(make_error(place, error.what, error.mend))
        return None


def _read_mark(shelf: _Shelf, spec: Spec) -> Picture | None:
    """The shop's name mark; None when none is named, or it cannot be read, which is noted."""
    written = spec.shop.mark if spec.shop is not None else None
    if written is None:
        return None
    try:
        return parse_name_mark(_open_file(shelf, written.value, MARK), written.value)
    except DrawingError as error:
        shelf.problems.append(make_error(written.place, error.what, error.mend))
        return None


def _read_pictures(shelf: _Shelf, spec: Spec) -> tuple[tuple[str, Picture], ...]:
    """The pictures that the head and the steps name, each file once; one that cannot be read is noted."""
    named = [
        part.picture for part in (spec.spec, *spec.steps, *spec.begun) if part is not None and part.picture is not None
    ]
    if not named:
        return ()
    from docgen.read.photo import PHOTO, parse_photo

    pictures: dict[str, Picture | None] = {}
    for written in named:
        if written.value in pictures:
            continue
        pictures[written.value] = None
        try:
            pictures[written.value] = parse_photo(_open_file(shelf, written.value, PHOTO), written.value)
        except DrawingError as error:
            shelf.problems.append(make_error(written.place, error.what, error.mend))
    return tuple((file, picture) for file, picture in pictures.items() if picture is not None)


def _open_file(shelf: _Shelf, file: str, kind: FileKind = DRAWING) -> bytes:
    if file not in shelf.files:
        source = read_file(shelf.folder, file, kind)
        if sum(map(len, shelf.files.values())) + len(source) > BYTES_MOST:
            what = "the drawings and pictures of this spec are larger than 20 MiB"
            raise DrawingError(what, "save the pictures smaller, or split the spec")
        shelf.files[file] = source
    return shelf.files[file]


def make_digest(source: bytes, files: tuple[tuple[str, bytes], ...]) -> str:
    """The first 10 hex digits, upper case, of a SHA-256 over the spec and, in order of name, every file it names."""
    digest = hashlib.sha256(source)
    for name, content in files:
        digest.update(b"\0" + name.encode("utf-8") + b"\0" + hashlib.sha256(content).digest())
    return digest.hexdigest()[:10].upper()
