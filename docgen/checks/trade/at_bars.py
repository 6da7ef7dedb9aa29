"""Check of rivets beside the bar of a fitting: there is room for their heads between the bend and their hole."""

import re
from collections.abc import Iterator

from docgen.checks.sizes_said import plain_mm
from docgen.checks.trade.check import PRACTICE, Found, Subject, check
from docgen.problems import line_words
from docgen.resolve import Hardware, Strap, bar_wrap_mm, closing_spots, from_end_mm

HEAD_RE = r"(?i)\b((?:\d+(?:\.\d+)?|\d+/\d+) (?:mm|in)) (?:cap|head)s?\b"
ROOM_MM = 0.5  # by so much less a head still goes down beside the bend: our choice


@check(
    "rivet-at-bar",
    "A rivet that closes a fold round a fitting lies so far from it that its head is clear of the bend round the bar.",
    PRACTICE,
    needs_whole=True,
    gives_way=("hole-size", "holes-apart"),
)
def find_rivets_at_bars(subject: Subject) -> Iterator[Found]:
    """Holes of pieces for what is not round the bar itself, by the half of the leather that goes round that and half of the
    head, where the words of the hardware say how wide it is, else of the hole; the first of a piece, and of an end."""
    hardware = {item.name: item for item in subject.build.hardware}
    for piece in subject.build.pieces:
        material = subject.material(piece)
        for fold in piece.own_folds:
            item = hardware.get(fold.around)
            if item is None or fold.is_open or not item.bar_mm or material is None:
                continue
            bend_mm = bar_wrap_mm(item.bar_mm, material.thickness_mm) / 2
            for hole in piece.marks.holes:
                taken = hardware.get(hole.takes)
                off_mm, head_mm = abs(fold.off_mm(hole.at)), max(_head_mm(taken), hole.diameter_mm)
                if taken is None or hole.long_mm or off_mm >= bend_mm + head_mm / 2 - ROOM_MM:
                    continue
                what = (
                    f'"{hole.takes}" in "{piece.name}" lies {subject.length(off_mm)} from the fold round "{item.name}"'
                    f"{line_words(fold.place.line)}, and leather round its bar and half of the head take "
                    f"{subject.length(bend_mm + head_mm / 2)}"
                )
                line = line_words(subject.size_place(piece, is_across=abs(fold.end.y - fold.start.y) > 1.0).line)
                mend = f"let the piece be longer{line}, or put the hole farther from its fold"
                yield hole.place, what, mend, piece.name
                break
    for strap in subject.build.straps:
        yield from _at_ends(subject, strap, hardware)


def _at_ends(subject: Subject, strap: Strap, hardware: dict[str, Hardware]) -> Iterator[Found]:
    for which, end in enumerate(strap.ends):
        head_mm = _head_mm(hardware.get(end.takes))
        spots = closing_spots(strap, which) if head_mm and end.around else []
        flat_mm = end.back_mm - max((spot.y for spot in spots), default=0.0)
        if spots and flat_mm < head_mm / 2 - ROOM_MM:
            nearest = max(spots, key=lambda spot: spot.y)
            hole = min(
                strap.piece.marks.holes[strap.row_holes :],
                key=lambda it: abs(from_end_mm(strap, which, it.at) - nearest.y),
            )
            what = (
                f'"{end.takes}" at the end of the strap "{strap.name}" that goes round "{end.around}" lies '
                f"{subject.length(max(0.0, flat_mm))} from where it bends, and half of its head takes "
                f"{subject.length(head_mm / 2)}"
            )
            yield (
                hole.place,
                what,
                f"let more lie back{line_words(end.place.line)}, or put the hole farther off",
                strap.name,
            )


def _head_mm(item: Hardware | None) -> float:
    """How wide the head of hardware is by its words; 0 where they do not say it."""
    match = re.search(HEAD_RE, item.what) if item else None
    return plain_mm(match[1].lower()) if match else 0.0
