"""Checks of goods by length, thread, ease and prices: figures beyond what is sold, or what a seam needs."""

import re
from collections.abc import Iterator

from docgen.checks.trade.check import PRACTICE, Found, Subject, check
from docgen.tables import usual
from docgen.tables.hides import ROLL
from docgen.written.units.telling import format_mm, format_number, format_percent

_LEAST_TEX, _MOST_TEX = usual.THREAD_TEX
WIDE_RE = re.compile(r"([0-9]+(?:\.[0-9]+)?) ?mm\b")


@check(
    "trimming-unusual",
    "Goods by length are as thick and as wide as their kind is sold: "
    + ", ".join(
        f"{kind} {format_mm(thin)} to {format_mm(thick)} thick and {format_mm(narrow)} to {format_mm(wide)} wide"
        for kind, ((thin, thick), (narrow, wide)) in usual.TRIMMINGS_MM.items()
    )
    + ".",
    'handwiki.org, "Webbing", for webbing; the others common practice, no published source',
)
def find_odd_trimmings(subject: Subject) -> Iterator[Found]:
    specs = {spec.name: spec for spec in subject.spec.trimmings}
    for item in subject.build.trimmings:
        thick, wide = usual.TRIMMINGS_MM[item.kind]
        spec = specs[item.name]
        for value, mm, (least, most), how in (
            (spec.thickness, item.thickness_mm, thick, "thick"),
            (spec.width, item.width_mm, wide, "wide"),
        ):
            if value is not None and mm and not least - 1e-6 <= mm <= most + 1e-6:
                sold = f"{format_mm(least)} to {format_mm(most)}"
                what = f'"{item.name}" is {subject.length(mm)} {how}, and a {item.kind} is {sold}'
                yield value.place, what, "look at the figure and its unit", item.name


@check("zip-short", "A zip is {shortest_zip} long or longer.", PRACTICE, needs_whole=True)
def find_short_zips(subject: Subject) -> Iterator[Found]:
    for item in subject.build.trimmings if any(item.kind == "zip" for item in subject.build.trimmings) else ():
        cuts = [cut for cut in item.cuts if item.kind == "zip" and cut.run_mm]
        runs = [min(cut.run_mm, cut.length_mm - 2 * item.ends_mm) for cut in cuts]
        if runs and min(runs) < subject.build.limits.shortest_zip_mm - 1e-6:
            what = f'the zip "{item.name}" lies along {subject.length(min(runs))}, and none is sold so short'
            yield item.place, what, "look at the sizes of what it is sewn to", item.name


@check(
    "thread-unusual",
    f"Thread for leather is of Tex {_LEAST_TEX:g} to {_MOST_TEX:g}, flat thread "
    f"{format_mm(usual.FLAT_THREAD_MM)} or narrower.",
    PRACTICE,
)
def find_odd_sizes(subject: Subject) -> Iterator[Found]:
    for stitch in subject.build.stitches:
        wide = WIDE_RE.match(stitch.thread_words)
        is_flat = stitch.by == "hand" and wide is not None and float(wide[1]) <= usual.FLAT_THREAD_MM
        if not _LEAST_TEX <= stitch.thread_tex <= _MOST_TEX and not is_flat:
            what = f'{stitch.thread_words} of "{stitch.name}" is Tex {format_number(stitch.thread_tex, 0)}'
            yield subject.place_of(stitch, "thread"), what, "look at the number on the spool", stitch.name


@check(
    "ease-unused",
    f"Of the ease that is written a seam needs {format_percent(usual.LEAST_EASE_USED)} or more, and eases in at most "
    f"{format_percent(usual.MOST_EASE_SHARE)} of its length.",
    "our choice: what is not needed hides what does not fit",
    needs_whole=True,
)
def find_idle_ease(subject: Subject) -> Iterator[Found]:
    written = {spec.name: spec.ease for spec in subject.spec.seams}
    for seam in subject.build.seams:
        value = written[seam.name]
        if value is None or not seam.ease_mm:
            continue
        need, may = subject.length(seam.eased_mm), subject.length(seam.ease_mm)
        if seam.eased_mm < usual.LEAST_EASE_USED * seam.ease_mm:
            what = f'the seam "{seam.name}" may be eased by {may}, and its sides differ by {need}'
            yield value.place, what, "write what is meant to be eased in, or leave ease out", seam.name
        elif seam.eased_mm > usual.MOST_EASE_SHARE * seam.length_mm:
            what = f'the seam "{seam.name}" is {subject.length(seam.length_mm)} long, and {need} are eased in'
            yield value.place, what, "measure both sides again, or accept that it is gathered", seam.name


@check(
    "price-per-other",
    "Goods without a width are sold by area or by the hide, those of a width by length or area.",
    "plain from the goods",
)
def find_odd_prices(subject: Subject) -> Iterator[Found]:
    specs = {spec.name: spec for spec in subject.spec.materials}
    for material in subject.build.materials:
        value, price = specs[material.name].price, material.price
        if value is not None and price is not None and not material.roll_width_mm and price.per == "length":
            what = f'"{material.name}" costs {price.words}, and has no width: it is bought by area'
            yield value.place, what, "write the price per sq ft or per m2, or the width of the roll", material.name
        elif value is not None and price is not None and price.per == "each" and material.goods.sold in ("", ROLL):
            goods = "by length" if material.roll_width_mm else "by area"
            what = f'"{material.name}" costs {price.words}, and it is bought {goods}'
            yield value.place, what, "write the price per sq ft, per m2 or per m, or sold = how it comes", material.name
