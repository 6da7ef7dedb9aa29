"""What the outside supplies to a call: the day, the folder, the shop's own file, and its layouts."""

from __future__ import annotations

import os
import re
from collections.abc import Iterator, Sequence
from datetime import UTC, date, datetime
from pathlib import Path
from typing import TYPE_CHECKING, Final

from docgen.assemble import Assembled, TakenApart, is_of_whole, room_words, tell_sections
from docgen.checks import resolve_variants
from docgen.classes import dataclass
from docgen.layout_files import Layouts, find_layouts
from docgen.problems import CallRejected, Problem, SpecRejected
from docgen.read import ShopFile, Spec, find_shop_file, read_shop_file, read_spec
from docgen.resolve import (
    Accepted,
    Build,
    ShopSettings,
    add_shop_goods,
    add_shop_limits,
    name_findings,
    resolve_shop_file,
    tell_edges_of,
)
from docgen.written.units.telling import format_length

if TYPE_CHECKING:
    from docgen.checks.questions import Question

DAY: Final = r"(?a)\d{4}-\d{2}-\d{2}"


def pick_date(written: str | None) -> str:
    """The day for the pages, YYYY-MM-DD: as given, else from SOURCE_DATE_EPOCH, else today.

    Raises CallRejected when what is given is no day. SOURCE_DATE_EPOCH: seconds since 1970 in UTC, by the
    specification of that name (reproducible-builds.org).
    """
    if written is not None:
        return _check_day(written)
    seconds = os.environ.get("SOURCE_DATE_EPOCH", "")
    if not seconds:
        return date.today().isoformat()
    try:
        return datetime.fromtimestamp(int(seconds), tz=UTC).date().isoformat()
    except (ValueError, OverflowError, OSError) as error:
        raise CallRejected(f'SOURCE_DATE_EPOCH is "{seconds}", which is no number of seconds since 1970') from error


def _check_day(written: str) -> str:
    what = f'"{written}" is no day of the calendar; write it like 2026-03-31'
    if not re.fullmatch(DAY, written):
        raise CallRejected(what)
    try:
        return date.fromisoformat(written).isoformat()
    except ValueError as error:
        raise CallRejected(what) from error


def pick_folder(folder: str | Path | None, build: Build) -> Path:
    """The folder for a build's files: as given, else by its code and version below the current one."""
    return Path("out", f"{build.code}-v{build.version}") if folder is None else Path(folder)


def place_in(inner: str, name: str) -> str:
    """A file's name below the folder of a run: in the folder of its variant, when it has one."""
    return f"{inner}/{name}" if inner else name


def pick_layouts(path: str | Path, folder: str | Path | None) -> Layouts:
    """The layouts for a spec, none of the shop's own files faulty.

    Raises CallRejected for a folder that is not there, SpecRejected with all problems of layouts and spec in one go.
    """
    found = find_layouts(path, folder)
    if all(file.is_shipped for file in found.files):
        return found
    from docgen.pages import find_layout_problems

    problems = find_layout_problems(found)
    if problems:
        try:
            resolve_variants(read_spec(path))
        except SpecRejected as error:
            problems = (*problems, *error.problems)
        raise SpecRejected(problems)
    return found


def read_for_shop(path: str | Path, shop: str | Path | None = None) -> tuple[Spec, ShopFile | None]:
    """A spec, with the figures of the shop's file and how its goods are sold where it says neither itself; and that
    file: the one that is named, else the one found for the spec. Raises SpecRejected when either cannot be read at
    all."""
    found = shop or find_shop_file(path)
    spec = read_spec(path)
    held = None if found is None else read_shop_file(found)
    return add_shop_goods(add_shop_limits(spec, held), held), held


def settle_shop(shop: ShopFile | None) -> ShopSettings:
    """What the shop's file says; nothing when there is none. Raises SpecRejected with all that is wrong in it."""
    return ShopSettings() if shop is None else resolve_shop_file(shop)


@dataclass(frozen=True, slots=True, kw_only=True)
class Checked:
    """What was found in a spec without errors, what of it the maker accepts, and what was worked out, in words; edges of
    drawings that have no name in the spec, what irons of a fixed pitch mark, what no picture shows, and why, and what is
    asked of the maker."""

    cautions: tuple[Problem, ...]
    accepted: tuple[Accepted, ...] = ()
    worked_out: tuple[tuple[str, str], ...] = ()
    drawn_edges: tuple[str, ...] = ()
    irons: tuple[str, ...] = ()
    undrawn: tuple[str, ...] = ()
    asked: tuple[Question, ...] = ()


def check_builds(builds: Sequence[Assembled], *more: Problem) -> Checked:
    """What was found in any of the variants, each finding once with those that have it, and `more` cautions after
    them; what was worked out of each, with its variant, where there are variants."""
    return Checked(
        cautions=(*name_findings(builds), *more),
        accepted=tuple(dict.fromkeys(item for build in builds for item in build.accepted)),
        worked_out=tuple(
            (f"{name} ({build.variant})" if build.variant else name, words)
            for build in builds
            for name, words in (*_solved(build), *_room(build))
        ),
    )


def tell_drawn_edges(builds: Sequence[Build]) -> tuple[str, ...]:
    """Where each edge of a drawing lies that has no name of its own in the spec, in words, each once."""
    pieces = [(build, piece) for build in builds for piece in build.pieces]
    return tuple(
        dict.fromkeys(
            words
            for build, piece in pieces
            if piece.shape == "drawing" and piece.model == piece.name
            for words in tell_edges_of(piece, build.show)
        )
    )


def tell_undrawn(apart: Sequence[TakenApart]) -> tuple[str, ...]:
    """What the pictures of the build sheet leave out, since it may lie otherwise, in words, each once."""
    told = ((*one.tell_withheld(), *tell_sections(one.build)) for one in apart)
    return tuple(dict.fromkeys(line for lines in told for line in lines))


def tell_irons(builds: Sequence[Assembled]) -> tuple[str, ...]:
    """What pricking irons of fixed pitch do in each seam, join, strap and divided piece, in words, each once."""
    builds = [build for build in builds if any(stitch.iron for stitch in build.stitches)]
    if not builds:
        return ()
    from docgen.plan import iron_words, list_jobs

    jobs = [job for build in builds for _, job in list_jobs(build) if job.stitch.iron]
    return tuple(
        dict.fromkeys(
            f'"{job.title}": {told}'
            for job in jobs
            for told in iron_words(job.spans_mm, job.stitch.pitch_mm, are_corners=job.are_corners)
        )
    )


def _solved(build: Build) -> Iterator[tuple[str, str]]:
    yield from ((name, format_length(length_mm, build.show)) for name, length_mm in build.solved_measures)
    for name, length_mm in build.solved_pieces:
        yield f'"solve" of "{name}"', format_length(length_mm, build.show)


def _room(build: Assembled) -> Iterator[tuple[str, str]]:
    room = build.assembly.room
    if build.inside is None and room is not None and is_of_whole(build, room):
        yield "room inside, by estimate", room_words(room, build.show)


def own_title(spec: Spec) -> str:
    """The title of the build without a variant."""
    return spec.spec.title.value if spec.spec is not None and spec.spec.title is not None else ""
