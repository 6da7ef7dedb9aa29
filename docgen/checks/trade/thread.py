"""Checks of thread and stitch length against each other, the needle and the leather, by hand as by machine."""

from collections import Counter
from collections.abc import Iterator, Sequence

from docgen.assemble import leathers
from docgen.checks.trade.check import PRACTICE, Found, Subject, check
from docgen.resolve import Layer, Stitch, by_name
from docgen.tables import sewing
from docgen.tables.thread import find_needle, format_needle, thread_diameter_mm
from docgen.tables.usual import THREAD_TEX
from docgen.written.units.telling import format_mm, format_number, format_pitch

_PITCHES = ", ".join(f"{format_number(most, 1)} by {by}" for by, most in sewing.MOST_PITCH_IN_THREADS.items())


@check(
    "pitch-short-for-needle",
    "A machine stitch is {pitch_blade} as long as its needle is thick, or longer.",
    "ASTM D4705 as taught, for 3 times in a strength test; 2.5 times: common practice, no published source",
    needs_whole=True,
)
def find_short_stitches(subject: Subject) -> Iterator[Found]:
    """Told at the thread where the needle follows from it."""
    least = subject.build.limits.pitch_blade
    for stitch in _leather_stitches(subject):
        blade_mm = stitch.needle_nm / 100
        is_short = stitch.by == "machine" and stitch.pitch_mm < least * blade_mm - 1e-6
        if is_short and not _is_told(subject, stitch):
            what = (
                f'the stitch "{stitch.name}" of {format_pitch(stitch.pitch_mm)} is short for needle '
                f"{format_needle(stitch.needle_nm)}, which {stitch.thread_words} takes: its holes leave "
                f"{format_mm(stitch.pitch_mm - blade_mm)} of leather between them"
            )
            mend = f"make it {subject.pitch(stitch, least * blade_mm, is_most=False)}, or use a finer thread"
            yield subject.place_of(stitch, "needle"), what, mend, stitch.name


def _is_told(subject: Subject, stitch: Stitch) -> bool:
    """Whether the stitch or its needle is told as wrong in itself: too short, too long, too coarse for its thread, or
    more than its machine makes or takes."""
    machine = by_name(subject.build.machines).get(stitch.machine)
    usual_nm = find_needle(stitch.thread_tex) or stitch.needle_nm
    least_mm = subject.build.limits.least_pitch_mm if stitch.by == "machine" else 0.0
    return (
        not least_mm <= stitch.pitch_mm <= subject.build.limits.most_pitch_mm
        or stitch.needle_nm > sewing.MOST_NEEDLE_OVER_TABLE * usual_nm
        or (machine is not None and 0 < machine.needle_to_nm < stitch.needle_nm)
        or (machine is not None and 0 < machine.longest_stitch_mm < stitch.pitch_mm - 1e-6)
    )


@check(
    "thread-against-pitch",
    f"A stitch is at most so many times as long as its thread is thick: {_PITCHES}; by hand at least "
    f"{format_number(sewing.LEAST_PITCH_IN_THREADS, 1)}; over {format_mm(sewing.LONG_PITCH_MM)} is for Tex "
    f"{sewing.LONG_PITCH_TEX} and more.",
    PRACTICE,
    needs_whole=True,
)
def find_odd_threads(subject: Subject) -> Iterator[Found]:
    """Thread far too fine or too heavy for the stitch, or a stitch too long for it; told once."""
    for stitch in _leather_stitches(subject):
        thick_mm = thread_diameter_mm(stitch.thread_tex, stitch.thread_fibre)
        times = stitch.pitch_mm / thick_mm
        most = sewing.MOST_PITCH_IN_THREADS[stitch.by]
        is_light = times > most + 1e-6
        is_heavy = stitch.by == "hand" and times < sewing.LEAST_PITCH_IN_THREADS - 1e-6
        is_long = stitch.pitch_mm > sewing.LONG_PITCH_MM and stitch.thread_tex < sewing.LONG_PITCH_TEX
        if (is_light or is_heavy or is_long) and not _is_told(subject, stitch):
            kind = "heavy" if is_heavy else "fine"
            key = "pitch" if is_long and not is_light else "thread"
            place = subject.place_of(stitch, key)
            other_place = subject.place_of(stitch, "pitch" if key == "thread" else "thread")
            what = (
                f'{stitch.thread_words}, about {thick_mm:.2f} mm thick, is too {kind} for the stitch "{stitch.name}" of '
                f"{format_pitch(stitch.pitch_mm)} (line {other_place.line})"
            )
            other = "longer" if is_heavy else "shorter"
            thread = "finer" if is_heavy else "heavier"
            mend = f"look at both figures: a {thread} thread, or a {other} stitch"
            yield place, what, mend, stitch.name


THIN_LAYERS = 3  # many thin layers, as of a wallet, are sewn as three of them: our choice
_MOST = {"machine": sewing.MOST_TEX_TO_MM, "hand": sewing.MOST_HAND_TO_MM}
_LEAST = {"machine": sewing.LEAST_TEX_FROM_MM, "hand": sewing.LEAST_HAND_FROM_MM}
_BY_MACHINE = ", ".join(f"Tex {tex} from {format_mm(mm)} of leather" for mm, tex in reversed(sewing.LEAST_TEX_FROM_MM))
_MOST_BY_MACHINE = ", ".join(f"Tex {tex} up to {format_mm(mm)} of leather" for mm, tex in sewing.MOST_TEX_TO_MM)
_MOST_BY_HAND = ", ".join(f"{format_mm(size, 2)} up to {format_mm(mm)}" for mm, size in sewing.MOST_HAND_TO_MM)
_BY_HAND = ", ".join(f"{format_mm(size, 2)} from {format_mm(mm)}" for mm, size in reversed(sewing.LEAST_HAND_FROM_MM))


@check(
    "thread-light-for-stack",
    f"Leather is sewn with thread that holds it: by machine at least {_BY_MACHINE}; by hand at least {_BY_HAND}.",
    PRACTICE,
    needs_whole=True,
    waits_for=("thickness-unusual", "thickness-in-other-unit"),
)
def find_light_threads(subject: Subject) -> Iterator[Found]:
    """Once for a stitch, at the thickest stack that it sews; a thread that is fine for its stitch is told as that."""
    for stitch, leather_mm, seam_name in _thickest(subject):
        thick_mm = thread_diameter_mm(stitch.thread_tex, stitch.thread_fibre)
        rows, size = _LEAST[stitch.by], thick_mm if stitch.by == "hand" else stitch.thread_tex
        least = next(size for mm, size in rows if leather_mm >= mm - 1e-6)
        is_told = stitch.pitch_mm / thick_mm > sewing.MOST_PITCH_IN_THREADS[stitch.by]
        if size < least and not is_told:
            thick = f", about {thick_mm:.2f} mm thick," if stitch.by == "hand" else ""
            leather = f"{format_mm(leather_mm)} of leather"
            what = f"{stitch.thread_words}{thick} is too fine for the {leather} in the {seam_name}"
            wanted = f"thread of {format_mm(least, 2)}" if stitch.by == "hand" else f"Tex {least}"
            yield subject.place_of(stitch, "thread"), what, f"use {wanted} or heavier", stitch.name


@check(
    "thread-heavy-for-stack",
    f"Thread is no heavier than the leather bears: by machine at most {_MOST_BY_MACHINE}; by hand at most {_MOST_BY_HAND}.",
    PRACTICE,
    needs_whole=True,
)
def find_heavy_threads(subject: Subject) -> Iterator[Found]:
    """Once for a stitch, at the thickest stack that it sews; one that is heavy for its stitch is told as that."""
    for stitch, leather_mm, seam_name in _thickest(subject):
        thick_mm = thread_diameter_mm(stitch.thread_tex, stitch.thread_fibre)
        rows, size = _MOST[stitch.by], thick_mm if stitch.by == "hand" else stitch.thread_tex
        most = next((size for mm, size in rows if leather_mm <= mm + 1e-6), None)
        is_told = stitch.by == "hand" and stitch.pitch_mm / thick_mm < sewing.LEAST_PITCH_IN_THREADS - 1e-6
        is_told = is_told or stitch.thread_tex > THREAD_TEX[1]
        if most is not None and size > most + 1e-6 and not (is_told or _is_told(subject, stitch)):
            thick = f", about {thick_mm:.2f} mm thick," if stitch.by == "hand" else ""
            what = (
                f"{stitch.thread_words}{thick} is heavy for the {format_mm(leather_mm)} of leather in the {seam_name}"
            )
            wanted = f"thread of {format_mm(most, 2)}" if stitch.by == "hand" else f"Tex {most}"
            mend = f"look at thread and leather: use {wanted} or finer"
            yield subject.place_of(stitch, "thread"), what, mend, stitch.name


def _thickest(subject: Subject) -> Iterator[tuple[Stitch, float, str]]:
    """Each stitch that goes through leather, with the thickest leather that it sews, and where."""
    thickest: dict[str, tuple[float, str]] = {}
    for seam in subject.build.seams:
        found = (_leather_mm(subject, seam.layers), f'seam "{seam.name}"{_folded(subject, seam.layers)}')
        thickest[seam.stitch] = max(found, thickest.get(seam.stitch, (0.0, "")))
    thickest |= _of_straps(subject, thickest)
    for stitch in _leather_stitches(subject):
        if stitch.name in thickest:
            yield stitch, *thickest[stitch.name]


def _folded(subject: Subject, layers: Sequence[Layer]) -> str:
    """`, where "cover" lies folded`: what lies there more than once by its own folds, in words; else nothing."""
    found = Counter(layer.part for layer in layers)
    own = {piece.name for piece in subject.build.pieces if any(not fold.is_open for fold in piece.marks.folds)}
    names = [f'"{name}"' for name, count in found.items() if count > 1 and name in own]
    return f", where {' and '.join(names)} {'lies' if len(names) == 1 else 'lie'} folded" if names else ""


def _of_straps(subject: Subject, thickest: dict[str, tuple[float, str]]) -> dict[str, tuple[float, str]]:
    """The turned ends of straps that are sewn with a stitch: both layers of the strap, where that is more."""
    found: dict[str, tuple[float, str]] = {}
    for strap in subject.build.straps:
        material = subject.material(strap.piece)
        for end in strap.ends if material and material.kind == "leather" else ():
            thick = (2 * strap.thickness_mm, f'turned end of "{strap.name}"')
            known = (found.get(end.sewn, (0.0, "")), thickest.get(end.sewn, (0.0, "")))
            if end.shape == "turned" and end.sewn and not end.skive:
                found[end.sewn] = max(thick, *known)
    return found


def _leather_mm(subject: Subject, layers: tuple[Layer, ...]) -> float:
    leather = leathers(subject.build)
    thick_mm = [layer.thickness_mm for layer in layers if layer.material in leather]
    return min(sum(thick_mm), THIN_LAYERS * max(thick_mm, default=0.0))


def _leather_stitches(subject: Subject) -> Iterator[Stitch]:
    leather = subject.leather_stitches
    return (stitch for stitch in subject.build.stitches if stitch.name in leather)
