"""Things of one kind before and after, paired with their likes; and those that have none."""

from collections.abc import Callable, Iterable
from typing import TypeVar

from docgen.versions.compared.changes import Fact

T = TypeVar("T")


def take_pairs(old: list[T], new: list[T], fits: Callable[[T, T], bool]) -> list[tuple[T, T]]:
    """Take out of both lists those that fit, as pairs: each with the first that is left."""
    pairs = []
    for item in tuple(old):
        other = next((one for one in new if fits(item, one)), None)
        if other is not None:
            old.remove(item)
            new.remove(other)
            pairs.append((item, other))
    return pairs


def tell_alone(gone: Iterable[str], come: Iterable[str]) -> list[Fact]:
    """Names of what has no like on the other side."""
    facts = [Fact(name, "there", "gone", "words") for name in gone]
    return facts + [Fact(name, "none", "new", "words") for name in come]
