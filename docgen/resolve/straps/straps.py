"""Straps: cut length from the length when worn or made up, holes from the tip, and the piece to cut."""

from collections.abc import Mapping

from docgen.geometry.outline import outline_box
from docgen.problems import line_words
from docgen.read import StrapSpec
from docgen.resolve.goods.values import Material
from docgen.resolve.parts import Parts
from docgen.resolve.piece import Piece
from docgen.resolve.straps.keepers import is_keeper, refuse_inside
from docgen.resolve.straps.strap import Ends, Strap
from docgen.resolve.straps.strap_ends import read_ends
from docgen.resolve.straps.strap_lengths import find_lengths, has_room, is_doubled, read_rows
from docgen.resolve.straps.strap_piece import STEP_MM, clear_of_ends_mm, lay_padding, make_piece
from docgen.resolve.values import Reader, words
from docgen.written.units.telling import format_mm


def read_straps(reader: Reader, specs: tuple[StrapSpec, ...], parts: Parts) -> dict[str, Strap]:
    """Straps by name, of the goods in `parts`; those that cannot be worked out are noted and left out. Parts with a
    buckle come before those that name them as partner, keepers last."""
    straps: dict[str, Strap] = {}
    by_name = {spec.name: spec for spec in specs}
    for spec in sorted(specs, key=lambda spec: (is_keeper(spec), spec.partner is not None)):
        refuse_inside(reader, spec)
        _check_keepers(reader, spec, by_name)
        if not _has_good_partner(reader, spec, by_name):
            continue
        strap = _read_strap(reader, spec, parts, straps)
        if strap is not None:
            straps[spec.name] = strap
    return {spec.name: straps[spec.name] for spec in specs if spec.name in straps}


def _check_keepers(reader: Reader, spec: StrapSpec, by_name: Mapping[str, StrapSpec]) -> None:
    """Keepers in the folds of a strap that are none, or go round another (noted)."""
    for end in spec.ends:
        keeper = by_name.get(words(end.keeper))
        if end.keeper is not None and keeper is not None and words(keeper.keeper_for) != spec.name:
            what = f'the strap "{keeper.name}" is no keeper of "{spec.name}"'
            reader.error(end.keeper.place, what, f'write keeper-for = "{spec.name}" in [straps.{keeper.name}]')


def _has_good_partner(reader: Reader, spec: StrapSpec, by_name: Mapping[str, StrapSpec]) -> bool:
    """Whether the partner, if any, can be one; when not, it is noted."""
    partner = by_name.get(words(spec.partner))
    if spec.partner is None or partner is None:
        return True
    if partner.partner is not None:
        itself = partner.name == spec.name
        what = "cannot be its own partner" if itself else f'has the partner "{partner.name}", which has one too'
        reader.error(
            spec.partner.place, f'the strap "{spec.name}" {what}', "only the part with the holes names the other"
        )
        return False
    if is_keeper(partner):
        what = f'the strap "{spec.name}" has the partner "{partner.name}", which is a keeper'
        reader.error(spec.partner.place, what, "name the part with the buckle")
        return False
    if spec.wears is None and "wears" not in spec.wrong:
        what = f'the strap "{spec.name}" has a partner, and no length that both wear together'
        reader.error(spec.partner.place, what, 'write wears = "44 in", or leave out partner')
        return False
    return True


def _read_strap(reader: Reader, spec: StrapSpec, parts: Parts, straps: Mapping[str, Strap]) -> Strap | None:
    width_mm = reader.length(spec.width)
    material = parts.materials.get(words(spec.of))
    if width_mm is None or material is None:
        return None
    thickness_mm = _read_thickness(reader, spec, material, parts.materials)
    ends = read_ends(reader, spec, material, parts.hardware, width_mm)
    rows = read_rows(reader, spec)
    if ends is None or thickness_mm is None or rows is None:
        return None
    lengths = find_lengths(reader, spec, ends, rows, straps, thickness_mm)
    if lengths is None or not has_room(reader, spec, lengths, width_mm, ends, rows):
        return None
    piece = make_piece(reader, spec, width_mm, lengths.cut_mm, ends, rows, parts)
    first, second = rows
    padding = _read_padding(reader, spec, piece, lengths.finished_mm, ends)
    if padding:
        piece = lay_padding(piece, ends, *padding)
    return Strap(
        name=spec.name,
        title=piece.title,
        material=material.name,
        cut=piece.cut,
        width_mm=width_mm,
        cut_length_mm=lengths.cut_mm,
        finished_mm=lengths.finished_mm,
        worn_mm=lengths.worn_mm,
        hole_tips_mm=second.tips_mm if second else (),
        punch_mm=second.punch_mm if second else 0.0,
        first_tips_mm=first.tips_mm if first else (),
        first_punch_mm=first.punch_mm if first else 0.0,
        ends=ends,
        partner=words(spec.partner),
        stitch=words(spec.stitch),
        piece=piece,
        note=words(spec.note),
        thickness_mm=thickness_mm,
        lining=words(spec.lining, material.name) if is_doubled(spec) else "",
        lining_length_mm=lengths.finished_mm if is_doubled(spec) else 0.0,
        padding=words(spec.padding.of) if spec.padding and padding else "",
        padding_width_mm=padding[0] if padding else 0.0,
        padding_length_mm=padding[1] if padding else 0.0,
        keeper_for=words(spec.keeper_for),
        cut_from=words(spec.cut_from),
    )


def _read_padding(
    reader: Reader, spec: StrapSpec, piece: Piece, finished_mm: float, ends: Ends
) -> tuple[float, float] | None:
    """Width and length of what lies between the layers; None without any, or when it is wrong (noted)."""
    padding, width_mm = spec.padding, outline_box(piece.outline).width
    own_mm = reader.length(padding.width) if padding else None
    if padding is None or own_mm is None or padding.width is None:
        return None
    if not is_doubled(spec):
        what = f'the strap "{spec.name}" is padded, and nothing lies over its padding'
        place = spec.doubled.place if spec.doubled else padding.place
        reader.error(place, what, "write doubled = true, and lining = ... where that is another material")
        return None
    if own_mm > width_mm:
        what = f"the padding is {format_mm(own_mm)} wide, and the strap {format_mm(width_mm)}"
        reader.error(padding.width.place, what, "make it narrower than the strap")
        return None
    between_mm = finished_mm - sum(end.back_mm for end in ends)
    free_mm = between_mm - 2 * clear_of_ends_mm(piece, ends, own_mm, 0.0)
    clear_mm = clear_of_ends_mm(piece, ends, own_mm, (width_mm - own_mm) / 2)
    long_mm = between_mm - 2 * clear_mm if padding.length is None else reader.length(padding.length)
    if long_mm is not None and not 0 < long_mm <= free_mm:
        what = f"the padding has room for {format_mm(free_mm)} between the ends"
        if padding.length is not None:
            what = f"the padding is {format_mm(long_mm)} long, and has room for {format_mm(free_mm)} between the ends"
        mend = "make it shorter, or the strap longer"
        if between_mm - free_mm > 2 * clear_of_ends_mm(piece, ends, 0.0, 0.0) + STEP_MM:
            what += f" as wide as it is, {format_mm(own_mm)}{line_words(padding.width.place.line)}, where they narrow"
            mend = "make it narrower or shorter, or the strap longer"
        reader.error((padding.length or padding.width).place, what, mend)
        return None
    return None if long_mm is None else (own_mm, long_mm)


def _read_thickness(
    reader: Reader, spec: StrapSpec, material: Material, materials: Mapping[str, Material]
) -> float | None:
    """Thickness of all layers in mm; None when that of the second is not known (noted)."""
    if not is_doubled(spec):
        if spec.lining is not None:
            what = f'the strap "{spec.name}" has a lining, and is not doubled'
            reader.error(spec.lining.place, what, "write doubled = true, or leave lining out")
        return material.thickness_mm
    lining = materials.get(words(spec.lining, material.name))
    return None if lining is None else material.thickness_mm + lining.thickness_mm
