"""Values as written: each with its place in the file."""

from typing import Generic, TypeVar

from docgen.classes import dataclass
from docgen.problems import Place

T = TypeVar("T")


@dataclass(frozen=True, slots=True, kw_only=True)
class Value(Generic[T]):
    """A value as written, and where."""

    value: T
    place: Place


@dataclass(frozen=True, slots=True, kw_only=True)
class Table:
    """A table of a file as written, and where it stands."""

    place: Place = Place()


@dataclass(frozen=True, slots=True, kw_only=True)
class NamedTable(Table):
    """A table with a name of its own, as in [pieces.back]."""

    name: str = ""


Text = Value[str] | None
Length = Value[str] | None  # written length or arithmetic on measures, not yet worked out
Count = Value[int] | None
Flag = Value[bool] | None
Names = tuple[Value[str], ...]
Lengths = tuple[Value[str], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class NamedPrice:
    """One `name = price` pair; the name may be any words."""

    name: str
    price: Value[str]


@dataclass(frozen=True, slots=True, kw_only=True)
class NamedNumber:
    """One `name = whole number` pair."""

    name: str
    number: Value[int]


@dataclass(frozen=True, slots=True, kw_only=True)
class NamedLength:
    """One `name = length` pair: a measure, or a corner with its radius (name "" for every corner)."""

    name: str
    length: Value[str]
