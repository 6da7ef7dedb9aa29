"""What is seen of a spec at one time."""

from docgen.checks.questions import Question
from docgen.classes import dataclass
from docgen.pages.marks.page import Page
from docgen.pages.setting.blocks import Figure
from docgen.plan import Plan
from docgen.problems import Problem


@dataclass(frozen=True, slots=True, kw_only=True)
class Shown:
    """What can be drawn of a spec without errors: its plan, the finished article as far as it can be drawn,
    and the sheets of its pattern; `variant` is the one
    shown of `variants`."""

    plan: Plan
    finished: tuple[Figure, ...]
    sheets: tuple[Page, ...]
    variant: str = ""
    variants: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Sight:
    """A spec as it was read: its `name`, all problems, what is asked of its maker, and in words what was accepted and
    what was worked out. `shown` is None where there are errors; `call` says why the call cannot be meant any more,
    `fault` what went wrong in docgen itself."""

    name: str
    problems: tuple[Problem, ...] = ()
    asked: tuple[Question, ...] = ()
    accepted: tuple[str, ...] = ()
    worked_out: tuple[str, ...] = ()
    shown: Shown | None = None
    call: str = ""
    fault: str = ""
