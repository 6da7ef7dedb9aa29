"""The layout files in use -> what the pages say: words for labels, whole sentences, settings.

A name in braces is put into a phrase in one pass, so that a brace in what is put in stays a brace.
"""

import re
from collections.abc import Mapping
from functools import lru_cache
from types import MappingProxyType
from typing import Any, Final

from docgen.layout_files import LayoutFile, layouts_in_use
from docgen.pages.looks.page_style import read_page_style
from docgen.pages.setting.blocks import PageStyle
from docgen.problems import Place, SpecRejected, make_error
from docgen.read import read_values

LABELS: Final = "words.toml"
SENTENCES: Final = "sentences.toml"
PUT_IN: Final = re.compile(r"\{([^{}]*)\}")
SPACES: Final = re.compile(r"[^\S\u00a0\u202f]+")  # no-break spaces keep a number and its unit on one line


def find_file(name: str) -> LayoutFile:
    """The layout file in use of this name; SpecRejected when there is none."""
    found = layouts_in_use().find(name)
    if found is None:
        raise SpecRejected([make_error(Place(path=f"layouts/{name}"), "this layout file is missing")])
    return found


@lru_cache(maxsize=64)
def read_settings(file: LayoutFile) -> Mapping[str, Any]:
    """The tables of a layout file, unchangeable; SpecRejected, with the line, where it is no TOML."""
    return _freeze(read_values(file.path, file.source))  # type: ignore[no-any-return]


def words(table: str) -> Mapping[str, str]:
    """One table of words.toml in use: the words the pages say, by key."""
    return _table(LABELS, table)


def say_heading(table: str) -> str:
    """The title over one table of sentences.toml in use."""
    return str(_table(SENTENCES, table)["title"])


def say(table: str, case: str, /, **values: str) -> tuple[str, ...]:
    """The lines of one case in sentences.toml in use, with what they name put in, each on one line."""
    flat = {name: SPACES.sub(" ", value).strip(" ") for name, value in values.items()}
    return tuple(put_in(line, flat) for line in _table(SENTENCES, table)[case])


def put_in(phrase: str, values: Mapping[str, str]) -> str:
    """A phrase with values in place of its {names}. KeyError for a name without one: layouts are checked before."""
    return PUT_IN.sub(lambda found: values[found[1]], phrase)


def load_page_style() -> PageStyle:
    """page.toml in use, in mm; SpecRejected names every setting that is missing, unknown or no sensible measure."""
    return read_page_style(find_file("page.toml"))


def _table(file: str, table: str) -> Mapping[str, Any]:
    """One table of a file of words; SpecRejected when it is not there."""
    source = find_file(file)
    found = read_settings(source).get(table)
    if not isinstance(found, Mapping):
        raise SpecRejected([make_error(Place(path=source.path), f"the table [{table}] is missing")])
    return found


def _freeze(value: Any) -> Any:
    """Tables as read-only mappings, lists as tuples, to any depth."""
    if isinstance(value, dict):
        return MappingProxyType({key: _freeze(part) for key, part in value.items()})
    return tuple(_freeze(part) for part in value) if isinstance(value, list) else value
