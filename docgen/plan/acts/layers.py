"""What lies under the needle of a seam, in words, and with which sides its partners meet."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import groupby, pairwise

from docgen.assemble import Copy, Pile, Placed, look_inward, pile_seam
from docgen.plan.act import Act, Told, act
from docgen.plan.acts.copies import copy_words, numbered
from docgen.plan.acts.crossed import Crossed, find_crossed
from docgen.plan.acts.work import Work
from docgen.plan.names import spoken
from docgen.resolve import Layer, Seam, SeamSide, by_name

PAIR = 2
FLESH_TO_FLESH = ("back to back", "stands on", "closes", "folds between")


def meeting_faces(work: Work, seam: Seam, one: str, other: str) -> Act | None:
    """The side that both lay together, where both are placed so, or their section shows it, and the edges stay outside;
    None where that does not follow."""
    first, second = work.placed(one), work.placed(other)
    side = work.outer if look_inward(work.build, first, second, seam.name) else work.inner
    faces = {side(one), side(other)}
    if len(faces) > 1:
        return None
    if side == work.outer:
        return faces.pop()
    child = (_hosted(first, second) or _hosted(second, first)) if first is not None and second is not None else None
    if child is None or first is None or second is None:
        return faces.pop() if _face_in_section(work, seam, one, other) else None
    is_met = child.how in FLESH_TO_FLESH and first.is_grain_out and second.is_grain_out
    return faces.pop() if is_met and not (first.is_creased_in or second.is_creased_in) else None


def copy_title(work: Work, seam: Seam, side: SeamSide) -> Told:
    """The title of a partner; where the seam names one of several copies with what tells it from the others, else with its
    number."""
    if not side.copy:
        return work.titles[side.part]
    copy, events = Copy(side.part, side.copy), work.build.assembly.events
    index = next((k for k, event in enumerate(events) if (event.kind, event.name) == ("seams", seam.name)), len(events))
    words = copy_words(work, copy, index, seam.parts)
    return words if words != work.titles[side.part] else numbered(work, copy)


def linings_at(work: Work, seam: Seam, side: SeamSide) -> list[str]:
    """The linings of a partner that reach its seam, and come between the partners."""
    under = {layer.part for layer in seam.layers}
    hosts = (side.part, *work.strips(side.part))
    covers = [lies for lies in work.build.assembly.lies if lies.is_cover and lies.copy.part in under]
    found = dict.fromkeys(lies.copy.part for lies in covers if lies.host.part in hosts)
    return [work.titles[part] for part in found if part in work.titles]


def _face_in_section(work: Work, seam: Seam, one: str, other: str) -> bool:
    """Whether the section of a seam shows two partners with their outer sides away from each other."""
    once = next((sewn for sewn in work.build.assembly.sewn if sewn.seam == seam.name), None)
    piles = pile_seam(work.build, once) if once is not None and not seam.is_turned and one != other else ()
    looks = {ply.part: ply.grain for pile in piles[:1] for ply in reversed(pile)}
    lower = {ply.part: ply.grain for pile in piles[:1] for ply in pile}
    return (looks.get(one), lower.get(other)) == ("up", "down") and work.outer(one).case == work.outer(
        other
    ).case == "face_grain"


def met_faces(work: Work, seam: Seam, one: str, other: str) -> tuple[Act, Act] | None:
    """The side of each of two partners that lies on the other, as their section shows it; None where it does not tell, or
    where they do not lie on each other all along."""
    piles = _piles_of(work, seam)
    if one == other or not piles:
        return None
    for upper, lower in pairwise(piles[0]):
        if {upper.part, lower.part} == {one, other} and upper.grain and lower.grain:
            is_alone = sum(ply.part in (one, other) for ply in piles[0]) == PAIR
            met = {
                upper.part: act("face_flesh" if upper.grain == "up" else "face_grain"),
                lower.part: act("face_grain" if lower.grain == "up" else "face_flesh"),
            }
            return (met[one], met[other]) if is_alone and not (upper.is_partial or lower.is_partial) else None
    return None


def _hosted(one: Placed, other: Placed) -> Placed | None:
    return one if one.host is not None and one.host.part == other.copy.part else None


def layer_acts(work: Work, seam: Seam) -> Iterator[Act]:
    """What lies under the needle from the top, where it is more than the partners: at each place that is unlike, as its
    section shows it, where that is known; else of two that lie back to back, each with its lining inside, the second from
    its lining on; else of partners alone in the order of the seam, of others in none. Hems of the partners alone are told
    where another place is."""
    piles = _piles_of(work, seam)
    case = "awl" if by_name(work.build.stitches)[seam.stitch].by == "hand" else "needle"
    told: list[Told] = []
    plies_of = [[(ply.part, ply.is_partial) for ply in pile] for pile in piles]
    named = [_name_layers(work, seam, plies) for plies in plies_of]
    for plies, own in zip(plies_of, named, strict=True):
        is_hemmed = any(named) and len(plies) > len({part for part, _ in plies})
        layers = own or (_title_layers(work, plies) if is_hemmed else "")
        if layers and layers not in told:
            yield act("row_else" if told else f"{case}_layers", layers=layers)
            told.append(layers)
    if not piles:
        groups = _group_layers(work, seam)
        parts, is_told = [group[0].part for group in groups], all(len(group) == 1 for group in groups)
        behind = {lies.copy.part for lies in work.build.assembly.lies if lies.is_behind}
        is_lined = len(groups) == PAIR and all(layer.part in behind for group in groups for layer in group[1:])
        if is_lined and meeting_faces(work, seam, *parts) is not None:
            first, last = groups if not seam.is_turned else (groups[0][::-1], groups[1][::-1])
            groups, is_told = [first, last[::-1]], True
        crossed = find_crossed(work, seam, groups)
        gone = [*crossed.layers] if crossed else []
        under = [(one.part, not one.least_mm) for group in groups for one in group if one not in gone]
        if layers := _name_layers(work, seam, under):
            yield act(f"{case}_layers" if is_told else f"{case}_all", layers=layers)
        if crossed:
            yield _tell_crossed(work, seam, crossed)


def _piles_of(work: Work, seam: Seam) -> tuple[Pile, ...]:
    """What the section of a seam shows; nothing where that is not known."""
    once = next((one for one in work.build.assembly.sewn if one.seam == seam.name), None)
    return pile_seam(work.build, once) if once is not None else ()


def _tell_crossed(work: Work, seam: Seam, crossed: Crossed) -> Act:
    """Which seams a row crosses, and where; what of them may lie there, unless the seam before it in the step crosses the
    same, and says so, having no section."""
    where = act(crossed.where)
    events = [event for event in work.build.assembly.events if event.kind == "seams"]
    at = next((k for k, event in enumerate(events) if event.name == seam.name), 0)
    before = work.seams[events[at - 1].name] if at and events[at - 1].step == events[at].step else None
    is_told = before is not None and not _piles_of(work, before)
    last = find_crossed(work, before, _group_layers(work, before)) if before is not None and is_told else None
    if last is not None and last.seams == crossed.seams:
        return act("row_crosses_again", where=where)
    titles = _listed([spoken(work.seams[name].title) for name in crossed.seams])
    parts = [(layer.part, False) for layer in crossed.layers]
    return act("row_crosses", where=where, seams=titles, layers=_title_layers(work, parts))


def _group_layers(work: Work, seam: Seam) -> list[list[Layer]]:
    """The layers of a seam, each partner with what lies on it."""
    groups: list[list[Layer]] = []
    sides = seam.parts
    is_hem = len(work.sides(seam)) == 1 and len(seam.sides) > 1  # seams that it crosses lie under a part of it
    for layer in (layer for layer in seam.layers if layer.least_mm or not is_hem):
        if (layer.part in sides and not any(layer.part == group[0].part for group in groups)) or not groups:
            groups.append([layer])
        else:
            groups[-1].append(layer)
    return groups


def _name_layers(work: Work, seam: Seam, parts: Sequence[tuple[str, bool]]) -> Told:
    """Titles of layers that are more than the partners of a seam, alike ones counted, and whether they lie under a part of
    it; of the partners alone where one lies flat between two others."""
    if {part for part, _ in parts} > seam.parts:
        return _title_layers(work, parts)
    is_between = any(not side.edges for side in seam.sides[1:-1])
    return _listed([_title(work, part) for part in dict.fromkeys(part for part, _ in parts)] if is_between else [])


def _title_layers(work: Work, parts: Sequence[tuple[str, bool]]) -> Told:
    runs = [(_title(work, part), len([*alike]), is_partial) for (part, is_partial), alike in groupby(parts)]
    return _listed([_layer(title, n, is_partial) for title, n, is_partial in runs])


def _title(work: Work, part: str) -> str:
    """Of goods by length, too, which are no part."""
    return work.titles.get(part) or work.goods.get(part, part)


def _layer(title: str, count: int, is_partial: bool) -> Told:
    layers: Told = title if count == 1 else act("set_layers", count=str(count), part=title)
    return act("layer_partly", part=layers) if is_partial else layers


def _listed(layers: Sequence[Told]) -> Told:
    """`A; B; C`: titles have commas of their own. Nothing for none."""
    told: Told = layers[0] if layers else ""
    for one in layers[1:]:
        told = act("layer_next", above=told, layer=one)
    return told


def counted(work: Work, name: str, count: int = 0) -> str:
    """`2 × Gusset side`; the bare title of a single one; so many, where that is told."""
    count = count or work.counts.get(name, work.pieces[name].cut if name in work.pieces else 1)
    return work.titles[name] if count == 1 else f"{count} × {work.titles[name]}"
