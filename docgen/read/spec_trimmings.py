"""Goods by length as written: zips, webbing, elastic, cord, binding, bead."""

from docgen.classes import dataclass
from docgen.read.kinds import key
from docgen.read.written import Count, Length, Lengths, NamedTable, Names, Text
from docgen.tables import defaults
from docgen.tables.sizes import MOST_CUT
from docgen.tables.trimmings import SPARE, TRIMMING_KINDS
from docgen.written.units.telling import format_mm, format_percent


def _by_kind(figure: str) -> str:
    """What counts for each kind: "25 mm zip, webbing and cord; 10 mm elastic"."""
    kinds: dict[str, list[str]] = {}
    for name, kind in TRIMMING_KINDS.items():
        value = getattr(kind, figure)
        kinds.setdefault(str(value) if isinstance(value, int) else format_mm(value), []).append(name)
    return "; ".join(f"{value} {', '.join(names)}" for value, names in kinds.items())


@dataclass(frozen=True, slots=True, kw_only=True)
class TrimmingSpec(NamedTable):
    wrong: tuple[str, ...] = ()  # fields that were written and could not be read (noted)
    what: Text = key("text", 'What it is ("coil zip", "webbing, 25 mm").', required=True)
    kind: Text = key("choice", "What kind of goods.", choices=tuple(TRIMMING_KINDS), required=True)
    width: Length = key("length", "Width; of a zip across both tapes, closed.")
    thickness: Length = key("length", "Thickness of one layer; of a cord its diameter.", required=True)
    layers: Count = key(
        "count",
        "Layers of it that the needle goes through.",
        otherwise=f"by kind: {_by_kind('layers')}",
        least=0,
        most=4,
    )
    along: Names = key(
        "sides",
        'Edges that it lies along where no seam has it as a partner: "back: left bottom"; a piece of it is cut for each.',
        most=20,
    )
    length: Length = key(
        "length",
        "Length of one as it is cut; of a zip between its stops.",
        otherwise="from the seams that name it, or from along",
    )
    cut: Count = key("count", "How many of that length for one make.", default=defaults.CUT, least=1, most=MOST_CUT)
    ends: Length = key(
        "length",
        "Added at each end of its run, to be turned under, sewn in or knotted.",
        otherwise=f"by kind: {_by_kind('ends_mm')}",
    )
    stops: Length = key("length", "Zip: from each end of its run to its stop.", default=defaults.STOP_MM)
    relaxed: Text = key(
        "percent", "Elastic: its length before it is stretched, as a share of its run.", otherwise="100 %"
    )
    spare: Text = key("percent", "Bought on top of what is cut.", otherwise=format_percent(SPARE))
    ready: Lengths = key(
        "lengths",
        "Lengths in which it is sold, zips by their stops; the shortest that will do is bought.",
        otherwise="from the roll",
        most=40,
    )
    weight: Text = key("run-weight", "What a length of it weighs.")
    price: Text = key("price", "What it costs.", unit="a number for a length or each")
    finish: Text = key(
        "text",
        'What is done with its cut ends ("turned under 1/2 in twice and sewn across", "sealed with a flame").',
        otherwise="the usual choice, by kind",
    )
    note: Text = key("note", "Words for the cutting list.")
