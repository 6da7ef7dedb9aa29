"""Lines of text one below the other."""

from collections.abc import Iterable

from docgen.pages.marks.page import TextMark


def text_lines(
    lines: Iterable[str],
    left: float,
    first: float,
    step: float,
    size_mm: float,
    face: str = "regular",
    grey: float = 0.0,
) -> tuple[TextMark, ...]:
    """Lines that begin at `left`: the first one's baseline at `first`, each further one `step` below; all in mm."""
    return tuple(
        TextMark(x_mm=left, y_mm=first - row * step, text=line, size_mm=size_mm, face=face, grey=grey)
        for row, line in enumerate(lines)
    )
