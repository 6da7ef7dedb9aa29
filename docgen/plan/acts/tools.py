"""All tools that a step needs: those that the spec names, then those that follow from the work."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from docgen.plan.act import Act
from docgen.plan.acts.edging import edge_tools, edge_words_of, spoken_edge_tools
from docgen.plan.acts.hardware import holes_punched_on
from docgen.plan.acts.straps import holes_through_layers
from docgen.plan.acts.work import Work
from docgen.plan.step_words import done_in
from docgen.resolve import Hole
from docgen.tables.cautions import STRUCK_TO_SETTER, has_phrase
from docgen.tables.consumables import is_consumable, is_glue
from docgen.tables.hardware import BURR_KIND
from docgen.tables.implied import (
    ANVIL,
    AWL,
    BARE_PUNCHES,
    CLIPS,
    GAUGE,
    GROOVER,
    HAND_NEEDLES,
    IRON,
    KNIFE,
    MACHINE,
    MALLET,
    MARKER,
    NIPPERS,
    PEEN,
    PONY,
    ROUGHENER,
    RULE,
    SCREWDRIVER,
    SKIVING_KNIFE,
    SNIPS,
    SPONGE,
    punch_tool,
    setter_tool,
)
from docgen.tables.practice import BURNISHED_DAMP, BURNISHED_WITH, DAMP_TANNAGES
from docgen.written.units.tools import tool_sizes_mm

ROUGHENED = ("mark_roughen", "mark_roughen_hem", "mark_round_hem", "mark_ends_roughen", "mark_each_roughen")
CLIPPED = (
    "clip_layers",
    "hold_clips",
    "hold_again",
    "hold_said",
    "hold_round",
    "hold_notches",
    "hold_notches_round",
    "ease_all",
    "ease_there",
)
BY_LINE = (
    (
        (
            "corner_damp",
            "corner_damp_first",
            *(f"{what}_damp{how}" for what in ("bend", "fold") for how in ("", "_either", "_round")),
        ),
        SPONGE,
    ),
    ((*ROUGHENED, "roughen_lapped", "roughen_edges", "roughen_overlap"), ROUGHENER),
    (("corner_snip", "snip"), SNIPS),
    (("stand_on",), RULE),
    (("groove",), GROOVER),
    (
        ("punch", "punch_cloth", "punch_plain", "mark_round", "mark_ends", "mark_each", *ROUGHENED, "join_marked"),
        MARKER,
    ),
)

STRUCK = "pricking iron"
SAME_CALL_MM = 0.2  # half of the 1/64 in by which punches are called: so near is the same one in the other unit

Needed = tuple[str, tuple[str, ...]]  # a tool, and words by which the spec may name it already


def step_tools(work: Work, at: int, acts: Sequence[Act]) -> tuple[str, ...]:
    """The step's own tools, and what else its lines take, each once; punches by their sizes alone, where these follow."""
    own = work.steps[at].tools
    hard = [one for one in own if not is_glue(one)]  # no water-based cement is water for the sponge
    more = [
        tool
        for tool, names in _needed(work, at, acts)
        if not any(has_phrase(one, name) for one in hard for name in names)
    ]
    bare = {word for tool in more for kind, words in BARE_PUNCHES.items() if kind in tool for word in words}
    kept = (_both_units(work, one) for one in own if one.lower() not in bare)
    return tuple(dict.fromkeys((*kept, *more)))


def _is_clipped(work: Work, name: str) -> bool:
    """Whether edges of a seam lie on each other, where clips reach them."""
    return len(work.sides(work.seams[name])) > 1


def _needed(work: Work, at: int, acts: Sequence[Act]) -> Iterator[Needed]:
    step = work.steps[at]
    kinds = {event.kind for _, event in work.events(at)}
    if step.skives or any(end.skive for name in _made_here(work, at) for end in work.straps[name].ends):
        yield SKIVING_KNIFE
        yield GAUGE
    yield from _punches(work, at)
    jobs = [job for _, event in work.events(at) for job in work.jobs_of(event)]
    machines = [_machine(work, job.stitch.machine) for job in jobs if job.stitch.by == "machine"]
    yield from ((machine, (machine,)) if machine else MACHINE for machine in dict.fromkeys(machines))
    if any(job.stitch.by == "hand" for job in jobs):
        yield from (_as_called(work, HAND_NEEDLES), AWL, _as_called(work, PONY))
    if any(job.stitch.iron for job in jobs):
        yield _as_called(work, IRON)
    if any(job.stitch.iron for job in jobs) or any(has_phrase(tool, STRUCK) for tool in step.tools):
        yield MALLET
    is_clipped = any(_is_clipped(work, seam) for seam in step.seams) and not any(is_glue(tool) for tool in step.tools)
    if is_clipped or any(one.case in CLIPPED for one in acts):
        yield CLIPS
    yield from (_edge_tool(work, tool) for tool in (*edge_tools(acts), *spoken_edge_tools(work, at)))
    if _wets_edges(work, at, acts):
        yield SPONGE
    yield from (tool for cases, tool in BY_LINE if any(one.case in cases for one in acts))
    if any(work.lays_at(index) for index, _ in work.events(at)) or kinds & {"joins", "straps"}:
        yield RULE
    yield from _setters(work, at)


def _as_called(work: Work, tool: Needed) -> Needed:
    """A tool as some step calls it: under another name it would be laid out twice."""
    what, names = tool
    own = (tool for step in work.steps for tool in step.tools if any(has_phrase(tool, name) for name in names))
    return next(own, what), names


def _wets_edges(work: Work, at: int, acts: Sequence[Act]) -> bool:
    """Whether a step burnishes edges that water helps, and nobody says with what else."""
    step = work.steps[at]
    own = (*done_in(step), *step.tools)
    goods = [one for one in work.build.materials if "burnish" in one.edges.lower() and one.tannage in DAMP_TANNAGES]
    if not goods or "burnish" not in " ".join((*own, *edge_words_of(acts), *spoken_edge_tools(work, at))).lower():
        return False
    said = [*(one.edges for one in goods), *(tool for one in work.steps for tool in one.tools)]
    others = set(BURNISHED_WITH) - {*BURNISHED_DAMP}
    return not any(has_phrase(words, other) for words in said for other in others)


def _edge_tool(work: Work, usual: str) -> Needed:
    """A tool for edges, as some step calls it: a burnisher is one however it is turned."""
    noun = usual.removeprefix("edge ")
    if " " in noun:
        return usual, (usual,)
    own = (tool for step in work.steps for tool in step.tools if has_phrase(tool, noun) and not is_consumable(tool))
    return next(own, usual), (noun,)


def _made_here(work: Work, at: int) -> list[str]:
    """The straps that a step is the first to have in hand: it cuts, skives and punches them."""
    return [name for name in work.steps[at].straps if not any(name in step.straps for step in work.steps[:at])]


def _machine(work: Work, name: str) -> str:
    return next((machine.title for machine in work.build.machines if machine.name == name), "")


def _punches(work: Work, at: int) -> Iterator[Needed]:
    """A punch of each size, those that the spec names by their size passed over; a mallet and a cutting board to it."""
    step = work.steps[at]
    holes: list[Hole] = [hole for name in work.punched_in(at) for hole in work.pieces[name].marks.holes]
    holes += [hole for index, _ in work.events(at) for hole in holes_punched_on(work, index)]
    holes += holes_through_layers(work, at)
    holes += [hole for name in _made_here(work, at) for hole in work.straps[name].piece.marks.holes]
    own = " | ".join(step.tools)
    named = [tool for one in (step, *work.steps) for tool in one.tools if has_phrase(tool, "hole punch")]
    for long_mm, size_mm in dict.fromkeys((hole.long_mm, hole.diameter_mm) for hole in holes):
        size = work.length(long_mm) if long_mm else work.punch(size_mm)
        alike = [_told_too(tool, size) for tool in named if not long_mm and _is_of_size(tool, size_mm)]
        if size not in own:
            yield next(iter(alike), punch_tool(size, long_mm, work.build.show)), ()
    if holes:
        yield MALLET
    if any(work.pieces[name].marks.slits for name in work.punched_in(at)):
        yield KNIFE


def _both_units(work: Work, tool: str) -> str:
    """A punch that the spec calls by its size in the other unit, with the one by which lines tell the holes."""
    if not has_phrase(tool, "hole punch"):
        return tool
    sizes_mm = {hole.diameter_mm for part in work.build.cut for hole in part.marks.holes if not hole.long_mm}
    return next((_told_too(tool, work.punch(mm)) for mm in sorted(sizes_mm) if _is_of_size(tool, mm)), tool)


def _told_too(tool: str, size: str) -> str:
    return tool if size in tool else f"{tool} ({size})"


def _is_of_size(tool: str, size_mm: float) -> bool:
    """Whether a punch is called by one size, in either unit, and that is the size of a hole."""
    sizes_mm = tool_sizes_mm(tool)
    return len(sizes_mm) == 1 and abs(sizes_mm[0] - size_mm) <= SAME_CALL_MM


def _setters(work: Work, at: int) -> Iterator[Needed]:
    """The setter and anvil of what is struck, the driver of what is screwed."""
    items = [item for item in work.build.hardware if item.name in work.steps[at].hardware]
    for kind in dict.fromkeys(item.kind for item in items):
        if kind in STRUCK_TO_SETTER:
            yield setter_tool(STRUCK_TO_SETTER[kind])
            yield ANVIL
            yield MALLET
            yield from (NIPPERS, PEEN) if kind == BURR_KIND else ()
        elif "screw" in kind:
            yield SCREWDRIVER
