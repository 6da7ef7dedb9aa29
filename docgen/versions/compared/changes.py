"""What changed between two builds, as values: facts in mm and words as written. `words` says them to a person."""

from typing import Literal

from docgen.classes import dataclass
from docgen.told import Figure
from docgen.written.units.telling import Show

Unit = Figure | Literal["hole", "move"]
How = Literal["added", "removed", "changed"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Spot:
    """A hole as a maker measures it: its middle from the left and the top of the piece; `long_mm` is 0 for a
    round one."""

    from_left_mm: float
    from_top_mm: float
    diameter_mm: float
    takes: str
    long_mm: float = 0.0


Known = float | int | str | Spot | None


@dataclass(frozen=True, slots=True)
class Fact:
    """One thing about a part, before and after. Of a "move" only `after` is told: how far, in mm."""

    name: str
    before: Known
    after: Known
    unit: Unit


@dataclass(frozen=True, slots=True, kw_only=True)
class Change:
    """One part of the build that was added, removed or changed; `facts` only when changed."""

    part: str
    name: str
    title: str
    how: How
    facts: tuple[Fact, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class TemplateVerdict:
    """Must a template be cut again? `reasons` say why; without any, the older template is still right."""

    name: str
    title: str
    reasons: tuple[str, ...]
    how: How = "changed"

    @property
    def is_kept(self) -> bool:
        return not self.reasons and self.how == "changed"


@dataclass(frozen=True, slots=True, kw_only=True)
class PrintedPage:
    """A page of a document: `number` counts from 1; `name` is a sheet's own ("B2"), "" for other pages."""

    document: str
    number: int
    name: str


@dataclass(frozen=True, slots=True, kw_only=True)
class PageVerdict:
    """A page of the newer documents, and the older one that is still right in its place: None when it must be printed.
    `is_moved` tells that the templates on it are right and only lie elsewhere."""

    page: PrintedPage
    kept: PrintedPage | None
    is_moved: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Side:
    """One of the two that are compared: what it is called, its version and its digest."""

    label: str
    code: str
    version: str
    digest: str
    variant: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Comparison:
    """All that changed from one build to another, and what must be cut and printed again."""

    before: Side
    after: Side
    show: Show
    changes: tuple[Change, ...]
    templates: tuple[TemplateVerdict, ...]
    pages: tuple[PageVerdict, ...]
    thrown: tuple[PrintedPage, ...]
