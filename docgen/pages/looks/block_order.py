"""order.toml -> the blocks of a document in the order in which the shop wants them printed."""

from collections.abc import Mapping, Sequence
from functools import lru_cache
from typing import Final, TypeVar

from docgen.layout_files import LayoutFile, shipped_layouts
from docgen.pages.looks.words import find_file
from docgen.problems import Place, Problem, SpecRejected, make_error, shorten, suggest, suggest_any
from docgen.read import read_tables, read_values

T = TypeVar("T")

FILE: Final = "order.toml"
MUST_STAY: Final = {
    "cutting_list": ("head", "blade", "cautions", "accepted"),
    "build_sheet": ("head", "cautions", "accepted", "hazards"),
    "care_advice": ("wet", "never", "load", "nickel"),
    "care_closing": (),
}
"""Title blocks, cautions (also those accepted) and hazards: no shop can leave them out. Codes and bands are no blocks:
they always stand."""


def arrange(document: str, parts: Mapping[str, Sequence[T]]) -> list[T]:
    """The parts of a document, by their names, in the order of the layout in use; those not listed are left out.

    Raises SpecRejected where the layout's order is faulty.
    """
    return [item for name in find_order(document) for item in parts.get(name, ())]


def find_order(document: str) -> tuple[str, ...]:
    """The names of a document's blocks as the layout in use lists them. Raises SpecRejected."""
    return read_order(find_file(FILE))[document]


@lru_cache(maxsize=16)
def read_order(file: LayoutFile) -> Mapping[str, tuple[str, ...]]:
    """Every document's list of blocks. Raises SpecRejected with every name that is unknown, twice or missing."""
    tables, places = read_tables(file.path, file.source)
    shipped = shipped_layouts().find(FILE)
    known = tables if shipped is None or file.is_shipped else read_values(shipped.path, shipped.source)
    problems: list[Problem] = []
    for document in tables:
        if document not in MUST_STAY:
            what, mend = (f'no document of blocks is called "{shorten(document)}"', suggest(document, MUST_STAY))
            problems.append(make_error(places[document,], what, mend))
    for document in MUST_STAY:
        if not isinstance(tables.get(document), list):
            place = places.get((document,), Place(path=file.path))
            problems.append(make_error(place, f'"{document}" is no list of blocks', 'write it like ["head", "how"]'))
            continue
        at = {index: places.get((document, index), places[document,]) for index in range(len(tables[document]))}
        problems += _check_names(document, tables[document], at, places[document,], known[document])
    if problems:
        raise SpecRejected(problems)
    return {document: tuple(tables[document]) for document in MUST_STAY}


def _check_names(
    document: str, names: list[object], at: Mapping[int, Place], here: Place, known: Sequence[str]
) -> list[Problem]:
    problems = []
    for index, name in enumerate(names):
        if name not in known:
            what = f'"{document}" has no block called "{shorten(str(name))}"'
            problems.append(make_error(at[index], what, suggest_any(str(name), known)))
        elif name in names[:index]:
            problems.append(make_error(at[index], f'the block "{name}" is named twice', "keep one of the two"))
    lost = [name for name in MUST_STAY[document] if name not in names]
    problems += [
        make_error(here, f'"{document}" lacks the block "{name}", which cannot be left out', "put it back")
        for name in lost
    ]
    return problems
