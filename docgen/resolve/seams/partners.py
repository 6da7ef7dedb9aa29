"""Partners of a seam as written: part, edges, and of these perhaps a part from one point to another."""

import re
from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import replace

from docgen.geometry.nearest import Stretch, distance_on_run
from docgen.geometry.outline import WHOLE, corner_names, edge_names, edge_path, outline_box
from docgen.geometry.path import path_length
from docgen.geometry.shapes import Outline
from docgen.problems import Place, line_words, suggest
from docgen.read import NotchSpec, PieceSpec, SeamSpec, Value
from docgen.resolve.pieces.marks import distance_along, neighbours
from docgen.resolve.seams.seam import SeamSide
from docgen.resolve.values import Reader, refuse_part, words
from docgen.written.measures import evaluate_length, find_names
from docgen.written.units.numbers import WrittenError
from docgen.written.units.table import MM_PER_INCH
from docgen.written.units.telling import Show, format_mm, format_number

LEAST_MM = 0.5  # a part shorter than this is a slip
STRETCH_MEND = 'write for example "left from top 2 in to bottom"'
_SIDE = re.compile(r"(?P<part>[A-Za-z0-9-]+)(?:\s+(?P<copy>[1-9]\d{0,2}))?\s*(?::\s*(?P<edges>.+))?")
_EDGES = re.compile(r"(?P<edges>[A-Za-z0-9-]+(?:\s+[A-Za-z0-9-]+)*?)(?:\s+from\s+(?P<begin>.+?)\s+to\s+(?P<end>.+))?")
_AWAY = r"(?P<edge>[a-z][a-z0-9-]*)(?:\s+(?P<length>\S.*))?"
_NOTCH = r"(?:the )?notch\s+(?P<name>[a-z][a-z0-9-]*)"

Notches = Mapping[str, Mapping[str, NotchSpec]]
"""The notches with a name, by piece."""


Partners = tuple[SeamSide, ...]
"""The sides of a seam as written, not yet measured."""


def read_partners(reader: Reader, spec: SeamSpec, parts: Collection[str]) -> Partners | None:
    """Partners of one seam; `parts` are the names of all that can be one. None when any is wrong."""
    partners = [read_partner(reader, value, parts) for value in spec.meet]
    good = tuple(partner for partner in partners if partner is not None)
    if len(good) != len(partners) or not good or "meet" in spec.wrong:
        return None
    if not any(partner.edges for partner in good):
        what = f'the seam "{spec.name}" names no edges'
        reader.error(good[0].place, what, 'write for example "back: left bottom right"')
        return None
    lap_mm = reader.length(spec.lap, zero=True) or 0.0
    first = next(index for index, partner in enumerate(good) if partner.edges)
    return tuple(replace(side, lap_mm=lap_mm if index != first else 0.0) for index, side in enumerate(good))


def read_partner(reader: Reader, value: Value[str], parts: Collection[str]) -> SeamSide | None:
    """One partner; None where it cannot be read, or is not there (noted)."""
    match = _SIDE.fullmatch(value.value.strip())
    edges = _EDGES.fullmatch(match["edges"].strip()) if match and match["edges"] else None
    if match is None or (match["edges"] and edges is None):
        what = "cannot read this partner of the seam"
        reader.error(value.place, what, 'write "piece: edges", for example "back: left bottom right"')
        return None
    if match["part"] not in parts:
        refuse_part(reader, value.place, match["part"], parts)
        return None
    names = tuple(edges["edges"].split()) if edges else ()
    if "from" in names or "to" in names:
        reader.error(value.place, "cannot tell from where to where this part of the edge goes", STRETCH_MEND)
        return None
    ends = (edges["begin"].strip(), edges["end"].strip()) if edges and edges["begin"] else None
    return SeamSide(part=match["part"], edges=names, place=value.place, copy=int(match["copy"] or 0), ends=ends)


def tell_ends(reader: Reader, side: SeamSide, show: Show) -> SeamSide:
    """The side with lengths in place of measures where it says from where to where it goes: what is printed, and can be
    read again."""
    if side.ends is None:
        return side
    begin, end = (_tell_end(reader, words_of, show) for words_of in side.ends)
    return replace(side, ends=(begin, end))


def _tell_end(reader: Reader, words_of: str, show: Show) -> str:
    """ "top 2 in" or "2 in from top", its length worked out where it is one of measures."""
    away = re.fullmatch(_AWAY, words_of)
    length, between, edge = words_of.rpartition(" from ")
    written = away["length"] if away is not None and not between else length
    try:
        if not written or not find_names(written):
            return words_of
        length_mm = evaluate_length(written, reader.measures)
    except WrittenError:
        return words_of
    one_mm, places = (1.0, 1) if show == "mm" else (MM_PER_INCH, 2)
    told = f"{format_number(length_mm / one_mm, places)} {show}"
    return f"{told} from {edge}" if between else words_of.replace(written, told)


def name_notches(specs: tuple[PieceSpec, ...]) -> Notches:
    """The notches that have a name, by piece; those of a model come along as its marks do, unless it is turned over."""
    models = {spec.name: spec for spec in specs}

    def named(spec: PieceSpec, depth: int = 0) -> dict[str, NotchSpec]:
        model = models.get(words(spec.like))
        takes = model is not None and spec.mirror is None and spec.marks is None and spec.inset is None
        found = named(model, depth + 1) if model is not None and takes and depth < len(models) else {}
        return found | {item.name.value: item for item in spec.notches if item.name}

    return {spec.name: named(spec) for spec in specs}


def find_stretch(reader: Reader, partner: SeamSide, outline: Outline, notches: Notches) -> Stretch | None:
    """From where to where along the run of a partner its part goes, on this outline; None where a point cannot be found
    (noted, once for the outlines that are tried)."""
    assert partner.ends is not None
    if WHOLE in partner.edges or len(edge_names(outline)) < 2:
        reader.error(partner.place, "a part of an edge needs the edge by its name", STRETCH_MEND)
        return None
    named = notches.get(partner.part, {})
    further, _, last = partner.ends[1].partition(" from ")
    names = [word for word in further.split()[1:] if word in edge_names(outline)]
    if names and last:
        run = " ".join(dict.fromkeys([*partner.edges, *names]))
        what = "a part of several edges goes from one place on the first of them to one on the last"
        mend = f'write "{run} from {partner.ends[0]} to {last.rpartition(" to ")[2]}"'
        _note(reader, partner.place, what, mend)
        return None
    found = [
        _find_end(reader, partner, words_of, edge, outline, named)
        for words_of, edge in zip(partner.ends, (partner.edges[0], partner.edges[-1]), strict=True)
    ]
    begin, end = found
    if begin is None or end is None:
        return None
    if end < begin and len(partner.edges) == 1:
        begin, end = end, begin  # one edge has no direction of its own
    if end - begin < LEAST_MM:
        what = f"this part of {' '.join(partner.edges)} ends before it begins, or is nothing"
        _note(reader, partner.place, what, "measure both points again, in the order of the edges")
        return None
    return begin, end


def _find_end(
    reader: Reader, partner: SeamSide, words_of: str, edge: str, outline: Outline, named: Mapping[str, NotchSpec]
) -> float | None:
    """How far along the run one end of the part lies."""
    notch = re.fullmatch(_NOTCH, words_of)
    if notch is not None and notch["name"] not in named:
        mend = (
            suggest(notch["name"], named)
            or f'write notches = [{{ name = "{notch["name"]}", ... }}] for "{partner.part}"'
        )
        _note(reader, partner.place, f'there is no notch "{notch["name"]}" on "{partner.part}"', mend)
        return None
    spec = named[notch["name"]] if notch else None
    if spec is not None and spec.on is not None:
        edge = spec.on.value
        at = spec.at
    else:
        at = Value(value=_in_order(words_of, neighbours(outline, edge)), place=partner.place)
    if reader.is_noted(partner.place) or edge not in partner.edges:
        _note(reader, partner.place, f'the notch lies on "{edge}", which is none of these edges', "name that edge too")
        return None
    edge_mm = path_length(edge_path(outline, edge))
    before, after = neighbours(outline, edge)
    if (
        spec is None and before != after and words_of in (before, after)
    ):  # its very end, also where the corner is rounded
        return distance_on_run(outline, partner.edges, edge, 0.0 if words_of == before else edge_mm)
    along_mm = distance_along(reader, at, edge, outline, "this part of it begins or ends")
    if along_mm is None:
        return None
    if not -1e-6 <= along_mm <= edge_mm + 1e-6:
        what = f'"{words_of}" does not lie on the edge "{edge}", which is {format_mm(edge_mm)} long'
        ends = (partner.ends or ()) if len(partner.edges) > 1 else ()
        others = [one for one in ends if one != words_of and one.split()[0] == words_of.split()[0]]
        mend = f'did you mean "{others[0]}", as at its other end? else ' if others else ""
        mend += "measure again along the edge"
        mend += "; beyond a rounded corner name the edge there too" if corner_names(outline) else ""
        _note(reader, partner.place, what, mend)
        return None
    return distance_on_run(outline, partner.edges, edge, min(max(along_mm, 0.0), edge_mm))


def _in_order(words_of: str, beside: tuple[str, str]) -> str:
    """The words for a point as a notch says them: "top" and "top 2 in" as "0 mm from top" and "2 in from top"."""
    away = re.fullmatch(_AWAY, words_of)
    if away is None or away["edge"] not in beside:
        return words_of
    return f"{away['length'] or '0 mm'} from {away['edge']}"


def _note(reader: Reader, place: Place, what: str, mend: str) -> None:
    if not reader.is_noted(place):
        reader.error(place, what, mend)


def other_edges(edges: tuple[str, ...], names: Sequence[str]) -> Iterator[tuple[str, ...]]:
    """These edges with one of them another of those that there are, or one more at either end."""
    more = [name for name in names if name not in edges] if {*edges} <= {*names} else []
    yield from (way for name in more for way in ((*edges, name), (name, *edges)))
    for index in range(len(edges)):
        for name in names:
            if name not in edges and edges[index] in names:
                yield (*edges[:index], name, *edges[index + 1 :])


def usual_title(name: str, sides: list[SeamSide]) -> str:
    """Its name; one that a partner has too says that it is a seam."""
    told = name.replace("-", " ")
    return f"{told} seam" if name in {side.part for side in sides} else told


def narrow_words(part: str, outline: Outline, inset_mm: float, line: int | None) -> str:
    """That a part is narrower than two stitch lines in from its edges are; nothing where it is not."""
    across_mm = min(outline_box(outline).width, outline_box(outline).height)
    narrow = f'"{part}" is {format_mm(across_mm)} across{line_words(line)}, and it lies {format_mm(inset_mm)} in'
    return narrow if across_mm < 2 * inset_mm else ""
