"""What the label of a template says: title, how it is cut and worked, and its version."""

from collections import Counter
from dataclasses import replace

from docgen.fonts import text_width_mm
from docgen.pages.drawn.hole_labels import punch_words, sizes_left_out
from docgen.pages.drawn.labels import LabelLine
from docgen.pages.drawn.landing_labels import names_left_out
from docgen.pages.drawn.piece_drawing import tick_name
from docgen.pages.looks.pattern_style import PatternStyle
from docgen.pages.marks.page import Mark, TextMark
from docgen.pages.setting.paging import hold_measures
from docgen.plan import group_skives, join_words, spoken, thin_words
from docgen.resolve import EACH, Build, Material, Piece
from docgen.written.units.telling import Show, format_number, format_short, format_thickness

WIDEST_TURN_MM = 60.0
MIRRORED = "mirrored: for the flesh side"
DIGITS = "0123456789", "0123456789ABCDEF"
LONGEST_VERSION = 12  # characters, as a spec may have it
USUAL_VERSION = 5  # longer ones are set smaller


def label_lines(
    build: Build, piece: Piece, style: PatternStyle, is_mirrored: bool, marks: tuple[Mark, ...] | None = None
) -> tuple[LabelLine, ...]:
    """Name, number to cut, material and thickness, what to skive and fold, version and digest; and whether it is drawn
    mirrored. Of the `marks` drawn on a piece it also says what found no room among them."""
    material = next(item for item in build.materials if item.name == piece.material)
    sizes = () if marks is None else sizes_left_out(piece, marks, build.show)
    texts = (mark.text for mark in marks or () if isinstance(mark, TextMark))
    names = () if marks is None else names_left_out(piece, texts)
    notes = (*work_notes(piece, build.show), *tick_notes(build, piece), *(f"punch {size}" for size in sizes))
    notes += mate_notes(piece, build.show)
    notes += (f"dotted: {', '.join(names)}",) if names else ()
    lines = (
        LabelLine(text=piece.title, size_mm=style.name_type_mm, face="bold"),
        LabelLine(text=cut_words(piece, build.makes), size_mm=style.label_type_mm, face="bold"),
        LabelLine(text=material_words(material, build.show), size_mm=style.label_type_mm),
        *(LabelLine(text=note, size_mm=style.label_type_mm) for note in also_notes(build, piece)),
        *((LabelLine(text=MIRRORED, size_mm=style.label_type_mm, face="bold"),) if is_mirrored else ()),
        *(LabelLine(text=note, size_mm=style.small_type_mm) for note in notes),
        *_version_lines(build, style),
    )
    return tuple(replace(line, text=hold_measures(line.text)) for line in lines)


def _version_lines(build: Build, style: PatternStyle) -> tuple[LabelLine, ...]:
    """Code and digest, and the version: with room for any version and digest, so that these move no piece."""
    digit, hex_digit = (max(digits, key=lambda one: text_width_mm(one, "regular", 1.0)) for digits in DIGITS)
    said = (
        (f"{build.code}  {build.digest}", f"{build.code}  {hex_digit * len(build.digest)}"),
        (f"version {build.version}", f"version {digit * USUAL_VERSION} DRAFT"),
    )
    return tuple(LabelLine(text=text, size_mm=style.small_type_mm, widest=widest) for text, widest in said)


def also_notes(build: Build, piece: Piece) -> tuple[str, ...]:
    """What else is cut by the template: `also Front panel: cut 1, bridle leather, 5 oz (2 mm)`."""
    others = [other for other in build.pieces if other.name in piece.also_cuts]
    materials = {item.name: item for item in build.materials}
    return tuple(
        f"also {other.title}: {cut_words(other, build.makes)}, {material_words(materials[other.material], build.show)}"
        for other in others
    )


def work_notes(piece: Piece, show: Show) -> tuple[str, ...]:
    """What the label says of the work on the piece: how thin its bands become, then its folds."""
    return (*skive_notes(piece, show), *fold_notes(piece, show))


def tick_notes(build: Build, piece: Piece) -> tuple[str, ...]:
    """Where seams run on one line, what the ticks of each look like: `bars: pocket to front`, `rings: gusset to front`."""
    found: dict[str, list[str]] = {}
    for line in piece.marks.stitch_lines:
        if line.turn:
            found.setdefault(tick_name(line), []).append(build.seam_titles.get(line.seam, line.seam))
    return tuple(f"{name}: {'; '.join(dict.fromkeys(told))}" for name, told in found.items())


def mate_notes(piece: Piece, show: Show) -> tuple[str, ...]:
    """What the holes meet: `2 holes 5/32 in: for Handle and Closing strap`, a note for each size and what it meets."""
    counts = Counter((hole.meets, punch_words(hole, show)) for hole in piece.marks.holes if hole.meets)
    return tuple(
        f"{count} {'hole' if count == 1 else 'holes'} {size}: for {join_words([*map(spoken, meets)])}"
        for (meets, size), count in counts.items()
    )


def skive_notes(piece: Piece, show: Show) -> tuple[str, ...]:
    """`skive left and right to 3 oz (1.2 mm)`: a note for each thickness."""
    found = group_skives(piece.marks.skives, lambda skive: thin_words(skive, show))
    return tuple(f"skive {edges} to {thin}" for thin, edges in found)


def fold_notes(piece: Piece, show: Show) -> tuple[str, ...]:
    """What is said of the folds, each once: how much is turned where that is a narrow edge, and the note. What only bends
    is told as that, with how many of them are alike."""
    found = []
    bends = Counter((fold.angle_deg, fold.key) for fold in piece.marks.folds if fold.is_open)
    for (angle_deg, key), count in bends.items():
        bend = "bend" if count == 1 else f"{count} bends"
        angle = f", {format_number(angle_deg, 0)}°" if angle_deg else ""
        found.append(f"{bend}{angle}{f': {key}' if key else ''}")
    for fold in (fold for fold in piece.marks.folds if not fold.is_open):
        turned = f", {format_short(fold.turned_mm, show)} turned" if 0 < fold.turned_mm <= WIDEST_TURN_MM else ""
        note = f": {fold.key}" if fold.key else ""
        found += [f"fold{turned}{note}"] if turned or note else []
    return tuple(dict.fromkeys(found))


def cut_words(piece: Piece, makes: int) -> str:
    """`cut 2`, `cut 2: 1 + 1 mirrored`, `cut 24 (2 for each of 12)`, `cut 2 for each`."""
    count = piece.cut * max(makes, 1)
    told = f"cut {count}"
    if piece.is_pair:
        told += f": {count // 2} + {count // 2} mirrored"
    if makes == EACH:
        return told.replace(f"cut {count}", f"cut {count} for each", 1)
    return told if makes == 1 else f"{told} ({piece.cut} for each of {makes})"


def material_words(material: Material, show: Show) -> str:
    """`bridle leather, 5 oz (2 mm)`."""
    thick = format_thickness(material.thickness_mm, material.kind, show, material.thickness_words)
    return f"{material.title}, {thick}"
