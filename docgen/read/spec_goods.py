"""How goods are sold, as written: in a material of a spec, or under the name of the goods in the shop's own file."""

from docgen.classes import dataclass
from docgen.read.kinds import key
from docgen.read.svg.hide_drawing import HideDrawing
from docgen.read.written import Flag, Length, Lengths, NamedTable, Text
from docgen.tables import defaults
from docgen.tables.hides import SOLD


@dataclass(frozen=True, slots=True, kw_only=True)
class GoodsSpec(NamedTable):
    wrong: tuple[str, ...] = ()  # fields that were written and could not be read (noted)
    drawn: HideDrawing | None = None  # of goods in the shop's file, the hide in the drawing that is named there
    sold: Text = key(
        "choice",
        "How it is sold: leather as a side, butt, double butt, shoulder, double shoulder, whole hide or skin; else from "
        "the roll, or in panels.",
        choices=SOLD,
        otherwise="from the roll where it has a width, else by its area alone",
    )
    area: Text = key("area", "Hides: the area of one, from and to.", otherwise="usual for how it is sold")
    edge: Length = key("length", "Hides: length of the long straight edge.", otherwise="usual for how it is sold")
    firm: Length = key(
        "length", "Hides: how deep from the straight edge it is firm.", otherwise="usual for how it is sold"
    )
    faults: Text = key("percent", "Hides: share that faults usually take of one.", otherwise="none")
    measured: Lengths = key(
        "lengths",
        "Hides: how wide one is from the straight edge or across, at the tail and then every 200 mm up to the neck.",
        most=40,
    )
    size: Lengths = key("lengths", "Panels: the two sides of one, that along the grain last.", size=2)
    width: Length = key("length", "Usable width of goods sold by running length.")
    nap: Flag = key(
        "flag", "True: a nap or print lies one way, and all pieces stand upright.", default=defaults.HAS_NAP
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class ShopGoodsSpec(GoodsSpec):
    outline: Text = key(
        "text",
        "Hides: a drawing (SVG) of a usual one at full size, in the folder of the shop's file, with the ids hide and "
        "backbone, and fault-1, best, hidden-1 and so on where they are drawn.",
    )


GOODS_KEYS = ("area", "edge", "firm", "faults", "measured", "size", "width", "nap", "drawn")
"""What the shop's file may say of goods that a spec names, besides how they are sold."""
