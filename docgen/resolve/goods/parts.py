"""The simple tables of the spec: materials, stitches, hardware, steps, care."""

import hashlib
from collections.abc import Mapping, Set

from docgen.layout_files import list_languages
from docgen.problems import Place, line_words
from docgen.read import (
    CarePartSpec,
    CareSpec,
    Count,
    HardwareSpec,
    IronSpec,
    MachineSpec,
    MaterialSpec,
    Picture,
    ShopSpec,
    Spec,
    StepSpec,
    StitchSpec,
    Text,
)
from docgen.resolve.build import Step
from docgen.resolve.goods.amounts import parse_density, parse_load, parse_weight
from docgen.resolve.goods.prices import HARDWARE_PER, MATERIAL_PER, THREAD_PER, read_price
from docgen.resolve.goods.sold import read_goods
from docgen.resolve.goods.values import Care, CarePart, Hardware, Machine, Material, Photo, Shop
from docgen.resolve.goods.work import Besides, read_timed, read_work, refuse_twice
from docgen.resolve.seams.seam import Stitch
from docgen.resolve.values import Reader, flag, names, words
from docgen.tables import defaults
from docgen.tables.hardware import find_kind
from docgen.tables.hides import ROLL
from docgen.tables.limits import Limits
from docgen.tables.material import find_density
from docgen.tables.sizes import BAR, GOODS_BY_KIND, INSIDE, PUNCH, TONGUE
from docgen.tables.strength import find_thread_strength_n
from docgen.tables.thread import find_needle
from docgen.written.threads import parse_needle, parse_thread
from docgen.written.units.lengths import parse_run
from docgen.written.units.telling import format_mm, format_pitch


def read_shop(spec: ShopSpec | None, mark: Picture | None = None) -> Shop:
    """The shop's name, contact, link and name mark; empty where not given."""
    if spec is None:
        return Shop()
    return Shop(name=words(spec.name), contact=words(spec.contact), link=words(spec.link), mark=mark)


def read_materials(reader: Reader, specs: tuple[MaterialSpec, ...], limits: Limits) -> dict[str, Material]:
    """Materials by name; those without a readable kind or thickness are left out (noted)."""
    materials = {}
    for spec in specs:
        kind = words(spec.kind)
        goods = GOODS_BY_KIND.get(kind)
        thickness_mm = reader.thickness_within(spec.thickness, goods) if goods else reader.thickness(spec.thickness)
        waste = reader.percent(spec.waste, limits.waste(kind))
        goods_sold = read_goods(reader, spec, kind)
        if thickness_mm is None or not kind:
            continue
        if kind != "leather":
            for extra, key in ((spec.tannage, "tannage"), (spec.finish, "finish")):
                if extra is not None:
                    reader.error(extra.place, f"{kind} has no {key}", f"leave out {key}, or make it leather")
        materials[spec.name] = Material(
            name=spec.name,
            title=_with_colour(words(spec.title, spec.name.replace("-", " ")), spec.colour),
            label=words(spec.title, spec.name.replace("-", " ")),
            kind=kind,
            tannage=words(spec.tannage),
            finish=words(spec.finish, defaults.FINISH if kind == "leather" else ""),
            thickness_mm=thickness_mm,
            thickness_words=words(spec.thickness),
            waste=waste,
            roll_width_mm=goods_sold.width_mm if goods_sold.sold == ROLL else 0.0,
            note=words(spec.note),
            density_g_cm3=_find_density(reader, spec),
            price=read_price(reader, spec.price, MATERIAL_PER),
            goods=goods_sold,
            by_length=spec.by_length,
            edges=words(spec.edges),
        )
    return materials


def _find_density(reader: Reader, spec: MaterialSpec) -> float:
    """As written, else by table; none of goods by length, which weigh as they are cut."""
    if spec.by_length:
        return 0.0
    usual = find_density(words(spec.kind), words(spec.tannage), words(spec.finish))
    return reader.amount(spec.density, parse_density) or usual


def _with_colour(title: str, colour: Text) -> str:
    return title if colour is None else f"{title}, {colour.value}"


def read_stitches(reader: Reader, specs: tuple[StitchSpec, ...], irons: tuple[IronSpec, ...] = ()) -> dict[str, Stitch]:
    """Stitches by name; those that cannot be read are left out (noted)."""
    by_name = {iron.name: iron for iron in irons}
    stitches = {spec.name: _read_stitch(reader, spec, by_name.get(words(spec.iron))) for spec in specs}
    return {name: stitch for name, stitch in stitches.items() if stitch is not None}


def _read_pitch(reader: Reader, spec: StitchSpec, iron: IronSpec | None) -> float | None:
    """The pitch of a stitch, its own or its iron's; None where it has none, or two (noted)."""
    if spec.iron is not None and words(spec.by) == "machine":
        reader.error(spec.iron.place, "a pricking iron marks stitches by hand", 'leave iron out, or write by = "hand"')
    if spec.iron is not None and spec.pitch is not None:
        what = f'the pitch of the stitch "{spec.name}" is that of its iron'
        reader.error(spec.pitch.place, what, "leave pitch out, or leave iron out where it may adjust")
        return None
    if spec.iron is None and spec.pitch is None and not {"pitch", "iron"} & set(spec.wrong):
        mend = 'add pitch = "4 mm" or pitch = "6 per inch", or iron = the name of a pricking iron'
        reader.error(spec.place, f'"pitch" is missing in [stitches.{spec.name}]', mend)
    return reader.pitch(iron.pitch if iron else spec.pitch)


def _iron_words(iron: IronSpec | None, pitch_mm: float) -> str:
    """`seven, 4 mm (6.4 per inch), 6 teeth`."""
    if iron is None or iron.teeth is None:
        return ""
    title = words(iron.title, iron.name.replace("-", " "))
    return f"{title}, {format_pitch(pitch_mm)}, {iron.teeth.value} {'tooth' if iron.teeth.value == 1 else 'teeth'}"


def _read_stitch(reader: Reader, spec: StitchSpec, iron: IronSpec | None) -> Stitch | None:
    thread = reader.read(spec.thread, parse_thread)
    needle = reader.read(spec.needle, parse_needle)
    pitch_mm, inset_mm = _read_pitch(reader, spec, iron), reader.length(spec.inset)
    row_gap_mm = reader.length(spec.row_gap) if spec.row_gap else defaults.ROW_GAP_MM
    back_tack_mm = reader.length(spec.back_tack, zero=True) if spec.back_tack else defaults.BACK_TACK_MM
    if spec.by is None or thread is None or pitch_mm is None or inset_mm is None:
        return None
    if spec.needle is not None and needle is None:
        return None
    found = find_needle(thread.tex)
    if needle is None and found is None and spec.by.value == "machine" and spec.thread is not None:
        mend = 'look at the number; for a thread so thick name its needle: needle = "250/27"'
        reader.error(spec.thread.place, f"no needle is known for {thread.size}", mend)
        return None
    if spec.type is not None and spec.by.value == "hand":
        what = "a stitch type by number belongs to a machine"
        reader.error(spec.type.place, what, 'leave it out, or write by = "machine"')
    return Stitch(
        name=spec.name,
        by=spec.by.value,
        type=words(spec.type, defaults.MACHINE_TYPE) if spec.by.value == "machine" else "saddle stitch",
        thread_words=_with_colour(f"{thread.size} {thread.words}".strip(), spec.colour),
        thread_label=f"{thread.size} {thread.words}",
        thread_tex=thread.tex,
        thread_fibre=thread.fibre,
        needle_nm=needle or found or 0,
        pitch_mm=pitch_mm,
        inset_mm=inset_mm,
        rows=spec.rows.value if spec.rows else defaults.ROWS,
        row_gap_mm=row_gap_mm or defaults.ROW_GAP_MM,
        back_tack_mm=defaults.BACK_TACK_MM if back_tack_mm is None else back_tack_mm,
        bobbin_mm=reader.amount(spec.bobbin, parse_run),
        spool_mm=reader.amount(spec.spool, parse_run),
        machine=words(spec.machine),
        is_point_given=spec.point is not None,
        point=words(spec.point, "leather") if spec.by.value == "machine" else "",
        thread_strength_n=reader.amount(spec.thread_strength, parse_load)
        or find_thread_strength_n(thread.tex, thread.fibre),
        thread_price=read_price(reader, spec.thread_price, THREAD_PER),
        iron=_iron_words(iron, pitch_mm),
    )


def read_machines(reader: Reader, specs: tuple[MachineSpec, ...]) -> tuple[Machine, ...]:
    """The shop's sewing machines; what they can do is 0 where it is not said."""
    return tuple(
        Machine(
            name=spec.name,
            title=words(spec.title, spec.name.replace("-", " ")),
            needle_from_nm=reader.read(spec.needle_from, parse_needle) or 0,
            needle_to_nm=reader.read(spec.needle_to, parse_needle) or 0,
            lifts_mm=reader.length(spec.lifts) or 0.0,
            longest_stitch_mm=reader.pitch(spec.longest_stitch) or 0.0,
            bed=words(spec.bed),
        )
        for spec in specs
    )


def read_hardware(reader: Reader, specs: tuple[HardwareSpec, ...]) -> dict[str, Hardware]:
    """Hardware by name; items without words or count, or with a tongue that cannot be read, are left out (noted)."""
    hardware = {}
    for spec in specs:
        inside_mm, bar_mm = _read_opening(reader, spec)
        posts = [reader.length(value) for value in spec.posts]
        tongue_mm = reader.size(spec.tongue, TONGUE)
        if spec.what is None or spec.count is None or "tongue" in spec.wrong or (spec.tongue and not tongue_mm):
            continue
        hardware[spec.name] = Hardware(
            name=spec.name,
            what=spec.what.value,
            count=spec.count.value,
            finish=words(spec.finish),
            inside_mm=inside_mm or 0.0,
            bar_mm=bar_mm or 0.0,
            tongue_mm=tongue_mm or 0.0,
            posts_mm=tuple(post for post in posts if post is not None),
            note=words(spec.note),
            kind=words(spec.kind, find_kind(spec.what.value)),
            hole_mm=reader.size(spec.hole, PUNCH) or 0.0,
            weight_g=reader.amount(spec.weight, parse_weight),
            price=read_price(reader, spec.price, HARDWARE_PER),
            place=spec.place,
        )
    return hardware


def _read_opening(reader: Reader, spec: HardwareSpec) -> tuple[float | None, float | None]:
    """Inside width and thickness of the bar; a bar wider than the inside is noted."""
    inside_mm, bar_mm = reader.size(spec.inside, INSIDE), reader.size(spec.bar, BAR)
    if spec.bar and inside_mm and bar_mm and bar_mm > inside_mm:
        what = f"a bar of {format_mm(bar_mm)} is thicker than the fitting is wide inside, {format_mm(inside_mm)}"
        what += line_words(spec.inside.place.line if spec.inside else None)
        reader.error(spec.bar.place, what, "bar is how thick the bar is that a strap turns round")
    return inside_mm, bar_mm


def read_steps(
    reader: Reader, specs: tuple[StepSpec, ...], photos: Mapping[str, Photo], gone: Set[str], besides: Besides
) -> tuple[Step, ...]:
    """The steps, in order; references were checked when the spec was read. `gone` are names that a variant leaves out,
    `besides` what is sewn that no key of a step gives."""
    refuse_twice(reader, specs, besides)
    found = ((spec, read_timed(reader, spec, gone, besides)) for spec in specs)
    return tuple(
        Step(
            do=spec.do.value,
            group=words(spec.group),
            pieces=names(spec.pieces),
            skives=names(spec.skives),
            joins=names(spec.joins),
            seams=names(spec.seams),
            straps=names(spec.straps),
            hardware=names(spec.hardware),
            trimmings=names(spec.trimmings),
            tools=names(spec.tools),
            first=names(spec.first),
            last=names(spec.last),
            note=words(spec.note),
            place=spec.place,
            minutes=spec.minutes.value if spec.minutes else 0,
            order=names(spec.order),
            work=read_work(spec, timed),
            timed=timed,
            picture=photos.get(words(spec.picture)),
        )
        for spec, timed in found
        if spec.do is not None
    )


def read_photos(spec: Spec) -> dict[str, Photo]:
    """The pictures of the spec by their files."""
    held = dict(spec.files)
    return {
        file: Photo(file=file, digest=hashlib.sha256(held[file]).hexdigest()[:6].upper(), picture=picture)
        for file, picture in spec.pictures
    }


def read_care(reader: Reader, spec: CareSpec | None) -> Care:
    """The care card's size, sides, language, and the shop's own words."""
    if spec is None:
        return Care()
    card = words(spec.card, defaults.CARD)
    return Care(
        card=card,
        sides=_read_sides(reader, spec.sides, card),
        turn="short" if words(spec.turn, defaults.TURN) == "short" else "long",
        language=_read_language(reader, spec.language),
        load=words(spec.load),
        extra=words(spec.extra),
        repair=words(spec.repair),
        parts=_read_care_parts(reader, spec.parts),
        place=spec.card.place if spec.card else spec.place,
        extra_place=spec.extra.place if spec.extra else Place(),
        repair_place=spec.repair.place if spec.repair else Place(),
    )


def _read_sides(reader: Reader, sides: Count, card: str) -> int:
    if card not in defaults.TWO_SIDED_CARDS:
        return sides.value if sides else defaults.CARD_SIDES
    if sides and sides.value == 1:
        reader.error(sides.place, f"an {card} card has two sides", "leave sides out, or take another card")
    return 2


def _read_language(reader: Reader, language: Text) -> str:
    known = list_languages()
    if language is not None and language.value not in known:
        what = f'there is no care card in the language "{language.value}"'
        reader.error(language.place, what, f"write one of {', '.join(known)}")
        return defaults.LANGUAGE
    return words(language, defaults.LANGUAGE)


def _read_care_parts(reader: Reader, specs: tuple[CarePartSpec, ...]) -> tuple[CarePart, ...]:
    """Parts by id, each once (a second one is noted)."""
    parts: dict[str, CarePart] = {}
    for spec in specs:
        if spec.id is None or spec.text is None:
            continue
        if spec.id.value in parts:
            what = f'the care advice "{spec.id.value}" has words of the shop already'
            reader.error(spec.id.place, what, "put them into one part")
            continue
        parts[spec.id.value] = CarePart(
            id=spec.id.value,
            text=spec.text.value,
            is_instead=flag(spec.instead, defaults.IS_INSTEAD),
            place=spec.text.place,
        )
    return tuple(parts.values())
