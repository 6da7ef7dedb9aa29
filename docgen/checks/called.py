"""What a part is called."""

from collections.abc import Iterable

from docgen.resolve import Piece, Strap
from docgen.tables.cautions import has_phrase


def is_called(part: Piece | Strap, words: Iterable[str]) -> bool:
    """Whether the name of a part, or its title, has one of these words."""
    return any(has_phrase(f"{part.name} {part.title}", word) for word in words)
