"""All that is wrong with a shop's own layout files, at once: before a page is laid out."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from functools import lru_cache
from typing import Any, Final

from docgen.layout_files import LANGUAGES_FOLDER, LayoutFile, Layouts, shipped_layouts
from docgen.pages.looks.block_order import FILE, read_order
from docgen.pages.looks.page_style import read_page_style
from docgen.pages.looks.pattern_style import read_pattern_style
from docgen.pages.looks.plain_words import find_faulty_letters
from docgen.pages.looks.templates import decode_template
from docgen.problems import Place, Problem, SpecRejected, make_error, shorten, suggest
from docgen.read import read_tables

KeyPath = tuple[str | int, ...]

ENGLISH: Final = f"{LANGUAGES_FOLDER}/en.toml"
PUT_IN: Final = re.compile(r"\{[^{}]*\}")
BRACE: Final = re.compile(r"[{}]")
CAUTION: Final = re.compile(r"^\s*!", re.MULTILINE)
SPARE_LETTERS: Final = 30
"""Words may be twice as long as the shipped ones, and so many letters more."""


def check_layouts(layouts: Layouts) -> None:
    """Raises SpecRejected with every problem of the files that are not the shipped ones."""
    problems = find_layout_problems(layouts)
    if problems:
        raise SpecRejected(problems)


@lru_cache(maxsize=16)
def find_layout_problems(layouts: Layouts) -> tuple[Problem, ...]:
    """Every problem of the files that are not the shipped ones, in the order of the files."""
    own = (file for file in layouts.files if not file.is_shipped)
    return tuple(problem for file in own for problem in _check_file(file))


def _check_file(file: LayoutFile) -> list[Problem]:
    try:
        if file.name.endswith(".j2"):
            return _check_template(file)
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


def _check_template(file: LayoutFile) -> list[Problem]:
    """A template must use every name that the shipped one uses, and keep its cautions."""
    from docgen.pages.looks.template_rules import (  # loads jinja2
        find_left_out,
        find_template_problems,
        find_used_names,
    )

    text, shipped = decode_template(file), decode_template(_find_shipped(file.name))
    problems = find_template_problems(file.path, text, find_used_names(shipped))
    if not problems:
        problems += find_left_out(file.path, text, shipped)
    if len(CAUTION.findall(text)) < len(CAUTION.findall(shipped)):
        what = "this template has lost a caution, a line that begins with !"
        problems.append(make_error(Place(path=file.path), what, "put it back"))
    return problems


def _find_shipped(name: str) -> LayoutFile:
    """The shipped file of this name; for another language of the care card the English one."""
    found = shipped_layouts().find(name) or shipped_layouts().find(ENGLISH)
    assert found is not None
    return found


def _check_words(file: LayoutFile) -> Iterator[Problem]:
    """Each phrase of the shipped file must be there and fit its place; no other may be."""
    written, places = read_tables(file.path, file.source)
    shipped_file = _find_shipped(file.name)
    shipped = dict(_list_phrases(read_tables(shipped_file.path, shipped_file.source)[0]))
    own = dict(_list_phrases(written))
    for path in shipped:
        if path not in own:
            place = _find_place(path[:-1], places, file)
            what = f'"{path[-1]}" is missing in {_table_name(path)}'
            yield make_error(place, what, f"put it back: {path[-1]} = {_quote(shipped[path])}")
    for path, value in own.items():
        place = places.get(path) or _find_place(path[:-1], places, file)
        if path not in shipped:
            near = [key[-1] for key in shipped if key[:-1] == path[:-1]]
            tables = [".".join(key[:-1]) for key in shipped]
            mend = suggest(path[-1], near) or suggest(".".join(path[:-1]), tables)
            yield make_error(place, f'no words are called "{shorten(path[-1])}" in {_table_name(path)}', mend)
        else:
            for what, mend in _judge_phrase(value, str(shipped[path])):
                yield make_error(place, what, mend)


def _judge_phrase(value: object, shipped: str) -> Iterator[tuple[str, str]]:
    if not isinstance(value, str) or not value.strip():
        yield "these are no words", f"write words in quotes, like {_quote(shipped)}"
        return
    most = 2 * len(shipped) + SPARE_LETTERS
    if len(value) > most:
        yield f"these words have {len(value)} letters; there is room for {most}", "shorten them"
    if "\n" in value:
        yield "these words stand on more than one line", "write them on one line"
    wanted, given = sorted(PUT_IN.findall(shipped)), sorted(PUT_IN.findall(value))
    if wanted != given:
        names = " and ".join(wanted) or "nothing in braces"
        yield f"these words must hold {names}", "what stands in braces is put in by the program; each once"
    elif BRACE.search(PUT_IN.sub("", value)):
        yield ("these words hold a brace too many", "write one brace on each side of a name, and none elsewhere")
    yield from find_faulty_letters(value.replace("\n", " "))


def _list_phrases(table: Mapping[str, Any], path: tuple[str, ...] = ()) -> Iterator[tuple[tuple[str, ...], object]]:
    for key, value in table.items():
        if isinstance(value, Mapping):
            yield from _list_phrases(value, (*path, key))
        else:
            yield (*path, key), value


def _find_place(path: KeyPath, places: Mapping[KeyPath, Place], file: LayoutFile) -> Place:
    found = places.get(path) if path else None
    return Place(path=file.path, line=found.line, column=found.column) if found else Place(path=file.path)


def _table_name(path: tuple[str, ...]) -> str:
    return f"[{shorten('.'.join(path[:-1]))}]" if path[:-1] else "the file"


def _quote(value: object) -> str:
    return f'"{shorten(str(value))}"'
