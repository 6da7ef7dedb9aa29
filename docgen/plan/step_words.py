"""Straps and hardware in words, as the lines of steps put them in, and the words of a step itself."""

from collections.abc import Callable, Sequence

from docgen.assemble import Stack
from docgen.plan.names import call_hardware, spoken
from docgen.resolve import END_NAMES, Build, Step, Strap, StrapEnd
from docgen.written.units.telling import (
    Show,
    format_length,
    format_short,
    format_short_punch,
    format_stack,
    format_thickness,
)


def done_in(step: Step) -> tuple[str, ...]:
    """What is done in a step in the words of the spec."""
    return (step.do, *step.first, *step.last)


def said_in(step: Step) -> tuple[str, ...]:
    """All that a step says in the words of the spec."""
    return (step.do, step.note, *step.first, *step.last)


def shape_words(strap: Strap, build: Build) -> list[str]:
    """The shape of its ends, tapers, skived ends."""
    show, lines = build.show, list[str]()
    shapes = [end.shape for end in strap.ends]
    if shapes[0] == shapes[1]:
        lines.append(f"both ends {'to be turned' if shapes[0] == 'turned' else shapes[0]}")
    else:
        told = ("to be turned" if shape == "turned" else shape for shape in shapes)
        lines += [f"{which} {shape}" for which, shape in zip(END_NAMES, told, strict=True)]
    lines += taper_words(strap, show, format_short)
    lines += [
        f"skive the {which}, flesh side, to {format_thickness(end.skive.to_mm, 'leather', show, end.skive.to_words)} over "
        f"{format_short(end.skive.over_mm, show)}"
        for which, end in zip(END_NAMES, strap.ends, strict=True)
        if end.skive
    ]
    return lines


def worn_words(strap: Strap, show: Show) -> tuple[str, str, str] | None:
    """How long a strap with buckle holes is worn: at its shortest, at the middle hole, at its longest."""
    if not strap.worn_mm:
        return None
    shortest, middle, longest = strap.worn_mm
    return format_short(shortest, show), format_length(middle, show), format_short(longest, show)


def lining_words(strap: Strap, build: Build) -> list[str]:
    """The second layer of a doubled strap, and its padding."""
    found = []
    if strap.lining:
        material = spoken(build.titles[strap.lining])
        found.append(f"second layer of {material}, {format_short(strap.lining_length_mm, build.show)} long")
    return [*found, *([_padding_words(strap, build)] if strap.padding else [])]


def taper_words(strap: Strap, show: Show, tell: Callable[[float, Show], str] = format_length) -> list[str]:
    """How each tapered end is cut: `first end: 3/4 in wide for 4 in, then tapers over 6 in`."""
    lines = []
    for which, end in enumerate(strap.ends):
        if end.taper is not None:
            wide, straight, long = (
                tell(mm, show) for mm in (end.taper.width_mm, end.taper.straight_mm, end.taper.long_mm)
            )
            kept = f" for {straight}" if end.taper.straight_mm else ""
            lines.append(f"{END_NAMES[which]}: {wide} wide{kept}, then tapers over {long}")
    return lines


def turned_words(strap: Strap, end: StrapEnd, build: Build) -> str:
    """`turn back round the D ring, flesh side in; fold 2 1/4 in from the cut end`: one length, that of the line to
    fold on. What lies deeper in the fold comes close behind: first a keeper, as the tip finds it there."""
    whats = call_hardware(build.hardware)
    around = f" round the {whats[end.rings[0]]}" if end.rings else ""
    is_leather = any(item.name == strap.material and item.kind == "leather" for item in build.materials)
    inner = "second layer" if strap.lining else "flesh side" if is_leather else "wrong side"
    told = [f"turn back{around}, {inner} in", f"fold {format_short(end.fold_mm, build.show)} from the cut end"]
    if end.loop_mm:
        told.append(f"leave a loop of {format_short(end.loop_mm, build.show)} open on either side of the fold")
    deeper = [spoken(build.titles[end.keeper])] if end.keeper else []
    deeper += [whats[name] for name in end.rings[1:]]
    if deeper:
        told.append(f"{', then '.join(deeper)} in the fold{', close behind that' if end.rings else ''}")
    if end.slot_long_mm:
        told.append("slot for the tongue at the fold")
    if end.sewn:
        told.append("sewn along both edges of what lies back, not across")
    return "; ".join(told)


def _padding_words(strap: Strap, build: Build) -> str:
    """Where the padding lies: in the middle of what is not turned back."""
    material = spoken(build.titles[strap.padding])
    wide, long = (format_short(mm, build.show) for mm in (strap.padding_width_mm, strap.padding_length_mm))
    first, second = strap.ends
    begin_mm = first.back_mm + (strap.finished_mm - first.back_mm - second.back_mm - strap.padding_length_mm) / 2
    begins = format_short(begin_mm, build.show)
    return f"padding of {material}, {wide} wide, {long} long, from {begins} after the first end as made up"


def row_words(tips_mm: Sequence[float], punch_mm: float, show: Show) -> str:
    """`7 holes of 5/32 in, from 3 1/2 in to 9 1/2 in from the tip`."""
    punch, (first, last) = format_short_punch(punch_mm, show), (format_short(tips_mm[k], show) for k in (0, -1))
    if len(tips_mm) == 1:
        return f"1 hole of {punch}, {first} from the tip"
    return f"{len(tips_mm)} holes of {punch}, from {first} to {last} from the tip"


def stack_words(stack: Stack) -> str:
    """From its thinnest to its thickest place, where they differ as it is printed."""
    least, most = map(format_stack, (stack.thinnest_mm, stack.thickest_mm))
    return most if least == most else format_stack(stack.thinnest_mm, stack.thickest_mm)


def count_kind(count: int, kind: str) -> str:
    """`1 rivet`, `2 screw posts`, `1 snap stud`; the bare number where the kind is not known."""
    noun = kind.replace("-", " ")
    return str(count) if kind == "other" else f"{count} {noun}" if count == 1 else f"{count} {noun}s"
