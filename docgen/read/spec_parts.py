"""A shop's own parts as written: what a spec says of one that it brings in, and what stands in the part's own file."""

from docgen.classes import dataclass
from docgen.read.kinds import NUMBER_MOST, key
from docgen.read.spec import AcceptSpec, HardwareSpec, MachineSpec, MaterialSpec, StepSpec
from docgen.read.spec_pieces import LandingSpec, PieceSpec
from docgen.read.spec_sewing import IronSpec, JoinSpec, SeamSpec, StitchSpec, StrapSpec
from docgen.read.spec_trimmings import TrimmingSpec
from docgen.read.written import Count, Length, NamedLength, NamedTable, Table, Text


@dataclass(frozen=True, slots=True, kw_only=True)
class PartHeadSpec(Table):
    title: Text = key("text", "What the part is called.", required=True)
    caution: Text = key("note", "What to mind whenever it is made; it stands with the first of its steps.")


@dataclass(frozen=True, slots=True, kw_only=True)
class NumberSpec(NamedTable):
    what: Text = key("text", "What there are so many of.")
    number: Count = key("count", "How many, where a spec does not say.", least=0, most=NUMBER_MOST, required=True)
    least: Count = key("count", "The fewest there may be.", least=0, most=NUMBER_MOST, otherwise="0")
    most: Count = key("count", "The most there may be.", least=0, most=NUMBER_MOST, otherwise=f"{NUMBER_MOST}")


@dataclass(frozen=True, slots=True, kw_only=True)
class RangeSpec(NamedTable):
    what: Text = key("text", "What the measure is.")
    least: Length = key("length", "The least it may be.")
    most: Length = key("length", "The most it may be.")


@dataclass(frozen=True, slots=True, kw_only=True)
class PartLandingSpec(LandingSpec):
    on: Text = key("name", "Piece on which it lands, of the part or of the spec.", to="pieces", required=True)


@dataclass(frozen=True, slots=True, kw_only=True)
class PartSpec:
    """The tables of a part's file: those of a spec that make something. A part brings no part."""

    part: PartHeadSpec | None = key("table", "What the part is.", of=PartHeadSpec, required=True)
    numbers: tuple[NumberSpec, ...] = key("named tables", "Numbers that it asks for.", of=NumberSpec, most=20)
    measures: tuple[NamedLength, ...] = key("measures", "Named lengths of the part.", most=300)
    ranges: tuple[RangeSpec, ...] = key("named tables", "Between what its measures may lie.", of=RangeSpec, most=50)
    materials: tuple[MaterialSpec, ...] = key("named tables", "Its materials.", of=MaterialSpec, most=50)
    stitches: tuple[StitchSpec, ...] = key("named tables", "Its stitches.", of=StitchSpec, most=30)
    irons: tuple[IronSpec, ...] = key("named tables", "Its pricking irons.", of=IronSpec, most=20)
    machines: tuple[MachineSpec, ...] = key("named tables", "Its machines.", of=MachineSpec, most=20)
    pieces: tuple[PieceSpec, ...] = key("named tables", "Its pieces.", of=PieceSpec, most=300)
    landings: tuple[PartLandingSpec, ...] = key("tables", "What lands on which piece.", of=PartLandingSpec, most=50)
    joins: tuple[JoinSpec, ...] = key("named tables", "Its joins.", of=JoinSpec, most=50)
    seams: tuple[SeamSpec, ...] = key("named tables", "Its seams.", of=SeamSpec, most=200)
    straps: tuple[StrapSpec, ...] = key("named tables", "Its straps.", of=StrapSpec, most=100)
    hardware: tuple[HardwareSpec, ...] = key("named tables", "Its hardware.", of=HardwareSpec, most=100)
    trimmings: tuple[TrimmingSpec, ...] = key("named tables", "Its goods by length.", of=TrimmingSpec, most=100)
    accept: tuple[AcceptSpec, ...] = key("tables", "Cautions that are all right in it.", of=AcceptSpec, most=100)
    steps: tuple[StepSpec, ...] = key("tables", "Its work, in order.", of=StepSpec, most=300)


NAMED = ("materials", "stitches", "irons", "machines", "pieces", "joins", "seams", "straps", "hardware", "trimmings")
"""Tables whose entries are brought in under names of their own."""
