"""What is not drawn, and why, in words: each cause once, with all that it keeps from being drawn."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping

from docgen.assemble.apart.boxes import find_boxes
from docgen.assemble.apart.heaps import UnsureError
from docgen.assemble.apart.unsure import HELD
from docgen.assemble.assembled import Assembled
from docgen.assemble.assembly import Copy
from docgen.assemble.space.straps import KEPT
from docgen.problems import is_are

JOIN, HANDLE = ("joins", "join"), ("handles", "handle")
WITHIN = "it lies within a box, which is drawn from outside"
MOST_NAMED = 4  # parts named in one line, besides those with a cause of their own


class MissingError(UnsureError):
    """A step joins parts that are not drawn; what keeps them from it is told with them."""

    def __init__(self, titles: list[str]) -> None:
        self.titles = titles
        super().__init__(_are_missing(titles))


def list_undrawn(build: Assembled, reasons: Mapping[Copy, str]) -> Mapping[Copy, str]:
    """Those of which no picture is drawn: straps alone are drawn flat, each with the keeper that its fold holds."""
    if not build.pieces:
        return {copy: why for copy, why in reasons.items() if why != KEPT}
    boxes = {one.copy for one in find_boxes(build)}
    within = {lies.copy for lies in build.assembly.lies if lies.is_behind and lies.host in boxes}
    return {copy: WITHIN if copy in within else why for copy, why in reasons.items() if copy not in boxes}


def leave_repeated(build: Assembled, lost: Mapping[Copy, str]) -> Mapping[Copy, str]:
    """The copies that are lost, each with its reason, without those that hang together alone as copies of the same parts do
    of which none is lost: one of several small articles stands for all."""
    groups = build.assembly.groups_before(len(build.assembly.steps)) if lost else ()
    drawn = {_name_parts(group) for group in groups if not any(copy in lost for copy in group)}
    alike = (group for group in groups if _name_parts(group) in drawn and all(copy in lost for copy in group))
    repeated = {copy for group in alike for copy in group}
    return {copy: why for copy, why in lost.items() if copy not in repeated}


def _name_parts(group: Iterable[Copy]) -> tuple[str, ...]:
    return tuple(sorted(copy.part for copy in group))


def tell_parts(reasons: Mapping[Copy, str]) -> Iterator[str]:
    """The parts that cannot be drawn, by their reasons; then those that these hold."""
    first: dict[str, str] = {}
    for copy, why in reasons.items():
        first.setdefault(copy.part, why)
    parts: dict[str, list[str]] = {}
    for part, why in first.items():
        parts.setdefault(why, []).append(f'"{part}"')
    held = parts.pop(HELD, [])
    yield from (f"{', '.join(names)}: {why}" for why, names in parts.items())
    if held:
        yield f"{', '.join(held)}: {HELD}"


def tell_steps(heaps_of: Callable[[int], object], count: int, verbs: tuple[str, str] = JOIN) -> Iterator[str]:
    """Of so many steps (from 0) those whose joining is not drawn, or what they handle that hangs together by then, of which
    `heaps_of` raises UnsureError: all of one reason in one line."""
    steps: dict[str, list[int]] = {}
    titles: dict[str, None] = {}
    for step, error in _find_unsure(heaps_of, count):
        is_missing = isinstance(error, MissingError)
        steps.setdefault("" if is_missing else str(error), []).append(step)
        titles.update(dict.fromkeys(error.titles if isinstance(error, MissingError) else ()))
    for why, found in steps.items():
        numbers = ", ".join(str(step + 1) for step in found)
        which = f"step {numbers} {verbs[0]}" if len(found) == 1 else f"steps {numbers} {verbs[1]}"
        yield f"what {which}: {why or _are_missing([*titles])}"


def _find_unsure(heaps_of: Callable[[int], object], count: int) -> Iterator[tuple[int, UnsureError]]:
    for step in range(count):
        try:
            heaps_of(step)
        except UnsureError as error:
            yield step, error


def _are_missing(titles: list[str]) -> str:
    if len(titles) > MOST_NAMED:
        return "some of the parts are not drawn"
    return f"{', '.join(titles)} {is_are(len(titles))} not drawn"
