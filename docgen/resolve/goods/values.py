"""Goods, and what else a shop says of a build besides how it is cut and sewn."""

from typing import Literal

from docgen.classes import dataclass
from docgen.problems import Place
from docgen.read import HideDrawing, Picture
from docgen.tables.defaults import CARD, CARD_SIDES, CUT, LANGUAGE, TURN
from docgen.tables.hides import HIDES
from docgen.tables.trimmings import SPARE
from docgen.told import told, untold
from docgen.written.units.telling import format_areas, format_mm, format_percent

Turn = Literal["long", "short"]
Per = Literal["area", "length", "each", "hour"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Shop:
    """`mark` is the name mark, None where the shop has none."""

    name: str = told("name", default="")
    contact: str = told("contact", default="")
    link: str = told("link", default="")
    mark: Picture | None = untold(default=None)


@dataclass(frozen=True, slots=True, kw_only=True)
class Price:
    """`amount` for one mm2 (`per` "area"), one mm ("length"), one item ("each") or one hour ("hour"), without a
    currency; `words` as written."""

    amount: float
    per: Per
    words: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Goods:
    """How a material is sold: `sold` is a key of docgen.tables.hides.HIDES, ROLL or PANEL, or "" where it is not known.

    Of hides: the area of one, from and to, the length of the straight edge, how deep it is firm, and the share that faults
    take; `measured_mm` are its widths by the tape, MEASURED_EVERY_MM apart, or `drawn` is one. `width_mm` of a roll or
    panel lies across the grain, `length_mm` of a panel along it. With a nap all pieces stand upright. What does not
    belong to goods sold so is 0.
    """

    sold: str = ""
    least_mm2: float = 0.0
    most_mm2: float = 0.0
    edge_mm: float = 0.0
    firm_mm: float = 0.0
    faults: float = 0.0
    measured_mm: tuple[float, ...] = ()
    drawn: HideDrawing | None = None
    width_mm: float = 0.0
    length_mm: float = 0.0
    has_nap: bool = False

    @property
    def is_hide(self) -> bool:
        return self.sold in HIDES

    @property
    def is_struck(self) -> bool:
        """Hides without a straight edge: for straps one is struck along the backbone."""
        return self.is_hide and not HIDES[self.sold].has_edge

    @property
    def middle_mm2(self) -> float:
        return (self.least_mm2 + self.most_mm2) / 2

    @property
    def words(self) -> str:
        """All of it, as one version tells it beside another."""
        told = [self.sold or "by area"]
        if self.is_hide:
            told += [format_areas(self.least_mm2, self.most_mm2, "in"), f"edge {format_mm(self.edge_mm)}"]
            told += [
                f"firm {format_mm(self.firm_mm)}",
                *([f"faults {format_percent(self.faults)}"] * bool(self.faults)),
            ]
            told += [f"measured {', '.join(map(format_mm, self.measured_mm))}"] if self.measured_mm else []
            told += [f"drawn in {self.drawn.file}"] if self.drawn else []
        told += [format_mm(side) for side in (self.width_mm, self.length_mm) if side]
        return "; ".join([*told, *(["nap"] if self.has_nap else [])])


@dataclass(frozen=True, slots=True, kw_only=True)
class Material:
    """`waste` is the share of the hide or cloth that is lost; `roll_width_mm` is 0 for goods sold by area. `title` has the
    colour in it; `label` is what stands on templates that several variants share, without colour. Goods by length
    are `by_length`, cut and bought as such."""

    name: str = untold()
    title: str = told("title")
    label: str = untold(default="")
    kind: str = told("kind")
    tannage: str = told("tannage")
    finish: str = told("finish")
    thickness_mm: float = untold()
    thickness_words: str = told("thickness")
    waste: float = told("waste", "share")
    roll_width_mm: float = told("width of the goods", "length")
    note: str = told("note")
    density_g_cm3: float = told("density", "number", default=0.0)
    price: Price | None = told("price", default=None)
    goods: Goods = told("how it is sold", default=Goods())
    by_length: bool = untold(default=False)
    edges: str = told("cut edges", default="")


@dataclass(frozen=True, slots=True, kw_only=True)
class Machine:
    """`lifts_mm` is what fits under the raised foot; needles in 1/100 mm; 0 for what is not known. `bed` is
    "flat", "cylinder", "post", or empty."""

    name: str = untold()
    title: str = told("title")
    lifts_mm: float = told("lifts", "length", default=0.0)
    needle_from_nm: int = told("needle from", "needle", default=0)
    needle_to_nm: int = told("needle to", "needle", default=0)
    longest_stitch_mm: float = told("longest stitch", "length", default=0.0)
    bed: str = told("bed", default="")


@dataclass(frozen=True, slots=True, kw_only=True)
class Hardware:
    name: str = untold()
    what: str = told("what")
    count: int = told("number", "count")
    finish: str = told("finish")
    inside_mm: float = told("inside", "length")
    bar_mm: float = told("bar", "length")
    tongue_mm: float = told("tongue", "length", default=0.0)
    posts_mm: tuple[float, ...] = untold()
    note: str = told("note")
    kind: str = told("kind", default="other")
    hole_mm: float = told("hole", "length", default=0.0)
    weight_g: float = told("weight in grams", "number", default=0.0)
    price: Price | None = told("price", default=None)
    place: Place = untold(default=Place())


@dataclass(frozen=True, slots=True, kw_only=True)
class TrimmingCut:
    """One length that is cut: along the run of `seams`, as often as they are sewn, or `count` of them for one make,
    across `joins` or `where` in words; `on` is the piece on which it is laid flat. `between_mm` is that of a zip from
    stop to stop, 0 of other goods; `crossed_mm` what of its run, where it begins and where it ends, lies outside rows
    that are sewn across it later; `caught` at how many of its ends such a row catches a binding; `ready_mm` the length
    that is bought for it, 0 from the roll."""

    run_mm: float
    length_mm: float
    where: str = ""
    on: str = ""
    seams: tuple[str, ...] = ()
    joins: tuple[str, ...] = ()
    count: int = 0
    between_mm: float = 0.0
    crossed_mm: tuple[float, float] = (0.0, 0.0)
    caught: int = 0
    ready_mm: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Trimming:
    """`layers` of it lie under the needle, each `thickness_mm`. `written_mm` is the length that the spec gives, 0 where it
    follows from where it is sewn. `relaxed` is the length before stretching and `spare` what is bought besides, both as
    shares."""

    name: str = untold()
    what: str = told("what")
    kind: str = told("kind")
    width_mm: float = told("width", "length")
    thickness_mm: float = told("thickness", "length")
    layers: int = told("layers under the needle", "count")
    written_mm: float = told("length", "length", default=0.0)
    number: int = told("number", "count", default=CUT)
    ends_mm: float = told("added at each end", "length", default=0.0)
    stops_mm: float = told("stops from the ends", "length", default=0.0)
    relaxed: float = told("relaxed", "share", default=1.0)
    spare: float = told("spare", "share", default=SPARE)
    weight_g_mm: float = told("weight in grams for one mm", "number", default=0.0)
    ready_mm: tuple[float, ...] = untold(default=())
    price: Price | None = told("price", default=None)
    finish: str = told("finish of its ends", default="")
    note: str = told("note", default="")
    cuts: tuple[TrimmingCut, ...] = untold(default=())
    place: Place = untold(default=Place())


@dataclass(frozen=True, slots=True, kw_only=True)
class Inside:
    """Room inside, after lining and foam."""

    width_mm: float = told("width", "length")
    height_mm: float = told("height", "length")
    depth_mm: float = told("depth", "length")


@dataclass(frozen=True, slots=True, kw_only=True)
class Held:
    """A thing that goes in: its size as written, width, height, depth; whether it fits, turned as need be."""

    what: str
    size_mm: tuple[float, float, float]
    fits: bool
    place: Place = Place()


@dataclass(frozen=True, slots=True, kw_only=True)
class Weight:
    """What one material, one kind of hardware, or one of the goods by length weighs in one make."""

    name: str
    grams: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Costs:
    """`currency` is a word that stands beside the sums; `labour` for one hour, None where it is not said."""

    currency: str = told("currency", default="")
    labour: Price | None = told("labour", default=None)


@dataclass(frozen=True, slots=True, kw_only=True)
class CarePart:
    """Advice in the shop's own words, in place of the card's (`is_instead`) or after them."""

    id: str
    text: str
    is_instead: bool = False
    place: Place = Place()


@dataclass(frozen=True, slots=True, kw_only=True)
class Care:
    """The care card as the shop wants it: size, sides, the paper's edge it is turned about, and its own words.

    `load` is what the shop says it may carry, "" where it says nothing.
    """

    card: str = told("card", default=CARD)
    sides: int = told("sides", default=CARD_SIDES)
    turn: Turn = told("turn", default=TURN)
    language: str = told("language", default=LANGUAGE)
    load: str = told("load", default="")
    extra: str = told("extra", default="")
    repair: str = told("repair", default="")
    parts: tuple[CarePart, ...] = told("parts", default=())
    place: Place = untold(default=Place())
    extra_place: Place = untold(default=Place())
    repair_place: Place = untold(default=Place())


@dataclass(frozen=True, slots=True, kw_only=True)
class Photo:
    """A maker's own picture and the name of its file. It is told by that name and the start of its digest, so that
    another picture of one name is another."""

    file: str
    digest: str
    picture: Picture

    @property
    def words(self) -> str:
        return f"{self.file} ({self.digest})"
