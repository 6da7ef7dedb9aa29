"""The pictures of one build, drawn as pages ask for them; where its parts lie is worked out once."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from functools import cached_property

from docgen.assemble import Assembled, TakenApart, UnsureError, find_boxes
from docgen.pages.pictures.article import FRONT_SHARE, Article, draw_article, draw_small, set_article, set_boxes
from docgen.pages.pictures.stack_drawing import MOST_CELL_MM, draw_stack, draw_stacks, find_scale
from docgen.pages.pictures.stacks import StackPicture, list_stacks
from docgen.pages.pictures.step_drawing import StepScene, set_scene, step_drawers
from docgen.pages.setting.blocks import Beside, Block, Figure, PageStyle


def side_by_side(views: tuple[Figure, ...]) -> tuple[Block, ...]:
    """The first two beside each other, any further ones below."""
    return Beside((views[0],), views[1], views[1].width_mm), *views[2:]


class Pictures:
    """What can be drawn of a build. Nothing in it changes; what is worked out once is kept."""

    def __init__(self, build: Assembled) -> None:
        self.build, self.apart = build, TakenApart(build)
        self._known: dict[int, list[StepScene]] = {}

    def views(self, width_mm: float, style: PageStyle, front_share: float = FRONT_SHARE) -> tuple[Figure, ...] | None:
        """The finished article from the front and from behind, that wide together, and opened where it opens as a book
        does; None where it cannot be drawn."""
        return draw_article(self._article, width_mm, front_share, style) if self._article else None

    def small(self, style: PageStyle) -> Figure | None:
        """The finished article from the front, for the head of a list; None where it cannot be drawn."""
        return draw_small(self._article, style) if self._article else None

    @cached_property
    def _article(self) -> Article | None:
        """None of straps alone, which would be thin lines from end to end."""
        if not self.build.pieces:
            return None
        if boxes := find_boxes(self.build):
            return set_boxes(boxes, [piece.title for piece in self.build.pieces])
        return set_article(self.apart.closed, self.build.space.kind, self.apart.lined)

    @property
    def article_kinds(self) -> frozenset[str]:
        """Kinds of lines that the finished article has, and that its key must name."""
        if self._article is None:
            return frozenset()
        return frozenset(["sewn"] * bool(self.build.seams) + ["flesh"] * self._article.shows_flesh)

    def step_drawers(
        self, number: int, wide_mm: float, style: PageStyle, numbers: Mapping[str, int], *, is_roomy: bool = False
    ) -> Sequence[Callable[[float], Figure]]:
        """What draws what a step (from 1) joins, for a room so high: a picture for each way in which parts are joined;
        `numbers` are those of its seams, and `is_roomy` says whether there is space for larger pictures. None where it
        joins nothing, or nothing that can be drawn."""
        try:
            scenes = self._scenes(number - 1)
        except UnsureError:
            return ()
        return step_drawers(scenes, wide_mm, style, numbers, is_roomy=is_roomy)

    def made_up_drawers(
        self, number: int, wide_mm: float, style: PageStyle, *, is_roomy: bool = False
    ) -> Sequence[Callable[[float], Figure]]:
        """The same of what a step handles that hangs together with more by then."""
        try:
            found = self.apart.made_up(number - 1)
        except UnsureError:
            return ()
        scenes = [set_scene(one.bodies, one.heap, one.joined_at(number - 1, self.apart.joined)) for one in found]
        return step_drawers(scenes, wide_mm, style, {}, is_roomy=is_roomy)

    def _scenes(self, step: int) -> list[StepScene]:
        """What is drawn of a step (from 0), worked out once. UnsureError where it joins something, and that is not
        sure."""
        if step not in self._known:
            bodies, heaps = self.apart.heaps(step)
            self._known[step] = [set_scene(bodies, heap, self.apart.joined(heap, step, bodies)) for heap in heaps]
        return self._known[step]

    @cached_property
    def stacks(self) -> tuple[StackPicture, ...]:
        """The different stacks, as far as their order is told."""
        return list_stacks(self.build)

    @cached_property
    def section_scale(self) -> float:
        """To which all sections are drawn; 0 where there are none."""
        return find_scale(self.stacks) if self.stacks else 0.0

    def sections(self, step: int, width_mm: float, style: PageStyle) -> list[Figure]:
        """The section of every stack that a step (from 1) is the first to make, each for a column so wide; none where
        names are beyond all measure."""
        drawn = [draw_stack(stack, step, width_mm, self.section_scale, style) for stack in self._first_at(step)]
        return drawn if all(figure.height_mm <= MOST_CELL_MM for figure in drawn) else []

    def sections_across(self, step: int, after: int, width_mm: float, style: PageStyle) -> list[Figure]:
        """The same ones but the first so many, side by side; step 0 has the stacks that no step makes."""
        return draw_stacks(self._first_at(step)[after:], step, width_mm, self.section_scale, style)

    def drawn_before(self, step: int) -> tuple[tuple[str, int], ...]:
        """Letter and step of the sections that an earlier step has of what this one (from 1) makes."""
        return tuple((one.letter, one.steps[0]) for one in self.stacks if step in one.steps[1:])

    def _first_at(self, step: int) -> list[StackPicture]:
        return [one for one in self.stacks if (one.steps or (0,))[0] == step]
