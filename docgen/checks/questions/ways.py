"""Words of a step that sew dividing lines the other way than they are drawn: a helper cannot follow both."""

import re
from collections.abc import Iterator
from typing import Final

from docgen.checks.questions.question import Question, question
from docgen.checks.trade import Subject
from docgen.resolve import Divider

UP: Final = ("top", "mouth", "mouths", "head")  # words for the ends of a line
DOWN: Final = ("bottom", "foot", "base")
ENDS: Final = "|".join((*UP, *DOWN))
WAY_RE: Final = rf"(?i)\bsew[^.;:]*\bfrom (?:the )?({ENDS})\b[^.;:]*?\b(?:to|down to|up to) (?:the )?({ENDS})\b"


@question
def ask_ways_of_dividers(subject: Subject) -> Iterator[Question]:
    """Steps whose words sew upright dividing lines down, where these begin below, or up, where they begin above."""
    build = subject.build
    for event in build.assembly.events:
        steps = build.steps[event.step : event.step + 1] if event.kind == "dividers" else ()
        for step in steps:
            found = re.search(WAY_RE, step.do)
            ways = {_is_upward(line) for line in subject.parts.pieces[event.name].dividers if not line.goods}
            if found is None or len(ways) != 1 or (found[1].lower() in UP) == (found[2].lower() in UP):
                continue
            says_up, is_up = found[1].lower() in DOWN, ways.pop()
            if is_up is not None and is_up != says_up:
                drawn = "from the bottom to the top" if is_up else "from the top to the bottom"
                what = (
                    f"the words of this step sew from the {found[1].lower()} to the {found[2].lower()}, and the sheet "
                )
                what += f'tells and draws the dividing lines of "{event.name}" {drawn}'
                answer = "leave the way out of the words, or write it as it is drawn; a row may be begun at either end"
                yield Question(place=step.place, what=what, answer=answer)


def _is_upward(line: Divider) -> bool | None:
    """Whether an upright line begins below; None of one that lies across."""
    dx_mm, dy_mm = line.end.x - line.start.x, line.end.y - line.start.y
    return dy_mm > 0 if abs(dy_mm) > abs(dx_mm) else None
