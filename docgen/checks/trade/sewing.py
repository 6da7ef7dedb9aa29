"""Checks of needle, thread, pitch, machine and load."""

from collections.abc import Iterator, Mapping

from docgen.checks.trade.check import PRACTICE, Found, Subject, check
from docgen.problems import Place, line_words, name_words
from docgen.resolve import Machine, Stitch, by_name, joint_gap_mm
from docgen.tables import usual
from docgen.tables.sewing import LEAST_BETWEEN_ROWS_MM, LEAST_BEYOND_ROW_MM, LEAST_OVERLAP_MM, MOST_NEEDLE_OVER_TABLE
from docgen.tables.thread import NEEDLE_SIZES, find_least_needle, find_needle, format_needle, thread_diameter_mm
from docgen.written.units.table import N_PER_G
from docgen.written.units.telling import format_fine, format_mm, format_number, format_pitch


@check("needle-too-fine", "The thread fills at most {needle_share} of the blade.", 'Schmetz dictionary, "Long groove"')
def find_fine_needles(subject: Subject) -> Iterator[Found]:
    for stitch in _machine_stitches(subject):
        diameter_mm = thread_diameter_mm(stitch.thread_tex, stitch.thread_fibre)
        share = subject.build.limits.needle_share
        if diameter_mm <= share * stitch.needle_nm / 100:
            continue
        floor = find_least_needle(stitch.thread_tex, stitch.thread_fibre, share)
        least = min((size for size in NEEDLE_SIZES if size >= floor), default=max(NEEDLE_SIZES))
        what = (
            f"needle {format_needle(stitch.needle_nm)} is too fine for {stitch.thread_words}: the thread is about "
            f"{diameter_mm:.2f} mm thick, over {format_number(100 * share, 1)} % of the blade"
        )
        mend = f"use needle {format_needle(least)} or thicker, and test on scrap"
        yield subject.place_of(stitch, "needle"), what, mend, stitch.name


@check(
    "needle-too-coarse",
    f"The blade is at most {format_number(MOST_NEEDLE_OVER_TABLE, 2)} times as thick as the one by table.",
    PRACTICE,
)
def find_coarse_needles(subject: Subject) -> Iterator[Found]:
    for stitch in _machine_stitches(subject):
        usual = find_needle(stitch.thread_tex)
        if usual is not None and stitch.needle_nm > MOST_NEEDLE_OVER_TABLE * usual:
            what = (
                f"needle {format_needle(stitch.needle_nm)} is too coarse for {stitch.thread_words}: its holes stay open"
            )
            mend = f"use needle {format_needle(usual)}, and test on scrap"
            yield subject.place_of(stitch, "needle"), what, mend, stitch.name


@check(
    "needle-beyond-machine",
    "The needle is one that its machine takes.",
    "the machine, as the spec describes it",
    waits_for=("machine-unusual",),
)
def find_foreign_needles(subject: Subject) -> Iterator[Found]:
    for stitch, machine in _on_machines(subject):
        least, most = machine.needle_from_nm, machine.needle_to_nm or 1000
        if not least <= stitch.needle_nm <= most:
            limit = f"from {format_needle(least)} up" if stitch.needle_nm < least else f"up to {format_needle(most)}"
            what = (
                f'the stitch "{stitch.name}" needs needle {format_needle(stitch.needle_nm)}, and "{machine.name}" '
                f"takes needles {limit}"
            )
            key = "needle_from" if stitch.needle_nm < least else "needle_to"
            what += line_words(subject.written_at(subject.spec.machines, machine.name, key).line)
            yield (subject.place_of(stitch, "needle"), what, "use another machine or another thread", stitch.name)


@check("needle-point", "Leather is sewn with a cutting point.", PRACTICE, needs_whole=True)
def find_round_points(subject: Subject) -> Iterator[Found]:
    leather = subject.leather_stitches
    for stitch in _machine_stitches(subject):
        if stitch.name in leather and stitch.point == "round":
            what = f'the stitch "{stitch.name}" goes through leather with a round point, which pushes instead of cuts'
            yield (subject.place_of(stitch, "point"), what, 'write point = "leather", or leave it out', stitch.name)


@check(
    "stack-beyond-machine",
    "A stack goes under the foot of its machine, at its thickest place too.",
    "the machine, as the spec describes it",
    needs_whole=True,
    waits_for=("thickness-unusual", "thickness-in-other-unit"),
)
def find_thick_stacks(subject: Subject) -> Iterator[Found]:
    build = subject.build
    machines = {stitch.name: machine for stitch, machine in _on_machines(subject)}
    landed = {seam.name: seam.landed for seam in build.seams if seam.landed}
    stacks = [(seam.name, "seam", seam.stitch, seam.thickest_mm, seam.place) for seam in build.seams]
    joints = {run.part: run.stack.thickest_mm for run in build.assembly.runs if run.kind == "joins"}
    stacks += [
        (join.name, "join", join.stitch, joints.get(join.name, join.stack_mm), join.place) for join in build.joins
    ]
    stacks += [(strap.name, "strap", strap.stitch, strap.thickness_mm, strap.piece.place) for strap in build.straps]
    stacks += _sewn_on(subject)
    for name, kind, stitch, stack_mm, place in stacks:
        machine = machines.get(stitch)
        if machine is not None and 0 < machine.lifts_mm < stack_mm - 1e-6:
            what = (
                f'the {kind} "{name}" is {format_mm(stack_mm)} thick at its thickest{_beneath(landed, name)}, and '
                f'"{machine.name}" sews {format_mm(machine.lifts_mm)}'
            )
            yield place, what, "skive what lies there, or sew it by hand", name


def _sewn_on(subject: Subject) -> Iterator[tuple[str, str, str, float, Place]]:
    """Ends of straps that are sewn on where they land: the strap and what lies beneath."""
    straps = by_name(subject.build.straps)
    for base in subject.build.pieces:
        material = subject.material(base)
        for end in base.strap_landings:
            if end.stitch and end.strap in straps and material is not None:
                stack_mm = straps[end.strap].thickness_mm + material.thickness_mm
                yield end.strap, "end of strap", end.stitch, stack_mm, end.place


def _beneath(landed: Mapping[str, tuple[str, ...]], name: str) -> str:
    """`, where "pocket" lies under it`; empty where nothing lands there."""
    parts = landed.get(name, ())
    named = name_words(parts)
    return f", where {named} {'lies' if len(parts) == 1 else 'lie'} under it" if parts else ""


@check("stitch-near-edge", "A stitch line lies {stitch_edge} or more from the cut edge.", PRACTICE)
def find_lines_at_edge(subject: Subject) -> Iterator[Found]:
    least_mm = subject.build.limits.stitch_edge_mm
    for stitch in subject.build.stitches:
        if stitch.inset_mm < least_mm - 1e-6:
            what = (
                f'the stitch "{stitch.name}" lies {format_fine(stitch.inset_mm, 1)} mm from the cut edge, and tears '
                "out of it"
            )
            mend = f"make its inset {format_mm(least_mm)} or more"
            yield subject.place_of(stitch, "inset"), what, mend, stitch.name


@check(
    "overlap-short",
    f"Strips that are sewn end to end lie {format_mm(LEAST_OVERLAP_MM)} or more over each other, and "
    f"{format_mm(LEAST_BEYOND_ROW_MM)} farther than their row from the edge.",
    PRACTICE,
)
def find_thin_overlaps(subject: Subject) -> Iterator[Found]:
    for join in subject.build.joins:
        inset_mm = subject.inset_mm(join.stitch)
        least_mm = max(LEAST_OVERLAP_MM, inset_mm + LEAST_BEYOND_ROW_MM)
        if join.overlap_mm < least_mm - 1e-6:
            what = (
                f'the strips of "{join.name}" lie {format_fine(join.overlap_mm, 1)} mm over each other, too little for '
                f"a row of stitches {format_fine(inset_mm, 1)} mm from the edge"
            )
            mend = f"make overlap {format_mm(least_mm)} or more, or accept that they are sewn edge to edge"
            yield join.overlap_place, what, mend, join.name


@check(
    "rows-near",
    f"Between the rows of a stitch, and of a joint, {format_mm(LEAST_BETWEEN_ROWS_MM)} of leather stay beside the blade or "
    "the thread.",
    PRACTICE,
)
def find_near_rows(subject: Subject) -> Iterator[Found]:
    """Stitches and joins of several rows; the hole of a hand stitch is taken to be as wide as its thread."""
    stitches = by_name(subject.build.stitches)
    rowed = [
        (one, one.row_gap_mm, f'stitch "{one.name}"', 1, subject.place_of(one, "row_gap"))
        for one in subject.build.stitches
        if one.rows > 1
    ]
    rowed += [
        (stitches[join.stitch], joint_gap_mm(join), f'join "{join.name}"', join.rows + 1, join.overlap_place)
        for join in subject.build.joins
        if join.rows > 1 and join.stitch in stitches
    ]
    for stitch, gap_mm, of, gaps, place in rowed:
        by_machine = stitch.by == "machine" and stitch.needle_nm > 0
        wide_mm = stitch.needle_nm / 100 if by_machine else thread_diameter_mm(stitch.thread_tex, stitch.thread_fibre)
        least_mm = wide_mm + LEAST_BETWEEN_ROWS_MM
        if gap_mm < least_mm - 1e-6:
            what = (
                f"the rows of the {of} lie {format_fine(gap_mm, 1)} mm apart, and its "
                f"{'needle' if by_machine else 'thread'} is {format_fine(wide_mm, 1)} mm thick: they cut the leather "
                "between them"
            )
            mend = f"let them lie {format_mm(least_mm)} apart or more"
            if gaps > 1:
                mend = f"make overlap {format_mm(gaps * least_mm)} or more, or the rows fewer"
            yield place, what, mend, stitch.name


@check(
    "rows-far",
    "Rows of one stitch lie at most as far apart as a line may lie from its edge, {most_inset}.",
    PRACTICE,
    needs_whole=True,
)
def find_far_rows(subject: Subject) -> Iterator[Found]:
    for stitch in subject.build.stitches:
        if stitch.rows > 1 and stitch.row_gap_mm > subject.build.limits.most_inset_mm + 1e-6:
            last_mm = stitch.inset_mm + (stitch.rows - 1) * stitch.row_gap_mm
            what = (
                f'the rows of the stitch "{stitch.name}" lie {subject.length(stitch.row_gap_mm)} apart, and the last of '
                f"them {subject.length(last_mm)} from the edge"
            )
            yield subject.place_of(stitch, "row_gap"), what, "look at the figure and its unit", stitch.name


@check("pitch-too-fine", "Machine stitches in leather are {least_pitch} long or longer.", PRACTICE, needs_whole=True)
def find_fine_pitches(subject: Subject) -> Iterator[Found]:
    leather = subject.leather_stitches
    for stitch in _machine_stitches(subject):
        if stitch.name in leather and stitch.pitch_mm < subject.build.limits.least_pitch_mm:
            what = f'the stitch "{stitch.name}" of {format_pitch(stitch.pitch_mm)} cuts leather like a postage stamp'
            mend = f"make it {subject.pitch(stitch, subject.build.limits.least_pitch_mm, is_most=False)}"
            yield subject.place_of(stitch, "pitch"), what, mend, stitch.name


@check(
    "pitch-too-coarse",
    "Stitches in leather are {most_pitch} long or shorter.",
    "makers' pages differ, 4 to 6 per inch for machines, 3.3 mm to 5 mm by hand: warned at the cautious end; common "
    "practice, no published source",
    needs_whole=True,
)
def find_coarse_pitches(subject: Subject) -> Iterator[Found]:
    leather = subject.leather_stitches
    for stitch in subject.build.stitches:
        if stitch.name in leather and stitch.pitch_mm > subject.build.limits.most_pitch_mm:
            what = f'the stitch "{stitch.name}" of {format_pitch(stitch.pitch_mm)} is coarse for leather'
            mend = f"make it {subject.pitch(stitch, subject.build.limits.most_pitch_mm, is_most=True)}"
            yield subject.place_of(stitch, "pitch"), what, mend, stitch.name


@check(
    "stitch-beyond-machine", "A stitch is no longer than its machine makes it.", "the machine, as the spec describes it"
)
def find_long_stitches(subject: Subject) -> Iterator[Found]:
    for stitch, machine in _on_machines(subject):
        if 0 < machine.longest_stitch_mm < stitch.pitch_mm - 1e-6:
            what = (
                f'the stitch "{stitch.name}" is {format_pitch(stitch.pitch_mm)}, and "{machine.name}" makes '
                f"{format_pitch(machine.longest_stitch_mm)} at the longest"
            )
            yield (subject.place_of(stitch, "pitch"), what, "use a shorter stitch or another machine", stitch.name)


@check(
    "load-over-estimate",
    "A loaded seam carries its load by the estimate from its thread.",
    'American & Efird, "Stitches per inch", pages 32-33',
    needs_whole=True,
)
def find_overloads(subject: Subject) -> Iterator[Found]:
    for seam in subject.build.seams:
        if 0 < seam.strength_n < seam.load_n:
            what = (
                f'the seam "{seam.name}" has to carry {seam.load_words} ({format_number(seam.load_n, 0)} N), and its '
                f"thread about {format_number(seam.strength_n, 0)} N by estimate"
            )
            mend = "use stronger thread or more rows; leather can tear before the thread does"
            yield seam.place, what, mend, seam.name


@check(
    "load-unusual",
    f"A seam is said to carry {format_number(usual.MOST_LOAD_KG, 0)} kg at most.",
    "NIOSH lifting equation, 23 kg in the ideal case; four times that is our choice",
)
def find_odd_loads(subject: Subject) -> Iterator[Found]:
    for seam in subject.build.seams:
        is_told = 0 < seam.strength_n < seam.load_n
        if seam.load_n > usual.MOST_LOAD_KG * 1000 * N_PER_G + 1e-6 and not is_told:
            what = f'the seam "{seam.name}" is said to carry {seam.load_words}: nothing sewn here is made to lift that'
            place = subject.written_at(subject.spec.seams, seam.name, "load")
            yield place, what, "look at the figure and its unit", seam.name


@check(
    "load-without-strength",
    "The strength of a loaded seam's thread is known.",
    "the tables, or the spec",
    needs_whole=True,
)
def find_unknown_strengths(subject: Subject) -> Iterator[Found]:
    stitches = by_name(subject.build.stitches)
    for seam in subject.build.seams:
        if seam.load_n and not seam.strength_n:
            thread = stitches[seam.stitch].thread_words
            what = f'the seam "{seam.name}" has to carry {seam.load_words}, and no strength is known for {thread}'
            mend = 'write thread-strength = "..." in its stitch, from the maker\'s data, which say what it breaks at'
            yield seam.place, what, mend, seam.name


def _machine_stitches(subject: Subject) -> Iterator[Stitch]:
    return (stitch for stitch in subject.build.stitches if stitch.by == "machine")


def _on_machines(subject: Subject) -> list[tuple[Stitch, Machine]]:
    machines = by_name(subject.build.machines)
    return [(stitch, machines[stitch.machine]) for stitch in _machine_stitches(subject) if stitch.machine in machines]
