"""Assembled -> the different stacks of a build, each once with a letter: what is sewn or set through which layers, and at
which steps."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence
from dataclasses import replace
from string import ascii_uppercase

from docgen.assemble import Assembled, Fastened, Looks, Pile, Run, Sewn, find_sections, find_snap_half
from docgen.classes import dataclass
from docgen.plan import spoken
from docgen.resolve import Hardware, by_name
from docgen.tables.hardware import EYELET_OVER_MM
from docgen.tables.thread import thread_diameter_mm

SHANK_MM = 4.0  # of a post whose hole is not known
ALIKE_MM = 0.05  # layers that differ less look alike


@dataclass(frozen=True, slots=True, kw_only=True)
class Through:
    """What holds a stack together: thread so thick with a stitch so long, or a post (`hardware`) in a hole so wide. A
    `half` of a snap is its cap or its stud, where hardware is both; `form` which it is in any case, that `looks` out of the
    pile or into it, where that is known. Of an eyelet, which is open, `flange_mm` is how wide its flange is about."""

    across_mm: float
    pitch_mm: float = 0.0
    hardware: str = ""
    half: str = ""
    form: str = ""
    looks: Looks = ""
    posts_mm: tuple[float, ...] = ()
    flange_mm: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class StackPicture:
    """Alike stacks: their layers from the top down, `names` the parts that each may be of, what goes through; `made` what
    is sewn or set there, each with the number of its step (from 1; 0 for none)."""

    letter: str
    pile: Pile
    names: tuple[tuple[str, ...], ...]
    through: Through
    made: tuple[tuple[int, str], ...]

    @property
    def steps(self) -> tuple[int, ...]:
        return tuple(dict.fromkeys(step for step, _ in self.made if step))

    def titles(self, steps: Collection[int]) -> tuple[str, ...]:
        """What is made so at some of its steps."""
        return tuple(dict.fromkeys(title for step, title in self.made if step in steps))


Found = tuple[int, str, Pile, Through]
"""The step that makes it (from 0), what is made, its layers, what goes through."""


def list_stacks(build: Assembled) -> tuple[StackPicture, ...]:
    """The different stacks of two layers and more of which the order is told, in the order of the work."""
    known: dict[object, StackPicture] = {}
    for step, title, pile, through in _sorted(_find_all(build)):
        made = ((step + 1 if step < len(build.assembly.steps) else 0, title),)
        names = tuple((build.part_titles.get(ply.part) or _bought(build, ply.part),) for ply in pile)
        key = _looks(pile), through
        before = known.get(key)
        known[key] = (
            StackPicture(letter=name_letter(len(known)), pile=pile, names=names, through=through, made=made)
            if before is None
            else replace(
                before,
                names=tuple(tuple(dict.fromkeys(one + more)) for one, more in zip(before.names, names, strict=True)),
                made=before.made + made,
            )
        )
    return tuple(known.values())


def name_letter(number: int) -> str:
    """A, B ... Z, AA, AB ..., counted from 0."""
    high, low = divmod(number, len(ascii_uppercase))
    return (name_letter(high - 1) if high else "") + ascii_uppercase[low]


def _sorted(found: Iterator[Found]) -> Sequence[Found]:
    return sorted(found, key=lambda one: one[0])


def _looks(pile: Pile) -> object:
    return tuple((ply.material, round(ply.thickness_mm / ALIKE_MM), ply.grain, ply.is_partial) for ply in pile)


def _bought(build: Assembled, part: str) -> str:
    return next((item.what for item in build.trimmings if item.name == part), part)


def _find_all(build: Assembled) -> Iterator[Found]:
    events, last = build.assembly.events, len(build.assembly.steps)
    for section in find_sections(build):
        one = section.made
        step = events[one.event].step if one.event < len(events) else last
        if section.pile is not None:
            through = _post(build, one) if isinstance(one, Fastened) else _thread(build, one)
            yield step, _title(build, one), section.pile, through


def _title(build: Assembled, made: Sewn | Run | Fastened) -> str:
    if isinstance(made, Sewn):
        return by_name(build.seams)[made.seam].title
    where = made.where if isinstance(made, Run) else ""
    return ", ".join(filter(None, (spoken(build.part_titles[made.part]), where)))


def _thread(build: Assembled, sewn: Sewn | Run) -> Through:
    name = by_name(build.seams)[sewn.seam].stitch if isinstance(sewn, Sewn) else sewn.stitch
    stitch = by_name(build.stitches)[name]
    across_mm = thread_diameter_mm(stitch.thread_tex, stitch.thread_fibre)
    return Through(across_mm=round(across_mm, 2), pitch_mm=stitch.pitch_mm)


def _post(build: Assembled, one: Fastened) -> Through:
    item = by_name(build.hardware)[one.hardware]
    holes = (hole for piece in build.cut if piece.name == one.part for hole in piece.marks.holes)
    across_mm = next((hole.diameter_mm for hole in holes if hole.takes == one.hardware), item.hole_mm or SHANK_MM)
    posts_mm = (*one.shorter_mm, one.post_mm) if one.post_mm else ()
    found = find_snap_half(build, one)
    return Through(
        across_mm=round(across_mm, 2),
        hardware=_short_name(build, item),
        half=one.half,
        form=found.half if found is not None else "",
        looks=found.looks if found is not None else "",
        posts_mm=posts_mm,
        flange_mm=round(across_mm + EYELET_OVER_MM, 2) if item.kind == "eyelet" else 0.0,
    )


def _short_name(build: Assembled, item: Hardware) -> str:
    """What a hardware is, up to the first comma where that tells it from all others."""
    short = item.what.partition(",")[0]
    is_alone = all(other.what.partition(",")[0] != short for other in build.hardware if other is not item)
    return short if is_alone else item.what
