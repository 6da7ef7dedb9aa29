"""The pictures of one build, drawn as pages ask for them; where its parts lie is worked out once."""

from __future__ import annotations

from functools import cached_property

from docgen.assemble import Assembled, Copy, Placed, Space, place_parts
from docgen.pages.pictures.article import draw_article
from docgen.pages.pictures.bodies import Body
from docgen.pages.pictures.stack_drawing import draw_stacks
from docgen.pages.pictures.stacks import StackPicture, list_stacks
from docgen.pages.pictures.withheld import Withheld
from docgen.pages.setting.blocks import Beside, Block, PageStyle


class Pictures:
    """What can be drawn of a build. Nothing in it changes; what is worked out once is kept."""

    def __init__(self, build: Assembled) -> None:
        self.build = build

    @cached_property
    def space(self) -> Space:
        return place_parts(self.build)

    @cached_property
    def _bodies(self) -> tuple[Body, ...]:
        """The parts that lie where only the spec can have them, as they are drawn."""
        return tuple(
            Body(placed, is_leather=self._is_leather(placed), title=self.build.part_titles[placed.copy.part])
            for placed in self.space.parts
            if placed.copy not in self.space.doubtful
        )

    def _is_leather(self, placed: Placed) -> bool:
        names = {strip.piece.material for strip in placed.item.strips}
        return any(material.kind == "leather" for material in self.build.materials if material.name in names)

    @cached_property
    def _lined(self) -> frozenset[Copy]:
        """The copies that something lies behind."""
        return frozenset(body.placed.host for body in self._bodies if body.placed.is_inner and body.placed.host)

    def article(self, width_mm: float, style: PageStyle) -> tuple[Block, ...]:
        """The finished article from the front and from behind; nothing where it cannot be drawn."""
        made = draw_article(self._bodies, self._lined, self.space.kind, width_mm, style)
        return (Beside((made[0],), made[1], made[1].width_mm),) if made else ()

    @cached_property
    def _stacks(self) -> tuple[tuple[StackPicture, ...], tuple[Withheld, ...]]:
        return list_stacks(self.build, self.space)

    def sections(self, width_mm: float, style: PageStyle) -> list[tuple[Block, ...]]:
        """The sections through every different stack, in groups that stay together; none where there are none."""
        return draw_stacks(self._stacks[0], width_mm, style)

    def letters(self, step: int) -> tuple[str, ...]:
        """The letters of the sections that a step (from 1) makes."""
        return tuple(stack.letter for stack in self._stacks[0] if step in stack.steps)
