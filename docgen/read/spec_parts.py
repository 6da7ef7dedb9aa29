"""A shop's own parts as written: what a spec says of one that it brings in, and what stands in the part's own file."""

from docgen.classes import dataclass
from docgen.read.kinds import key
from docgen.read.spec import AcceptSpec, HardwareSpec, MachineSpec, MaterialSpec, StepSpec
from docgen.read.spec_pieces import PieceSpec
from docgen.read.spec_sewing import IronSpec, JoinSpec, SeamSpec, StitchSpec, StrapSpec
from docgen.read.spec_trimmings import TrimmingSpec
from docgen.read.written import NamedLength, Table, Text


@dataclass(frozen=True, slots=True, kw_only=True)
class PartHeadSpec(Table):
    title: Text = key("text", "What the part is called.", required=True)
    caution: Text = key("note", "What to mind whenever it is made; it stands with the first of its steps.")


@dataclass(frozen=True, slots=True, kw_only=True)
class PartSpec:
    """The tables of a part's file: those of a spec that make something. A part brings no part."""

    part: PartHeadSpec | None = key("table", "What the part is.", of=PartHeadSpec, required=True)
    measures: tuple[NamedLength, ...] = key("measures", "Named lengths of the part.", most=300)
    materials: tuple[MaterialSpec, ...] = key("named tables", "Its materials.", of=MaterialSpec, most=50)
    stitches: tuple[StitchSpec, ...] = key("named tables", "Its stitches.", of=StitchSpec, most=30)
    irons: tuple[IronSpec, ...] = key("named tables", "Its pricking irons.", of=IronSpec, most=20)
    machines: tuple[MachineSpec, ...] = key("named tables", "Its machines.", of=MachineSpec, most=20)
    pieces: tuple[PieceSpec, ...] = key("named tables", "Its pieces.", of=PieceSpec, most=300)
    joins: tuple[JoinSpec, ...] = key("named tables", "Its joins.", of=JoinSpec, most=50)
    seams: tuple[SeamSpec, ...] = key("named tables", "Its seams.", of=SeamSpec, most=200)
    straps: tuple[StrapSpec, ...] = key("named tables", "Its straps.", of=StrapSpec, most=100)
    hardware: tuple[HardwareSpec, ...] = key("named tables", "Its hardware.", of=HardwareSpec, most=100)
    trimmings: tuple[TrimmingSpec, ...] = key("named tables", "Its goods by length.", of=TrimmingSpec, most=100)
    accept: tuple[AcceptSpec, ...] = key("tables", "Cautions that are all right in it.", of=AcceptSpec, most=100)
    steps: tuple[StepSpec, ...] = key("tables", "Its work, in order.", of=StepSpec, most=300)


NAMED = ("materials", "stitches", "irons", "machines", "pieces", "joins", "seams", "straps", "hardware", "trimmings")
"""Tables whose entries are brought in under names of their own."""
