"""The files of a shop's own parts -> their entries in the spec, under names with the spec's prefix.

Only ordinary files of bounded size in the spec's folder are opened. A part names what it has itself, else what the spec
has; what it says keeps its place in its own file, so that every problem is told there.
"""

from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path, PurePosixPath
from typing import Any, Final

from docgen.classes import dataclass
from docgen.problems import Problem, SpecRejected, make_error, sort_problems, suggest
from docgen.read.check import VALUES_MOST, check_keys
from docgen.read.kinds import NAME_MOST
from docgen.read.locate import KeyPath, Location, locate_keys
from docgen.read.renaming import Renaming, rename
from docgen.read.source import decode_source, parse_source
from docgen.read.spec import Spec, StepSpec, UseSpec
from docgen.read.spec_parts import NAMED, PartSpec
from docgen.read.svg.svg_file import DrawingError, FileKind, read_file
from docgen.read.words import quote_word
from docgen.read.written import NamedLength, Value

PART: Final = FileKind(
    noun="part", endings=(".toml",), ask="a TOML file", bytes_most=1024**2, too_large="check that it is a part's file"
)
PARTS_MOST: Final = 20
NamesByTable = Mapping[str, tuple[str, ...]]


@dataclass(frozen=True, slots=True, kw_only=True)
class Opened:
    """A part's file: its bytes, and what `tomllib` reads in it with the places; else what keeps it from that."""

    path: str = ""
    source: bytes = b""
    document: Mapping[str, Any] | None = None
    places: Mapping[KeyPath, Location] | None = None
    refused: DrawingError | None = None
    problems: tuple[Problem, ...] = ()


def open_parts(path: str | Path, document: Mapping[str, Any]) -> dict[str, Opened]:
    """The files that the [parts] of a spec name, by their prefix, before the spec is checked."""
    table = document.get("parts")
    entries = list(table.items())[:PARTS_MOST] if isinstance(table, dict) else []
    named = [(name, item.get("use")) for name, item in entries if isinstance(item, dict)]
    return {name: _open(path, file.strip()) for name, file in named if isinstance(file, str)}


def _open(path: str | Path, file: str) -> Opened:
    where = str(Path(path).parent / file)
    try:
        source = read_file(Path(path).parent, file, PART)
    except DrawingError as error:
        return Opened(refused=error)
    try:
        text = decode_source(where, source)
        document, places = parse_source(where, text), locate_keys(text)
    except SpecRejected as error:
        return Opened(path=where, source=source, problems=error.problems)
    if len(places) > VALUES_MOST // PARTS_MOST:
        what = f"the part holds {len(places):,} keys and values; at most {VALUES_MOST // PARTS_MOST:,} are allowed"
        return Opened(path=where, source=source, problems=(make_error(_whole(where), what, "split it into parts"),))
    return Opened(path=where, source=source, document=document, places=places)


def _whole(path: str) -> Any:
    return Location(line=0, column=0).place(path)


def list_brought(opened: Mapping[str, Opened]) -> dict[str, tuple[str, ...]]:
    """The names that parts bring into each table, as the spec says them."""
    found: dict[str, tuple[str, ...]] = {}
    for prefix, part in opened.items():
        for table, names in _own_names(part).items():
            found[table] = (*found.get(table, ()), *(f"{prefix}-{name}" for name in names))
    return found


def _own_names(part: Opened) -> dict[str, list[str]]:
    document = part.document or {}
    names = {table: list(held) for table in NAMED if isinstance(held := document.get(table), dict)}
    steps = document.get("steps")
    entries = [item for item in steps if isinstance(item, dict)] if isinstance(steps, list) else []
    return {**names, "steps": [name for name in (item.get("name") for item in entries) if isinstance(name, str)]}


def bring_parts(spec: Spec, opened: Mapping[str, Opened]) -> Spec:
    """The spec with the entries of its parts after its own; what is wrong in a part is noted at its place there."""
    files: dict[str, bytes] = {}
    problems = list(spec.problems)
    known = _names_of(spec)
    for use in spec.parts:
        part = opened.get(use.name)
        if part is None or use.use is None:
            continue
        if part.refused is not None:
            problems.append(make_error(use.use.place, part.refused.what, part.refused.mend))
        if part.path:
            files[use.use.value] = part.source
        problems += part.problems
        if part.document is not None:
            spec = _bring(spec, use, part, known, problems)
    brought = tuple((use.name, use.use.value) for use in spec.parts if use.use and use.use.value in files)
    return replace(spec, files=tuple(files.items()), brought=brought, problems=sort_problems(problems))


def _names_of(spec: Spec) -> dict[str, tuple[str, ...]]:
    names = {table: tuple(entry.name for entry in getattr(spec, table)) for table in NAMED}
    return {**names, "steps": ()}


def _bring(spec: Spec, use: UseSpec, part: Opened, known: NamesByTable, problems: list[Problem]) -> Spec:
    stands = _read_instead(use, known, problems)
    meant = {
        table: (*names, *(name for name, there in stands.items() if there in names)) for table, names in known.items()
    }
    values, findings = check_keys(PartSpec, part.path, part.document or {}, part.places or {}, meant)
    held = PartSpec(**values)
    problems += findings.close()
    measures = {item.name: f"{use.name}-{item.name}" for item in held.measures}
    names = {table: {item.name: f"{use.name}-{item.name}" for item in getattr(held, table)} for table in NAMED}
    for table, own in names.items():
        own |= {name: there for name, there in stands.items() if name in own or there in known[table]}
        _check_lengths(use, own.values(), problems)
    folder = str(PurePosixPath(use.use.value if use.use else "").parent)
    renaming = Renaming(names=names, measures=measures, folder=folder)
    tables: dict[str, Any] = {
        table: (
            *getattr(spec, table),
            *(rename(item, renaming, table) for item in getattr(held, table) if item.name not in stands),
        )
        for table in NAMED
    }
    steps = _caution(held, tuple(_rename_step(step, use.name, renaming) for step in held.steps))
    accept = (replace(rename(item, renaming), at=item.at and renaming.part(item.at)) for item in held.accept)
    return replace(
        spec,
        **tables,
        measures=(*spec.measures, *_set_measures(use, held, renaming, problems)),
        steps=_place_steps(spec.steps, use, steps),
        accept=(*spec.accept, *accept),
    )


def _rename_step(step: StepSpec, prefix: str, renaming: Renaming) -> StepSpec:
    name = step.name and replace(step.name, value=f"{prefix}-{step.name.value}")
    renamed: StepSpec = replace(rename(step, renaming), name=name)
    return renamed


def _check_lengths(use: UseSpec, names: Any, problems: list[Problem]) -> None:
    """Names that are too long with their prefix."""
    long = next((name for name in names if len(name) > NAME_MOST), None)
    if long is not None:
        what = f'"{long}" has {len(long)} letters; at most {NAME_MOST} are allowed'
        problems.append(make_error(use.place, what, "give the part a shorter name here"))


def _read_instead(use: UseSpec, known: NamesByTable, problems: list[Problem]) -> dict[str, str]:
    """What of the spec stands for an entry of the part."""
    stands = {}
    for value in use.instead:
        name, _, there = (word.strip() for word in value.value.partition(":"))
        of_spec = [table for table in NAMED if there in known[table]]
        if not name or not of_spec:
            what = f"{quote_word(value.value)} names nothing of this spec that could stand for a part's own"
            every = [other for table in NAMED for other in known[table]]
            mend = suggest(there, every) or 'write "its name there: a name here", like "hide: body"'
            problems.append(make_error(value.place, what, mend))
        else:
            stands[name] = there
    return stands


def _set_measures(use: UseSpec, held: PartSpec, renaming: Renaming, problems: list[Problem]) -> tuple[NamedLength, ...]:
    """The part's measures under their new names, with the lengths that the spec sets."""
    own = [item.name for item in held.measures]
    for item in use.measures:
        if item.name not in own:
            what = f'the part "{use.name}" has no measure "{item.name}"'
            mend = suggest(item.name, own) or (f"it has {', '.join(own)}" if own else "leave it out")
            problems.append(make_error(item.length.place, what, mend))
    given = {item.name: item.length for item in use.measures}
    return tuple(
        NamedLength(
            name=renaming.measures[item.name],
            length=given[item.name] if item.name in given else renaming.length(item.length),
        )
        for item in held.measures
    )


def _caution(held: PartSpec, steps: tuple[StepSpec, ...]) -> tuple[StepSpec, ...]:
    """The part's steps, its caution with the first of them."""
    caution = held.part.caution if held.part else None
    if caution is None or not steps:
        return steps
    note = steps[0].note
    told = caution.value if note is None else f"{caution.value} {note.value}"
    return (replace(steps[0], note=Value(value=told, place=caution.place)), *steps[1:])


def _place_steps(steps: tuple[StepSpec, ...], use: UseSpec, more: tuple[StepSpec, ...]) -> tuple[StepSpec, ...]:
    """The steps of the spec with those of a part before the one that it names, else in front; none where the spec leaves
    the order to the program."""
    own = [
        number for number, step in enumerate(steps) if use.before and step.name and step.name.value == use.before.value
    ]
    brought = [number for number, step in enumerate(steps) if step.place.path != use.place.path]
    at = own[0] if own else (brought[-1] + 1 if brought and brought[-1] == len(brought) - 1 else 0)
    return (*steps[:at], *more, *steps[at:]) if steps else steps


def own_words(problem: Problem, spec: Spec) -> Problem:
    """A problem in a part's file, mended by the names that stand there: without the spec's prefix."""
    home = Path(spec.path).parent
    for prefix, file in spec.brought:
        if problem.place.path == str(home / file):
            problem = replace(problem, mend=problem.mend.replace(f'"{prefix}-', '"'))
    return problem
