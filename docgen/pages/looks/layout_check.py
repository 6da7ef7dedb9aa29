"""All that is wrong with a shop's own layout files, at once: before a page is laid out."""

from collections.abc import Iterator, Mapping
from dataclasses import replace
from functools import lru_cache
from typing import Any, Final

from docgen.layout_files import LANGUAGES_FOLDER, LayoutFile, Layouts, shipped_layouts
from docgen.pages.looks.block_order import FILE, read_order
from docgen.pages.looks.page_style import read_page_style
from docgen.pages.looks.pattern_style import read_pattern_style
from docgen.pages.looks.phrases import judge_phrase, quote
from docgen.problems import Place, Problem, SpecRejected, make_error, shorten, suggest
from docgen.read import read_tables, read_values

KeyPath = tuple[str | int, ...]
Names = tuple[str, ...]

ENGLISH: Final = f"{LANGUAGES_FOLDER}/en.toml"
CAUTIONS: Final = (("build_sheet", "proposed"),)
MEND_TABLE: Final = 'put it back: "docgen layouts" copies the shipped file into an empty folder'


def check_layouts(layouts: Layouts) -> None:
    """Raises SpecRejected with every problem of the files that are not the shipped ones."""
    problems = find_layout_problems(layouts)
    if problems:
        raise SpecRejected(problems)


@lru_cache(maxsize=16)
def find_layout_problems(layouts: Layouts) -> tuple[Problem, ...]:
    """Every problem of the files that are not the shipped ones, also of those that could not be taken."""
    own = (file for file in layouts.files if not file.is_shipped)
    return (*layouts.problems, *(problem for file in own for problem in _check_file(file)))


def _check_file(file: LayoutFile) -> list[Problem]:
    try:
        if file.name == "page.toml":
            read_page_style(file)
        elif file.name == "pattern.toml":
            read_pattern_style(file)
        elif file.name == FILE:
            read_order(file)
        else:
            return list(_check_words(file))
    except SpecRejected as error:
        return list(error.problems)
    return []


def _find_shipped(name: str) -> LayoutFile:
    """The shipped file of this name; for another language of the care card the English one."""
    found = shipped_layouts().find(name) or shipped_layouts().find(ENGLISH)
    assert found is not None
    return found


def _check_words(file: LayoutFile) -> Iterator[Problem]:
    """Each phrase of the shipped file must be there and fit its place; no other may be."""
    written, places = read_tables(file.path, file.source)
    shipped_file = _find_shipped(file.name)
    shipped = dict(_list_phrases(read_values(shipped_file.path, shipped_file.source)))
    yield from _find_lost(file, written, shipped, places)
    yield from _find_unknown(file, written, shipped, places)
    for path, value in _list_phrases(written):
        if path in shipped:
            for index, (what, mend) in judge_phrase(value, shipped[path]):
                yield make_error(_find_place((*path, *index), places, file), what, mend)
            if value == [] and path in CAUTIONS:
                yield make_error(places[path], "this caution cannot be left out", _put_back(path, shipped))


def _find_lost(
    file: LayoutFile, written: Mapping[str, Any], shipped: Mapping[Names, Any], places: Mapping[KeyPath, Place]
) -> Iterator[Problem]:
    """Each table that is not there, and each phrase that its table lacks."""
    lost: set[Names] = set()
    for path in shipped:
        table = _find_table(written, path[:-1])
        place = replace(_find_place(path[:-1], places, file), words="")
        if table is None and path[:-1] not in lost:
            lost.add(path[:-1])
            yield make_error(place, f"the table {_table_name(path[:-1])} is missing", MEND_TABLE)
        elif table is not None and path[-1] not in table:
            what = f'"{path[-1]}" is missing in {_table_name(path[:-1])}'
            yield make_error(place, what, _put_back(path, shipped))


def _find_unknown(
    file: LayoutFile, written: Mapping[str, Any], shipped: Mapping[Names, Any], places: Mapping[KeyPath, Place]
) -> Iterator[Problem]:
    """Each table that no page asks for, once, and each such phrase in the others."""
    tables = {path[:size] for path in shipped for size in range(len(path))}
    unknown: dict[Names, None] = {}
    for path, _ in _list_phrases(written):
        if path not in shipped:
            unknown[next((path[:size] for size in range(1, len(path)) if path[:size] not in tables), path)] = None
    for path in unknown:
        near = [key[len(path) - 1] for key in shipped if key[: len(path) - 1] == path[:-1]]
        what = f'no words are called "{shorten(path[-1])}" in {_table_name(path[:-1])}'
        yield make_error(_find_place(path, places, file), what, suggest(path[-1], near))


def _find_table(tables: Mapping[str, Any], path: Names) -> Mapping[str, Any] | None:
    for key in path:
        found = tables.get(key)
        if not isinstance(found, Mapping):
            return None
        tables = found
    return tables


def _put_back(path: Names, shipped: Mapping[Names, Any]) -> str:
    return f"put it back: {path[-1]} = {quote(shipped[path])}"


def _list_phrases(table: Mapping[str, Any], path: Names = ()) -> Iterator[tuple[Names, Any]]:
    for key, value in table.items():
        if isinstance(value, Mapping):
            yield from _list_phrases(value, (*path, key))
        else:
            yield (*path, key), value


def _find_place(path: KeyPath, places: Mapping[KeyPath, Place], file: LayoutFile) -> Place:
    """Where a key or a line of its list stands, else what holds it, else the file."""
    if not path:
        return Place(path=file.path)
    found = places.get(path) or _find_place(path[:-1], places, file)
    return replace(found, words="") if found.words == "[" else found  # a list over several lines


def _table_name(path: Names) -> str:
    return f"[{shorten('.'.join(path))}]" if path else "the file"
