"""The pictures of one build, drawn as pages ask for them; where its parts lie is worked out once."""

from __future__ import annotations

from functools import cached_property

from docgen.assemble import Assembled, Space, place_parts
from docgen.pages.pictures.stack_drawing import draw_stacks
from docgen.pages.pictures.stacks import StackPicture, list_stacks
from docgen.pages.pictures.withheld import Withheld
from docgen.pages.setting.blocks import Block, PageStyle


class Pictures:
    """What can be drawn of a build. Nothing in it changes; what is worked out once is kept."""

    def __init__(self, build: Assembled) -> None:
        self.build = build

    @cached_property
    def space(self) -> Space:
        return place_parts(self.build)

    @cached_property
    def _stacks(self) -> tuple[tuple[StackPicture, ...], tuple[Withheld, ...]]:
        return list_stacks(self.build, self.space)

    def sections(self, width_mm: float, style: PageStyle) -> list[tuple[Block, ...]]:
        """The sections through every different stack, in groups that stay together; none where there are none."""
        return draw_stacks(self._stacks[0], width_mm, style)

    def letters(self, step: int) -> tuple[str, ...]:
        """The letters of the sections that a step (from 1) makes."""
        return tuple(stack.letter for stack in self._stacks[0] if step in stack.steps)
