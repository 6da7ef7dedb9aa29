"""What stands in the files of parts -> entries of the spec, under names with the spec's prefix.

A part names what it has itself, else what the spec has; what it says keeps its place in its own file, so that every
problem is told there.
"""

import re
from collections import Counter
from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path, PurePosixPath
from typing import Any, Final

from docgen.problems import Problem, make_error, sort_problems, suggest
from docgen.read.asked import check_numbers, land, name_ranges
from docgen.read.check import check_keys
from docgen.read.kinds import NAME_MOST
from docgen.read.part_files import Opened
from docgen.read.renaming import SEWN, Renaming, rename
from docgen.read.spec import Spec, StepSpec, UseSpec
from docgen.read.spec_parts import NAMED, PartSpec
from docgen.read.words import quote_word
from docgen.read.written import NamedLength, Value

MISSING_RE: Final = r"there is no \[([a-z]+)\.([a-z0-9-]+)\]"
NO_PART_RE: Final = r'there is no piece, join or strap "([a-z0-9-]+)"'
SAME_RE: Final = r" \(the same on lines? [^)]*\)"
NamesByTable = Mapping[str, tuple[str, ...]]
Stands = Mapping[str, tuple[str, str]]
"""What of the spec stands for a name of the part, and by which edges."""


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
    times = Counter(part.file for part in opened.values())
    for use in spec.parts:
        part = opened.get(use.name)
        if part is None or use.use is None:
            continue
        if part.refused is not None:
            problems.append(make_error(use.use.place, part.refused.what, part.refused.mend))
        if part.path:
            files[part.file] = part.source
        problems += part.problems
        if part.document is not None:
            spec = _bring(spec, use, part, known, problems, is_apart=times[part.file] > 1)
    brought = tuple((use.name, opened[use.name].file) for use in spec.parts if use.name in opened)
    return replace(
        spec,
        files=tuple(files.items()),
        brought=tuple((name, file) for name, file in brought if file in files),
        shipped=tuple((part.path, name) for name, part in opened.items() if part.is_shipped),
        problems=sort_problems(problems),
    )


def _names_of(spec: Spec) -> dict[str, tuple[str, ...]]:
    names = {table: tuple(entry.name for entry in getattr(spec, table)) for table in NAMED}
    return {**names, "steps": ()}


def _bring(
    spec: Spec, use: UseSpec, part: Opened, known: NamesByTable, problems: list[Problem], *, is_apart: bool
) -> Spec:
    """The spec with one part. Of a part that is brought in several times each title says which it is of (`is_apart`)."""
    stands = _read_instead(use, known, problems)
    meant = {
        table: (*names, *(name for name, (there, _) in stands.items() if there in names))
        for table, names in known.items()
    }
    values, findings = check_keys(PartSpec, part.path, part.document or {}, part.places or {}, meant)
    held = PartSpec(**values)
    problems += (_mend_missing(problem, known) for problem in findings.close())
    check_numbers(use, held, problems)
    renaming = _rename_all(use, part, held, stands, known, problems)
    tables: dict[str, Any] = {
        table: (
            *getattr(spec, table),
            *(
                _tell_apart(rename(item, renaming, table), use.name if is_apart else "")
                for item in getattr(held, table)
                if _is_own(item.name, stands, known[table])
            ),
        )
        for table in NAMED
    }
    tables["pieces"] = land(tables["pieces"], (rename(item, renaming) for item in held.landings))
    steps = _caution(held, tuple(_rename_step(step, use.name, renaming) for step in held.steps))
    accept = (replace(rename(item, renaming), at=item.at and renaming.part(item.at)) for item in held.accept)
    return replace(
        spec,
        **tables,
        measures=(*spec.measures, *_set_measures(use, held, renaming, problems)),
        ranges=(*spec.ranges, *name_ranges(use, held, renaming)),
        steps=_place_steps(spec.steps, use, steps),
        begun=() if spec.steps else (*spec.begun, *steps),
        accept=(*spec.accept, *accept),
    )


def _tell_apart(entry: Any, prefix: str) -> Any:
    """An entry whose title, where it has one, says of which part it is."""
    title = getattr(entry, "title", None)
    if not prefix or title is None:
        return entry
    return replace(entry, title=replace(title, value=f"{title.value}, {prefix.replace('-', ' ')}"))


def _is_own(name: str, stands: Stands, known: tuple[str, ...]) -> bool:
    """Whether the part's own entry is meant, nothing of that table of the spec in its place."""
    return name not in stands or stands[name][0] not in known


def _rename_all(
    use: UseSpec, part: Opened, held: PartSpec, stands: Stands, known: NamesByTable, problems: list[Problem]
) -> Renaming:
    """The new names of all that a part has, and of what stands in the place of something."""
    names = {table: {item.name: f"{use.name}-{item.name}" for item in getattr(held, table)} for table in NAMED}
    for table, own in names.items():
        own |= {name: there for name, (there, _) in stands.items() if there in known[table]}
        _check_lengths(use, own.values(), problems)
    return Renaming(
        names=names,
        measures={item.name: f"{use.name}-{item.name}" for item in held.measures},
        runs={name: run for name, (_, run) in stands.items() if run},
        folder=str(PurePosixPath(part.file).parent),
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


def _read_instead(use: UseSpec, known: NamesByTable, problems: list[Problem]) -> Stands:
    """What of the spec stands for an entry of the part, and the edges by which it is sewn there, "" for the part's."""
    stands = {}
    for value in use.instead:
        name, there, run = [*(word.strip() for word in value.value.split(":", 2)), "", ""][:3]
        of_spec = [table for table in NAMED if there in known[table]]
        if not name or not of_spec:
            what = f"{quote_word(value.value)} names nothing of this spec that could stand for a part's own"
            every = [other for table in NAMED for other in known[table]]
            mend = suggest(there, every) or 'write "its name there: a name here", like "hide: body"'
            problems.append(make_error(value.place, what, mend))
        else:
            stands[name] = (there, run)
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


def _mend_missing(problem: Problem, known: NamesByTable) -> Problem:
    """What a part names and neither it nor the spec has: the spec may say what stands for it."""
    found = re.search(MISSING_RE, problem.what)
    if problem.check != "name-not-there" or found is None or problem.mend.startswith("did you mean"):
        return problem
    mend = _say_instead(found[2], known.get(found[1], ()))
    return replace(problem, mend=mend) if mend else problem


def _say_instead(name: str, known: tuple[str, ...]) -> str:
    return f'say what stands for it, like instead = ["{name}: {known[0]}"]' if known else ""


def own_words(problem: Problem, spec: Spec) -> Problem:
    """A problem in a part's file, mended by the names that stand there, without the spec's prefix; one in a ready part
    is told where the spec brings it in."""
    home = Path(spec.path).parent
    for prefix, file in spec.brought:
        if problem.place.path == str(home / file):
            problem = replace(problem, mend=problem.mend.replace(f'"{prefix}-', '"'))
    use = next(
        (use for path, name in spec.shipped for use in spec.parts if (path, name) == (problem.place.path, use.name)),
        None,
    )
    if use is None or use.use is None:
        return problem
    what = re.sub(SAME_RE, "", problem.what)
    found = re.search(NO_PART_RE, what)
    named = tuple(entry.name for table in SEWN for entry in getattr(spec, table) if not entry.name.startswith(use.name))
    mend = _say_instead(found[1], named) if found else problem.mend
    return replace(problem, what=f'in the ready part "{use.name}": {what}', mend=mend, place=use.use.place)
