"""Checks of what has to go in, and of the room that is written, against the room inside."""

import math
from collections.abc import Iterator
from dataclasses import replace

from docgen.assemble import Room, goes_in_room, room_words
from docgen.checks.trade.check import Found, Subject, check
from docgen.checks.trade.figures import find_odd_thicknesses
from docgen.geometry.outline import outline_box
from docgen.problems import Place
from docgen.resolve import Inside, Piece
from docgen.written.units.telling import Show, format_mm, format_percent, format_short

Size = tuple[float, float, float]
MEND = "make it larger, or leave something out"
ODD = "thickness-unusual"
ROOM_OUT_MM = 3.0  # how far what is written may lie over what is worked out
ROOM_LEAST = 0.75  # and the least share of it that it is; both our choice
_BY = "by plane geometry, lining and foam taken off"


@check("contents-do-not-fit", "What has to go in fits the room inside.", "plane geometry", needs_whole=True)
def find_tight_contents(subject: Subject) -> Iterator[Found]:
    """Each thing by itself, turned as need be; then all of them together, by volume. Nothing of a room that is worked out
    with a lining or foam whose thickness is in doubt."""
    build = subject.build
    if build.inside is None and _is_doubtful(subject):
        return
    room = _written(build.inside) if build.inside else build.assembly.room
    if room is None:
        return
    words = room_words(room, subject.show)
    if build.inside is not None:
        words = f"{_size_words(_size(room), subject.show)} (line {_place(subject).line})"
    sizes = {spec.place: spec.size for spec in subject.spec.holds if spec.size}
    for thing in build.holds:
        if not thing.fits:
            size = _size_words(thing.size_mm, subject.show)
            what = f"{thing.what}, {size}, does not go in: there is room for {words}"
            odd = _too_long(thing.size_mm, _size(room))
            place = sizes[thing.place][odd].place if odd < len(sizes.get(thing.place, ())) else thing.place
            yield place, what, MEND, thing.what
        elif build.inside and (pouch := build.assembly.room) and _is_too_thick(thing.size_mm, pouch):
            size, most = _size_words(thing.size_mm, subject.show), room_words(pouch, subject.show)
            what = f"{thing.what}, {size}, goes into [inside], but not between the stitch lines: {most}"
            place = sizes[thing.place][0].place if thing.place in sizes else thing.place
            yield place, what, MEND, thing.what
    full_mm3 = sum(math.prod(thing.size_mm) for thing in build.holds)
    if room.kind == "box" and all(thing.fits for thing in build.holds) and full_mm3 > math.prod(_size(room)):
        yield build.holds[0].place, f"what has to go in takes more than the room of {words}, all together", MEND, ""


@check(
    "room-not-known",
    "Where the spec says what goes in, the room inside is written, or follows from the pieces: two panels and the wall "
    "between them, a round base and its wall, or two panels sewn to each other.",
    "plane geometry",
    stops=True,
    needs_whole=True,
    waits_for=("edge-sewn-again", "edge-in-two-seams", "piece-narrow-for-stitch"),
)
def find_unknown_rooms(subject: Subject) -> Iterator[Found]:
    """Where there are rows of rooms, between dividing lines, these are what things go into."""
    build = subject.build
    is_row = any(piece.dividers for piece in build.pieces)
    if build.holds and build.inside is None and build.assembly.room is None and not is_row:
        what = "the spec says what goes in, and not how much room there is; from the pieces it does not follow"
        yield build.holds[0].place, what, "add [inside] with width, height and depth", ""


@check(
    "inside-contradicts",
    f"The room that is written goes into the one that the pieces leave, within {format_mm(ROOM_OUT_MM)} each way, and is "
    f"no less than {format_percent(ROOM_LEAST)} of it in each; the room between stitch lines is worked out {_BY}.",
    "plane geometry; both figures are our choice",
    needs_whole=True,
)
def find_other_rooms(subject: Subject) -> Iterator[Found]:
    build, room = subject.build, subject.build.assembly.room
    if build.inside is None or room is None:
        return
    size_mm = _size(_written(build.inside))
    is_small = any(a < ROOM_LEAST * b for a, b in zip(sorted(size_mm), sorted(_size(room)), strict=True))
    if not goes_in_room(_less(size_mm, room), room) or (room.kind == "box" and is_small and not room.closes):
        parts = ", ".join(f'"{part}"' for part in dict.fromkeys(room.parts))
        what = (
            f"[inside] says {_size_words(size_mm, subject.show)}, and {parts} leave {room_words(room, subject.show)} by "
            "their stitch lines, lining and foam taken off"
        )
        yield _place(subject), what, "measure both again; accept this where more lies inside", ""


@check(
    "inside-larger-than-parts",
    f"No way of the room that is written is longer than the longest of the pieces, within {format_mm(ROOM_OUT_MM)}.",
    "plane geometry",
    needs_whole=True,
)
def find_larger_rooms(subject: Subject) -> Iterator[Found]:
    """Where the room does not follow from the pieces: its longest way against the longest side of any piece; strips of
    joins and walls count with their width, since they go round."""
    build = subject.build
    inside = subject.spec.inside
    if build.inside is None or inside is None or (build.assembly.room and build.assembly.room.kind == "box"):
        return
    longest_mm, name = max(((_longest_mm(subject, piece), piece.name) for piece in build.pieces), default=(0.0, ""))
    sizes = zip(_size(_written(build.inside)), (inside.width, inside.height, inside.depth), strict=True)
    for mm, value in sizes:
        if value is not None and name and mm > longest_mm + ROOM_OUT_MM:
            what = (
                f"[inside] says {subject.length(mm)}, and no piece is as long: the longest way of one is "
                f'{subject.length(longest_mm)}, of "{name}" (line {subject.parts.pieces[name].place.line})'
            )
            yield value.place, what, "measure both again", ""


def _is_doubtful(subject: Subject) -> bool:
    """Whether anything that lines another part is of an odd thickness, which nobody accepts."""
    behind = {lies.copy.part for lies in subject.build.assembly.lies if lies.is_behind}
    linings = {piece.material for piece in subject.build.cut if piece.name in behind}
    meant = [it.at.value if it.at else None for it in subject.spec.accept if it.check and it.check.value == ODD]
    odd = (name for _, _, _, name in find_odd_thicknesses(subject)) if linings and None not in meant else ()
    return any(name in linings and name not in meant for name in odd)


def _longest_mm(subject: Subject, piece: Piece) -> float:
    box = outline_box(piece.outline)
    is_round = piece.shape == "strip" and not piece.marks.folds
    return box.width if is_round else max(box.width, box.height)


def _less(size_mm: Size, room: Room) -> Size:
    """A size less what it may be out; laid flat in a pouch, whose thickness is judged by what has to go in."""
    width_mm, height_mm, depth_mm = (length_mm - ROOM_OUT_MM for length_mm in size_mm)
    return width_mm, height_mm, 0.0 if room.kind == "pouch" else depth_mm


def _is_too_thick(size_mm: Size, room: Room) -> bool:
    """Whether a thing does not go round in a pouch, by its own width and thickness."""
    wide_mm, high_mm = room.width_mm + ROOM_OUT_MM, room.height_mm + ROOM_OUT_MM
    return room.kind == "pouch" and not goes_in_room(size_mm, replace(room, width_mm=wide_mm, height_mm=high_mm))


def _place(subject: Subject) -> Place:
    inside = subject.spec.inside
    return inside.place if inside else Place()


def _written(inside: Inside) -> Room:
    return Room(
        kind="box", width_mm=inside.width_mm, height_mm=inside.height_mm, depth_mm=inside.depth_mm, parts=("[inside]",)
    )


def _size(room: Room) -> Size:
    return room.width_mm, room.height_mm, room.depth_mm


def _too_long(size_mm: Size, room_mm: Size) -> int:
    """Which figure of a size is too large for a room: held against that, the longest to the longest."""
    order = sorted(range(len(size_mm)), key=lambda k: -size_mm[k])
    pairs = zip(order, sorted(room_mm, reverse=True), strict=False)
    return next((k for k, most_mm in pairs if size_mm[k] > most_mm), 0)


def _size_words(size_mm: Size, show: Show) -> str:
    return " x ".join(format_short(length_mm, show) for length_mm in size_mm)
