"""Two builds -> every part that was added, removed or changed, in the maker's terms.

What a field is called stands beside it (`docgen.told`); here stands what no single field tells.
"""

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import fields, is_dataclass
from difflib import SequenceMatcher
from typing import Any, Final

from docgen.resolve import Build, Hardware, Piece, Seam, Shop, Step, Strap, StrapEnd, Trimming
from docgen.told import list_told
from docgen.versions.compared.alike import is_alike, is_equal, is_near
from docgen.versions.compared.changes import Change, Fact, How, Known
from docgen.versions.compared.pieces import compare_piece, compare_stitch_holes, frames_of

WORN: Final = ("worn, shortest", "worn, middle", "worn, longest")


def list_changes(before: Build, after: Build) -> tuple[Change, ...]:
    """All that changed, part by part, pieces first; the version, its digest and its note of change do not count."""
    parts = [
        change
        for field, said in list_told(Build)
        if said.is_part
        for change in _compare_parts(said.words, getattr(before, field), getattr(after, field))
    ]
    return (*_single("spec", compare_fields(before, after)), *parts)


def _compare_parts(part: str, before: Any, after: Any) -> list[Change]:
    """A part, or all parts of one kind: steps by what they say, others by their names."""
    if part == "step":
        return _steps(before, after)
    if isinstance(after, tuple):
        return _named(part, before, after)
    if before is None or after is None:
        return _single("spec", [] if before == after else [_fact(part, _tell(before), _tell(after))])
    return _single(part, _facts(before, after))


def _facts(before: Any, after: Any) -> list[Fact]:
    """What changed on one part: field by field, and what is told of its kind besides."""
    more = FURTHER.get(type(after))
    return [*compare_fields(before, after), *(more(before, after) if more else ())]


def compare_fields(before: Any, after: Any) -> list[Fact]:
    """The fields that differ, of those that say how they are told; lengths by more than 0.05 mm."""
    facts = []
    for field, said in list_told(type(after)):
        was, now = getattr(before, field), getattr(after, field)
        alike = is_alike if said.figure == "length" else is_equal
        if not said.is_part and not alike(was, now):
            facts.append(Fact(said.words, _tell(was), _tell(now), said.figure))
    return facts


def _tell(value: object) -> Known:
    """A value as a fact carries it; several in one line, a part by its own words."""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if value is None or isinstance(value, str | int | float):
        return value
    if isinstance(value, tuple):
        return ", ".join(str(_tell(item)) for item in value)
    if is_dataclass(value) and hasattr(value, "words"):
        return str(value.words)
    if is_dataclass(value):
        parts = (_tell(getattr(value, item.name)) for item in fields(value) if "place" not in item.name)
        return " ".join(str(part) for part in parts if part not in (None, ""))
    return str(value)


def _fact(name: str, before: Known, after: Known) -> Fact:
    return Fact(name, before, after, "words")


def _words_fact(name: str, before: Iterable[str], after: Iterable[str]) -> list[Fact]:
    was, now = ", ".join(before), ", ".join(after)
    return [_fact(name, was, now)] if was != now else []


def _length_facts(names: Iterable[str], before: Iterable[float], after: Iterable[float]) -> list[Fact]:
    return [
        Fact(name, was, now, "length")
        for name, was, now in zip(names, before, after, strict=False)
        if not is_near(was, now)
    ]


def _single(part: str, facts: Sequence[Fact]) -> list[Change]:
    return [Change(part=part, name="", title="", how="changed", facts=tuple(facts))] if facts else []


def _named(part: str, before: Iterable[Any], after: Iterable[Any]) -> list[Change]:
    """Parts by their names: one under another name is another part. Goods by length are told as such, not as strips."""
    old, new = (
        {item.name: item for item in items if not getattr(item, "by_length", False)} for items in (before, after)
    )
    changes = []
    for name in dict.fromkeys((*new, *old)):
        item = new.get(name, old.get(name))
        title = getattr(item, "title", "") or getattr(item, "what", "")
        if name not in new:
            changes.append(Change(part=part, name=name, title=title, how="removed"))
        elif name not in old:
            changes.append(Change(part=part, name=name, title=title, how="added"))
        elif facts := _facts(old[name], new[name]):
            changes.append(Change(part=part, name=name, title=title, how="changed", facts=tuple(facts)))
    return changes


def _strap_facts(before: Strap, after: Strap) -> list[Fact]:
    facts: list[Fact] = []
    facts += _row_facts("", before.hole_tips_mm, after.hole_tips_mm)
    facts += _row_facts(" at the first end", before.first_tips_mm, after.first_tips_mm)
    if len(before.worn_mm) == len(after.worn_mm) == 3:
        facts += _length_facts(WORN, before.worn_mm, after.worn_mm)
    facts += compare_stitch_holes(before.piece, after.piece, frames_of(before.piece, after.piece))
    return facts + _words_fact("ends", map(_end_words, before.ends), map(_end_words, after.ends))


def _row_facts(where: str, before: Sequence[float], after: Sequence[float]) -> list[Fact]:
    """A row of holes as it is punched: how many, the first from the tip, and how far apart."""
    if len(before) != len(after):
        return [Fact(f"holes{where}", len(before), len(after), "count")]
    rows = ((row[0], *(second - row[0] for second in row[1:2])) for row in (sorted(before), sorted(after)) if row)
    return _length_facts((f"first hole{where} from the tip", f"holes{where} apart"), *rows) if before else []


def _end_words(end: StrapEnd) -> str:
    back = f" {end.back_mm:.1f} mm back" if end.back_mm else ""
    around = f" round {' and '.join(end.rings)}" if end.rings else ""
    told = [f"{end.shape}{back}{around}" + (f" with {end.number} {end.takes}" if end.takes else "")]
    told += [f"a loop of {end.loop_mm:.1f} mm"] if end.loop_mm else []
    told += [f"{end.keeper} in the fold"] if end.keeper else []
    told += [f"slot {end.slot_wide_mm:.1f} x {end.slot_long_mm:.1f} mm"] if end.slot_long_mm else []
    told += [f"sewn with {end.sewn}"] if end.sewn else []
    told += [f"skived to {end.skive.to_mm:.1f} mm over {end.skive.over_mm:.1f} mm"] if end.skive else []
    if end.taper:
        taper = end.taper
        told.append(f"{taper.width_mm:.1f} mm wide for {taper.straight_mm:.1f} mm, tapers over {taper.long_mm:.1f} mm")
    return " and ".join(told)


def _sides(seam: Seam) -> list[str]:
    sides = [f"{side.part}: {side.edge_words}" if side.edges else side.part for side in seam.sides]
    return [*sides, *(f"{use.name}: {use.side}" if use.side else use.name for use in seam.trimmings)]


def _posts(item: Hardware) -> list[str]:
    return [f"{post:.1f} mm" for post in item.posts_mm]


def _trimming_facts(before: Trimming, after: Trimming) -> list[Fact]:
    """What is cut: by its place where the same places have some, else all of it in words."""
    was, now = ({cut.where: cut.length_mm for cut in item.cuts} for item in (before, after))
    ready = _words_fact("sold in", *([f"{mm:.1f} mm" for mm in item.ready_mm] for item in (before, after)))
    if was.keys() != now.keys():
        return [*_words_fact("cut for", was, now), *ready]
    return [*_length_facts((f"cut length {where}".strip() for where in was), was.values(), now.values()), *ready]


def _shop_facts(before: Shop, after: Shop) -> list[Fact]:
    """The name mark: a picture has no words."""
    if is_alike(before.mark, after.mark):
        return []
    now = ("another picture" if before.mark else "a picture") if after.mark else None
    return [_fact("name mark", "a picture" if before.mark else None, now)]


FURTHER: Final[Mapping[type[Any], Callable[[Any, Any], list[Fact]]]] = {
    Piece: compare_piece,
    Strap: _strap_facts,
    Seam: lambda before, after: _words_fact("meets", _sides(before), _sides(after)),
    Hardware: lambda before, after: _words_fact("posts", _posts(before), _posts(after)),
    Shop: _shop_facts,
    Trimming: _trimming_facts,
}


def _steps(before: Sequence[Step], after: Sequence[Step]) -> list[Change]:
    """Steps by what they say to do: added, removed, or changed in place."""
    changes = []
    matcher = SequenceMatcher(None, [step.do for step in before], [step.do for step in after], autojunk=False)
    for _, i, i_end, k, k_end in matcher.get_opcodes():
        both = min(i_end - i, k_end - k)
        for place in range(k, k + both):
            if facts := _facts(before[place - k + i], after[place]):
                changes.append(_step_change(place, after, "changed", facts))
        changes += [_step_change(place, before, "removed") for place in range(i + both, i_end)]
        changes += [_step_change(place, after, "added") for place in range(k + both, k_end)]
    return changes


def _step_change(place: int, steps: Sequence[Step], how: How, facts: Sequence[Fact] = ()) -> Change:
    return Change(part="step", name=str(place + 1), title=steps[place].do, how=how, facts=tuple(facts))
