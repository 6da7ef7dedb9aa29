"""Check of walls between two panels: how wide they are."""

from collections.abc import Iterator

from docgen.checks.trade.check import Found, Subject, check
from docgen.geometry.outline import outline_box
from docgen.problems import Place

LONG_EDGES = {("left",): ("right",), ("right",): ("left",)}


@check(
    "wall-wide",
    "A wall between two panels is at most {widest_wall} as wide as these are long.",
    "our choice: a barrel bag is two to three times as long as its ends are wide",
    needs_whole=True,
)
def find_wide_walls(subject: Subject) -> Iterator[Found]:
    """Strips and joins sewn to panels along both long edges; once for a wall."""
    most, told = subject.build.limits.widest_wall, set[str]()
    for seam in subject.build.seams:
        walls = [side for side in seam.sides if side.edges in LONG_EDGES and side.part not in told]
        for wall in walls:
            panels = [side.part for side in seam.sides if side.part != wall.part and side.part in subject.parts.pieces]
            own = subject.parts.pieces.get(wall.part)
            strips = [*subject.parts.strips(wall.part)] or ([own] if own else [])
            if not panels or not strips or strips[0].shape != "strip" or not _is_between(subject, wall.part):
                continue
            wide_mm = outline_box(strips[0].sewn_outline).width
            box = outline_box(subject.parts.pieces[panels[0]].sewn_outline)
            long_mm = max(box.width, box.height)
            if wide_mm > most * long_mm:
                told.add(wall.part)
                what = (
                    f'the wall "{wall.part}" is {subject.length(wide_mm)} wide, and "{panels[0]}", to which it is sewn, '
                    f"{subject.length(long_mm)} at its longest"
                )
                yield _place(subject, strips[0].name), what, "look at both figures and their units", wall.part


def _is_between(subject: Subject, wall: str) -> bool:
    """Whether other parts are sewn along both long edges."""
    edges = {side.edges for seam in subject.build.seams for side in seam.sides if side.part == wall}
    return {("left",), ("right",)} <= edges


def _place(subject: Subject, name: str) -> Place:
    return subject.size_place(subject.parts.pieces[name], is_across=True)
