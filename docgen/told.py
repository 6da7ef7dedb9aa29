"""How a change of a value is told to a person: the words for a field, and what kind of figure it holds.

They stand beside the field itself, in its metadata, and `versions/compared` reads them from there.
"""

from dataclasses import field, fields
from typing import Any, Final, Literal

from docgen.classes import dataclass

Figure = Literal["length", "area", "count", "words", "share", "needle", "pitch", "number"]
KEY: Final = "told"


@dataclass(frozen=True, slots=True)
class Told:
    """What a field is called in a comparison; `is_part` where it holds parts that are compared field by field."""

    words: str
    figure: Figure = "words"
    is_part: bool = False


def told(words: str, figure: Figure = "words", **more: Any) -> Any:
    """A dataclass field whose change is told under these words. Lengths that differ by no more than a sharp line is
    wide do not count."""
    return field(metadata={KEY: Told(words, figure)}, **more)


def told_parts(words: str, **more: Any) -> Any:
    """A field that holds a part, or parts by their names, of a kind called `words`."""
    return field(metadata={KEY: Told(words, is_part=True)}, **more)


def untold(**more: Any) -> Any:
    """A field that is not compared by itself: it names its part, follows from figures that are told, or has a comparison
    of its own."""
    return field(metadata={KEY: None}, **more)


def list_told(owner: type[Any]) -> tuple[tuple[str, Told], ...]:
    """Each field of a dataclass that is told, in the order in which they are declared."""
    marked = ((item.name, item.metadata.get(KEY)) for item in fields(owner))
    return tuple((name, said) for name, said in marked if said is not None)
