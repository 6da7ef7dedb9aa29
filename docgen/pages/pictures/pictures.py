"""The pictures of one build, drawn as pages ask for them; where its parts lie is worked out once."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from functools import cached_property

from docgen.assemble import Assembled, Copy, Placed, Space
from docgen.classes import dataclass
from docgen.pages.pictures.article import ArticleWords, draw_article
from docgen.pages.pictures.bodies import Body, MetalBody, straighten, unfold
from docgen.pages.pictures.bonds import Bond, find_bonds, set_in, step_of
from docgen.pages.pictures.heaps import Heap, UnsureError, find_absent, find_heaps, find_missing
from docgen.pages.pictures.stack_drawing import draw_stacks
from docgen.pages.pictures.stacks import StackPicture, list_stacks
from docgen.pages.pictures.step_drawing import StepScene, set_scene, step_drawer
from docgen.pages.pictures.unsure import find_crossing, find_unsure
from docgen.pages.pictures.withheld import Withheld
from docgen.pages.setting.blocks import Beside, Block, Figure, PageStyle


@dataclass(frozen=True, slots=True, kw_only=True)
class Closed:
    """The bodies of a finished article, the titles of those that are drawn open, and of what is left out."""

    bodies: tuple[Body, ...]
    opened: tuple[str, ...]
    absent: tuple[str, ...]


class Pictures:
    """What can be drawn of a build. Nothing in it changes; what is worked out once is kept."""

    def __init__(self, build: Assembled, space: Space) -> None:
        self.build, self.space = build, space
        self._known: dict[int, list[StepScene]] = {}

    @cached_property
    def _unsure(self) -> Mapping[Copy, str]:
        """The placed copies that may lie otherwise, and why."""
        return find_unsure(self.build, self.space)

    @cached_property
    def _bodies(self) -> tuple[Body, ...]:
        """The parts that lie where only the spec can have them, as they are drawn."""
        return tuple(
            Body(placed, is_leather=self._is_leather(placed), title=self.build.part_titles[placed.copy.part])
            for placed in self.space.parts
            if placed.copy not in self._unsure
        )

    @cached_property
    def _metal(self) -> tuple[MetalBody, ...]:
        """The hardware of these parts."""
        titles = {item.name: item.what for item in self.build.hardware}
        drawn = {body.copy for body in self._bodies}
        return tuple(MetalBody(one, titles[one.hardware]) for one in self.space.metal if one.part in drawn)

    def _metal_by(self, step: int) -> list[tuple[MetalBody, bool]]:
        """The hardware that is set once a step is done, and whether that does it."""
        steps = [(one, set_in(self.build, one.metal)) for one in self._metal]
        return [(one, at == step) for one, at in steps if at <= step]

    def _is_leather(self, placed: Placed) -> bool:
        names = {strip.piece.material for strip in placed.item.strips}
        return any(material.kind == "leather" for material in self.build.materials if material.name in names)

    @cached_property
    def _lined(self) -> frozenset[Copy]:
        """The copies that something lies behind."""
        return frozenset(body.placed.host for body in self._bodies if body.placed.is_inner and body.placed.host)

    def article(self, width_mm: float, style: PageStyle) -> tuple[Block, ...]:
        """The finished article from the front and from behind; nothing where it cannot be drawn."""
        closed = self._closed
        told = ArticleWords(opened=closed.opened, absent=closed.absent)
        drawn = {body.copy: body for body in closed.bodies}
        metal = [one for one in self._metal if one.copy in drawn and self._is_in_place(drawn[one.copy])]
        made = draw_article(closed.bodies, metal, self.space.kind, self._lined, told, width_mm, style)
        return (Beside((made[0],), made[1], made[1].width_mm),) if made else ()

    @cached_property
    def _closed(self) -> Closed:
        """The bodies of the finished article. What goes through other parts as it is placed, flaps and straps first, is
        drawn straight on where it is free then, else left out."""
        found, opened, bad = {body.copy: body for body in self._bodies}, list[Copy](), list[Copy]()
        for one, other in find_crossing([body for body in self._bodies if not body.placed.is_inner]):
            loose = [copy for copy in (one, other) if found[copy].placed.is_free] or [one, other]
            opened += [] if {*opened} & {*loose} else loose
        straight = straighten({copy: found[copy] for copy in opened})
        found |= straight
        outer = [body for body in found.values() if not body.placed.is_inner]
        bad += {copy for pair in find_crossing(outer) for copy in pair if copy in opened} if opened else ()
        names = [copy for copy in (*self._lost, *bad) if not self._is_inner(copy)]
        return Closed(
            bodies=tuple(body for copy, body in found.items() if copy not in bad),
            opened=self._titles(copy for copy in opened if copy not in bad),
            absent=self._titles(names),
        )

    def _titles(self, copies: Iterable[Copy]) -> tuple[str, ...]:
        return tuple(sorted({self.build.part_titles[copy.part] for copy in copies}))

    def _is_inner(self, copy: Copy) -> bool:
        placed = self.space.part(copy)
        return placed is not None and placed.is_inner

    def _is_in_place(self, body: Body) -> bool:
        placed = self.space.part(body.copy)
        return placed is not None and placed.surface == body.placed.surface

    @cached_property
    def _flat(self) -> Mapping[Copy, Body]:
        """The bodies as they lie at the bench: what lies is not yet folded."""
        bodies = {body.copy: body for body in self._bodies}
        return unfold(bodies) if self.space.kind == "lying" else bodies

    def step_drawer(
        self, number: int, wide_mm: float, style: PageStyle, numbers: Mapping[str, int]
    ) -> Callable[[float], Figure] | None:
        """What draws what a step (from 1) joins, for a room so high; `numbers` are those of its seams. None where it joins
        nothing, or nothing that can be drawn."""
        try:
            scenes = self._scenes(number - 1)
        except UnsureError:
            return None
        return step_drawer(scenes, wide_mm, style, numbers) if scenes else None

    @cached_property
    def _bonds(self) -> tuple[Bond, ...]:
        return find_bonds(self.build, self._flat)

    def _scenes(self, step: int) -> list[StepScene]:
        """What is drawn of a step (from 0), worked out once. UnsureError where it joins something, and that is not
        sure."""
        if step not in self._known:
            self._known[step] = self._set_scenes(step)
        return self._known[step]

    def _set_scenes(self, step: int) -> list[StepScene]:
        missing = find_missing(self.build, self._lost, step)
        if missing:
            raise UnsureError(f"nothing says where {', '.join(missing)} comes to lie")
        bodies, heaps = self._heaps(step)
        lined, sewn = self._lined_before(step), self._sewn_by(step)
        absent = [find_absent(self.build, self._lost, heap, step) for heap in heaps]
        metal = self._metal_by(step)
        turned = [seam.name for seam in self.build.seams if seam.is_turned]
        return [
            set_scene(bodies, heap, self.space.kind, lined, sewn, gone, turned, metal)
            for heap, gone in zip(heaps, absent, strict=True)
        ]

    def _heaps(self, step: int) -> tuple[Mapping[Copy, Body], list[Heap]]:
        """What a step joins; flaps and straps that only bend lie straight where they are in the way as they lie at last."""
        try:
            return self._flat, find_heaps(self._flat, self._bonds, step)
        except UnsureError:
            straight = straighten(self._flat)
            return straight, find_heaps(straight, self._bonds, step)

    @cached_property
    def _lost(self) -> frozenset[Copy]:
        """The copies that cannot be drawn."""
        return frozenset({*(one.copy for one in self.space.unplaced), *self._unsure})

    def _sewn_by(self, step: int) -> frozenset[str]:
        """The seams that are there once a step is done."""
        sewn = self.build.assembly.sewn
        return frozenset(once.seam for once in sewn if step_of(self.build, once.event) <= step)

    def _lined_before(self, step: int) -> frozenset[Copy]:
        """The copies that something lies behind before a step."""
        hosts = {body.copy: body.placed.host for body in self._bodies if body.placed.is_inner}
        bound = {frozenset((bond.one, bond.other)) for bond in self._bonds if bond.step < step}
        return frozenset(host for copy, host in hosts.items() if host is not None and frozenset((copy, host)) in bound)

    @cached_property
    def _stacks(self) -> tuple[tuple[StackPicture, ...], tuple[Withheld, ...]]:
        return list_stacks(self.build, self.space)

    def sections(self, width_mm: float, style: PageStyle) -> list[tuple[Block, ...]]:
        """The sections through every different stack, in groups that stay together; none where there are none."""
        return draw_stacks(self._stacks[0], width_mm, style)

    def letters(self, step: int) -> tuple[str, ...]:
        """The letters of the sections that a step (from 1) makes."""
        return tuple(stack.letter for stack in self._stacks[0] if step in stack.steps)
