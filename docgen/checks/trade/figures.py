"""Checks of figures that are hardly ever meant: a digit, a point or a unit that may have slipped. Each asks once."""

import math
import re
from collections.abc import Iterable, Iterator

from docgen.checks.trade.check import PRACTICE, Found, Subject, check
from docgen.geometry.outline import outline_box
from docgen.problems import Place
from docgen.resolve import Material, SeamSide
from docgen.tables import usual
from docgen.tables.hardware import KINDS_THAT_SPOIL
from docgen.tables.thread import NEEDLE_SIZES, OTHER_NUMBERS, format_needle
from docgen.written.units.table import MM_PER_OUNCE
from docgen.written.units.telling import format_fine, format_mm, format_number, format_percent, format_thickness

OUNCES_RE = re.compile(r"(?P<figure>[\d ./]+?)\s*(?:oz|ounces?)\b", re.I)
FIGURE_RE = re.compile(r"\d+(?:\.\d+)?")
PAIR_RE = re.compile(r"(?:nm *)?(\d{2,3}) */ *(\d{1,2})", re.I)
SHORT_WORD = 3  # words of so many letters are like too many others
ALIKE = 0.8  # how alike two words are before the one is taken for the other misspelt


@check(
    "thickness-unusual",
    "Goods are as thick as their kind is sold: leather {leather_thickness}, cloth {fabric_thickness}, foam "
    "{foam_thickness}, board {board_thickness}; cloth, foam and board are not measured in ounces.",
    "fineleatherworking.com, chart of ounces, for the thickest leather; the others common practice, no published source",
)
def find_odd_thicknesses(subject: Subject) -> Iterator[Found]:
    """Once for a material, at its thickness; with what it would be in the other unit or with a point."""
    written = {spec.name: spec.thickness for spec in subject.spec.materials}
    for material in subject.build.materials:
        least_mm, most_mm = subject.build.limits.thickness_mm(material.kind)
        is_ounces = material.kind != "leather" and OUNCES_RE.search(material.thickness_words)
        thickest_mm = max([material.thickness_mm, *_range_mm(material.thickness_words)])
        if not is_ounces and least_mm - 1e-6 <= material.thickness_mm and thickest_mm <= (most_mm or 1e9) + 1e-6:
            continue
        thick = format_thickness(material.thickness_mm, material.kind, subject.show, material.thickness_words)
        limits = f"{format_mm(least_mm)} to {format_mm(most_mm)}" if most_mm else f"{format_mm(least_mm)} or more"
        what = f'"{material.name}" is {material.kind}, {thick} thick, and {material.kind} is sold from {limits}'
        if is_ounces:
            what = f'"{material.name}" is {material.kind}, and {material.thickness_words} is no thickness of it'
        value = written[material.name]
        place = value.place if value else Place()
        yield place, what, _thickness_mend(subject, material, least_mm, most_mm), material.name


def _range_mm(words: str) -> list[float]:
    """The figures of a range in mm."""
    figures = [float(figure) for figure in FIGURE_RE.findall(words)]
    return figures if len(figures) > 1 and words.strip().endswith("mm") else []


def _thickness_mend(subject: Subject, material: Material, least_mm: float, most_mm: float | None) -> str:
    """The same figures in the other unit, or with a point, where that is a usual thickness: leather in ounces first
    where the spec shows inches."""
    words = material.thickness_words
    figures = [float(figure) for figure in FIGURE_RE.findall(words)]
    top_mm = most_mm or 1e9
    ways = []
    if material.kind == "leather" and not OUNCES_RE.search(words):
        ways += [(max(figures) * MM_PER_OUNCE, re.sub(r"\s*[a-z]+$", " oz", words))]
    split = _split_range(words)
    if split:
        ways += [(max(map(float, split)) * MM_PER_OUNCE, f"{split[0]}-{split[1]} oz")]
    if len(figures) == 1:
        ways += [(mm, f"{format_number(mm, 2)} mm") for mm in (figures[0], figures[0] / 10)]
    good = [said for mm, said in ways if least_mm <= mm <= top_mm and said != words]
    if subject.show == "mm":
        good.sort(key=lambda said: said.endswith("oz"))
    if not good:
        return "measure it in mm, or write another range in [limits]"
    others = "".join(f', or "{said}"' for said in good[1:])
    return f'write thickness = "{good[0]}"{others}, if that is meant; else measure it in mm'


def _split_range(words: str) -> tuple[str, str] | None:
    """The two figures of "45 oz", which lost the stroke between them: leather is sold from one ounce to the next."""
    found = re.fullmatch(r"(\d{1,2}?)(\d{1,2}) ?oz", words.strip())
    return (found[1], found[2]) if found and int(found[2]) == int(found[1]) + 1 else None


@check("ounces-uneven", "Ounces of leather are whole or half ones.", PRACTICE)
def find_odd_ounces(subject: Subject) -> Iterator[Found]:
    """Thicknesses of leather and of skives like "1.6 oz": a figure in mm, most likely."""
    kinds = {spec.name: spec.kind.value if spec.kind else "" for spec in subject.spec.materials}
    written = [
        (spec.thickness, "thickness", spec.name) for spec in subject.spec.materials if kinds[spec.name] == "leather"
    ]
    written += [(skive.to, "to", piece.name) for piece in subject.spec.pieces for skive in piece.skives]
    for value, key, name in written:
        found = OUNCES_RE.fullmatch(value.value.strip()) if value else None
        if value is None or found is None or not re.fullmatch(r"\d+\.\d+", found["figure"].strip()):
            continue
        figure = float(found["figure"])
        if 2 * figure % 1 > 1e-6 and figure < usual.GOODS_MM["leather"][1]:
            what = f'"{name}" says {value.value}, and leather goes by whole and half ounces'
            yield value.place, what, f'write {key} = "{found["figure"]} mm", if mm are meant', name


@check(
    "density-unusual",
    "Goods weigh what their kind weighs: leather {leather_density}, cloth {fabric_density}, foam {foam_density}, board "
    "{board_density}.",
    PRACTICE,
)
def find_odd_densities(subject: Subject) -> Iterator[Found]:
    written = {spec.name: spec.density for spec in subject.spec.materials}
    for material in subject.build.materials:
        least, most = (
            subject.build.limits.densities_g_cm3(material.kind)[0],
            subject.build.limits.densities_g_cm3(material.kind)[1] or math.inf,
        )
        value = written[material.name]
        if value is not None and not least - 1e-6 <= material.density_g_cm3 <= most + 1e-6:
            density = format_fine(material.density_g_cm3, 2)
            what = f'"{material.name}" weighs {density} g/cm3, and {material.kind} weighs {least:g} to {most:g}'
            yield value.place, what, "leave density out, or weigh a piece of it", material.name


@check(
    "waste-unusual",
    f"Of a hide {format_percent(usual.LEAST_WASTE['leather'])} or more is lost, of a roll "
    f"{format_percent(usual.LEAST_OTHER_WASTE)}, unless it is nothing; and at most {{most_waste}}.",
    'leather-dictionary.com, "Leather cutting waste" (30 to 45 %, up to 80 % with the largest panels), '
    "keleenleathers.com (50 % with large panels): warned at the cautious end; the least: common practice, no published "
    "source",
)
def find_odd_wastes(subject: Subject) -> Iterator[Found]:
    most = subject.build.limits.most_waste
    written = {spec.name: spec.waste for spec in subject.spec.materials}
    for material in subject.build.materials:
        least = usual.LEAST_WASTE.get(material.kind, usual.LEAST_OTHER_WASTE)
        value = written[material.name]
        is_usual = material.waste == 0 or least - 1e-9 <= material.waste <= most + 1e-9
        if value is not None and not is_usual:
            usually = f"{format_percent(least)} to {format_percent(most)}"
            what = f'{format_percent(material.waste)} of "{material.name}" is lost in cutting, and usual is {usually}'
            yield value.place, what, "look at the figure; leave waste out for the usual share", material.name


@check(
    "piece-larger-than-hide",
    "A piece comes out of a hide of {hide_long} by {hide_wide}, a strap out of a side of {hide_strap}.",
    'greengate.co.uk, "Leathers", for the hide; weaverleathersupply.com, "strap yield chart", for straps',
)
def find_large_pieces(subject: Subject) -> Iterator[Found]:
    """All of them in one problem, at the largest."""
    found: list[tuple[float, Found]] = []
    limits = subject.build.limits
    for piece in subject.build.cut:
        material = subject.material(piece)
        box = outline_box(piece.outline)
        short_mm, long_mm = sorted((box.width, box.height))
        is_strap = piece.is_strap or short_mm <= subject.build.limits.widest_strap_mm
        most_mm = limits.hide_strap_mm if is_strap else limits.hide_long_mm
        if material and material.kind == "leather" and (long_mm > most_mm or short_mm > limits.hide_wide_mm):
            size = f"{subject.length(box.width)} by {subject.length(box.height)}"
            hide = "a strap" if is_strap else "a hide"
            what = f'"{piece.name}" is {size}, larger than {hide} is cut'
            place = subject.size_place(piece, is_across=box.width > box.height)
            mend = "look at the figures and their units, or join it from strips"
            found.append((box.width * box.height, (place, what, mend, piece.name)))
    if found:
        _, (place, what, mend, name) = max(found, key=lambda one: one[0])
        others = ", ".join(f'"{other}"' for _, (_, _, _, other) in found if other != name)
        yield place, what + (f"; too large as well: {others}" if others else ""), mend, name


@check(
    "strap-unusual",
    f"A strap is {format_mm(usual.NARROWEST_STRAP_MM)} wide or wider, wider than it is thick, no wider than "
    "{widest_strap}, and longer than it is wide.",
    PRACTICE,
)
def find_odd_straps(subject: Subject) -> Iterator[Found]:
    specs = {spec.name: spec for spec in subject.spec.straps}
    for strap in subject.build.straps:
        spec = specs[strap.name]
        least_mm = max(strap.thickness_mm, usual.NARROWEST_STRAP_MM)
        is_wide, is_narrow = (
            strap.width_mm > subject.build.limits.widest_strap_mm + 1e-6,
            strap.width_mm < least_mm - 1e-6,
        )
        width, thick, length = map(subject.length, (strap.width_mm, strap.thickness_mm, strap.finished_mm))
        if (is_wide or is_narrow) and spec.width:
            beside = f", and {thick} thick" if is_narrow else ""
            what = f'the strap "{strap.name}" is {width} wide{beside}'
            yield spec.width.place, what, "look at the figure and its unit", strap.name
        elif not strap.keeper_for and 0 < strap.finished_mm < strap.width_mm - 1e-6:
            value = spec.finished or spec.wears or spec.width
            what = f'the strap "{strap.name}" is {length} long when made up, and {width} wide'
            place = value.place if value else strap.piece.place
            yield place, what, "look at both figures and their units", strap.name


@check(
    "lap-wide",
    "Edges lie at most {widest_lap} over each other.",
    "makers' rules of 8 to 15 mm, common practice, no published source; twice that",
)
def find_wide_laps(subject: Subject) -> Iterator[Found]:
    for join in subject.build.joins:
        if join.overlap_mm > subject.build.limits.widest_lap_mm + 1e-6:
            what = f'the strips of "{join.name}" lie {subject.length(join.overlap_mm)} over each other'
            yield join.overlap_place, what, "look at the figure and its unit", join.name
    laps = {spec.name: spec.lap for spec in subject.spec.seams}
    for seam in subject.build.seams:
        most_mm, value = max(side.lap_mm for side in seam.sides), laps[seam.name]
        if value is not None and most_mm > subject.build.limits.widest_lap_mm + 1e-6:
            what = f'the edges of the seam "{seam.name}" lie {subject.length(most_mm)} over each other'
            yield value.place, what, "look at the figure and its unit", seam.name


@check(
    "hardware-unusual",
    "The bar of a ring or buckle is no thicker than {thickest_bar} and thinner than its inside; posts are {post_lengths} "
    "long.",
    PRACTICE,
)
def find_odd_hardware(subject: Subject) -> Iterator[Found]:
    specs = {spec.name: spec for spec in subject.spec.hardware}
    for item in subject.build.hardware:
        spec = specs[item.name]
        if spec.bar and item.bar_mm > min(subject.build.limits.thickest_bar_mm, item.inside_mm or 1e9) + 1e-6:
            what = f'the bar of "{item.name}" is {subject.length(item.bar_mm)} thick'
            inside = f", and its inside {subject.length(item.inside_mm)}" if item.inside_mm else ""
            yield spec.bar.place, what + inside, "measure the wire itself, where the strap turns round it", item.name
        least_mm, most_mm = subject.build.limits.post_lengths_mm[0], subject.build.limits.post_lengths_mm[1] or math.inf
        odd = [mm for mm in item.posts_mm if not least_mm - 1e-6 <= mm <= most_mm + 1e-6]
        if odd and spec.posts:
            place = next(value.place for value, mm in zip(spec.posts, item.posts_mm, strict=True) if mm == odd[0])
            what = f'a post of "{item.name}" is {subject.length(odd[0])} long'
            yield place, what, "look at the figure and its unit", item.name


@check(
    "hardware-weight",
    f"A rivet, snap or eyelet weighs at most {usual.MOST_RIVET_G:g} g, any other fitting at most "
    f"{usual.MOST_FITTING_G:g} g.",
    PRACTICE,
)
def find_odd_weights(subject: Subject) -> Iterator[Found]:
    """A point or a unit that has slipped in the weight of hardware."""
    specs = {spec.name: spec for spec in subject.spec.hardware}
    for item in subject.build.hardware:
        most_g = usual.MOST_RIVET_G if item.kind in KINDS_THAT_SPOIL else usual.MOST_FITTING_G
        value = specs[item.name].weight
        if value is not None and item.weight_g > most_g + 1e-6:
            what = f'one of "{item.name}" weighs {item.weight_g:g} g, and {most_g:g} g are usual at most'
            yield value.place, what, "weigh ten of them, or look at the unit", item.name


@check(
    "machine-unusual",
    "What goes under a foot is {foot_lift}, and a needle's two numbers belong together.",
    "shoemaking.wiki, Sewing Machine Needle Sizing, for the pairs; the lift: common practice, no published source",
)
def find_odd_machines(subject: Subject) -> Iterator[Found]:
    lifts = {machine.name: machine.lifts_mm for machine in subject.build.machines}
    least_mm, most_mm = subject.build.limits.foot_lift_mm[0], subject.build.limits.foot_lift_mm[1] or math.inf
    for spec in subject.spec.machines:
        lift_mm = lifts.get(spec.name, 0.0)
        if spec.lifts and not least_mm - 1e-6 <= lift_mm <= most_mm + 1e-6:
            what = f'"{spec.name}" sews {subject.length(lift_mm)}'
            yield spec.lifts.place, what, "look at the figure and its unit", spec.name
    values = [(value, spec.name) for spec in subject.spec.stitches for value in (spec.needle,)]
    values += [(value, spec.name) for spec in subject.spec.machines for value in (spec.needle_from, spec.needle_to)]
    for value, name in values:
        pair = PAIR_RE.fullmatch(value.value.strip()) if value else None
        if value is None or pair is None:
            continue
        metric, number = int(pair[1]), int(pair[2])
        old = [size for size, one in NEEDLE_SIZES.items() if one == number]
        if metric not in NEEDLE_SIZES and old:
            what = f"the numbers of needle {value.value} do not belong together: {number} is {format_needle(old[0])}"
            yield value.place, what, f"write {format_needle(old[0])}, if that stands on the packet", name
            continue
        if metric in NEEDLE_SIZES and number not in (NEEDLE_SIZES[metric], *OTHER_NUMBERS.get(metric, ())):
            named = [size for size, old in NEEDLE_SIZES.items() if old == number]
            other = f", and {number} is {format_needle(named[0])}" if named else ""
            what = f"the numbers of needle {value.value} do not belong together: {metric} is {format_needle(metric)}{other}"
            meant = f", or {format_needle(named[0])}" if named else ""
            yield value.place, what, f"write {format_needle(metric)}{meant}, whichever stands on the packet", name


@check(
    "inset-unusual",
    "A stitch line lies at most {most_inset} from its cut edge, or within the hem that it holds.",
    PRACTICE,
    needs_whole=True,
)
def find_far_lines(subject: Subject) -> Iterator[Found]:
    hems: dict[str, float] = {}
    for seam in subject.build.seams:
        turned = [_hem_mm(subject, side) for side in seam.sides if side.edges]
        hems[seam.stitch] = min(hems.get(seam.stitch, math.inf), max(turned, default=0.0))
    for stitch in subject.build.stitches:
        if stitch.inset_mm > max(subject.build.limits.most_inset_mm, hems.get(stitch.name, 0.0)) + 1e-6:
            what = f'the stitch "{stitch.name}" lies {subject.length(stitch.inset_mm)} from the cut edge'
            yield subject.place_of(stitch, "inset"), what, "look at the figure and its unit", stitch.name


def _hem_mm(subject: Subject, side: SeamSide) -> float:
    """How deep the edges of a side are turned over; of a join those of its strips."""
    hems = [hem for piece in subject.parts.strips(side.part) for hem in piece.hems]
    return max((hem.depth_mm for hem in hems if {*hem.edges} & {*side.edges}), default=0.0)


@check("time-unusual", f"A step takes at most {usual.MOST_MINUTES} minutes for one make.", PRACTICE)
def find_long_steps(subject: Subject) -> Iterator[Found]:
    for number, spec in enumerate(subject.spec.steps, start=1):
        if spec.minutes and spec.minutes.value > usual.MOST_MINUTES:
            what = f"step {number} takes {spec.minutes.value} minutes for one make, and {usual.MOST_MINUTES} are a long day"
            yield spec.minutes.place, what, "write minutes; a longer step is better told as two", ""


@check(
    "thread-length-unusual",
    f"A bobbin holds {usual.BOBBIN_M[0]:g} to {usual.BOBBIN_M[1]:g} m of thread, a spool {usual.SPOOL_M[0]:g} to "
    f"{usual.SPOOL_M[1]:g} m.",
    PRACTICE,
)
def find_odd_spools(subject: Subject) -> Iterator[Found]:
    specs = {spec.name: spec for spec in subject.spec.stitches}
    for stitch in subject.build.stitches:
        spec = specs[stitch.name]
        for what, value, mm, (least, most) in (
            ("bobbin", spec.bobbin, stitch.bobbin_mm, usual.BOBBIN_M),
            ("spool", spec.spool, stitch.spool_mm, usual.SPOOL_M),
        ):
            if value is not None and mm and not least <= mm / 1000 <= most:
                told = f'the {what} of "{stitch.name}" holds {mm / 1000:g} m, and usual is {least:g} to {most:g}'
                yield (
                    value.place,
                    told,
                    "look at the figure and its unit; left out, it is reckoned by weight",
                    stitch.name,
                )


def _find_near(word: str, known: Iterable[str]) -> list[str]:
    import difflib

    return difflib.get_close_matches(word, known, n=1, cutoff=ALIKE)


@check("currency-misspelt", "The money is written as it is known; other words are taken as they are.", "by likeness")
def find_misspelt_currency(subject: Subject) -> Iterator[Found]:
    value = subject.spec.costs.currency if subject.spec.costs else None
    if value is not None and value.value not in usual.CURRENCIES:
        near = _find_near(value.value, usual.CURRENCIES)
        if near and len(value.value) > SHORT_WORD:
            yield value.place, f'the money "{value.value}" is not known', f'did you mean "{near[0]}"?', ""


@check(
    "metal-misspelt", "Metals and platings are spelt as they are known; others are taken as they are.", "by likeness"
)
def find_misspelt_metals(subject: Subject) -> Iterator[Found]:
    for spec in subject.spec.hardware:
        words = " ".join(spec.finish.value.lower().split()) if spec.finish else ""
        if not words or words in usual.METALS or spec.finish is None:
            continue
        near = _find_near(words, usual.METALS)
        if near and not words.endswith(f" {near[0]}"):  # a known one with a word before it is spelt as it is known
            what = f'the finish "{words}" of "{spec.name}" is not known, and the care card says what is known of it'
            yield spec.finish.place, what, f'did you mean "{near[0]}"?', spec.name
