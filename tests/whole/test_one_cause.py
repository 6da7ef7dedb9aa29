"""One slip, one problem: each word that is one of a list, misspelt in every demo, starter and topic, is told alone."""

import re
import tomllib
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from demos import PATHS
from topic_specs import lay_out_files, write_topic

from docgen.checks import resolve_variants
from docgen.problems import SpecRejected
from docgen.read import list_keys, read_spec
from docgen.read.locate import KeyPath, locate_keys
from docgen.read.spec import Spec
from docgen.topics import TOPICS

STRAPS = {f"straps/{path.stem}": path for path in (Path(__file__).parent / "straps").glob("*.toml")}
BUILDS = {f"builds/{path.stem}": path for path in (Path(__file__).parents[1] / "assemble" / "builds").glob("*.toml")}
SPECS = {**PATHS, **STRAPS, **BUILDS}


def list_choices(owner: type[Any], table: dict[str, Any], at: KeyPath = ()) -> Iterator[tuple[KeyPath, str]]:
    """Where a word stands that is one of a list, and the word."""
    for part in list_keys(owner):
        value, here = table.get(part.word), (*at, part.word)
        if part.key.choices and isinstance(value, str):
            yield here, value
        elif part.key.kind in ("table", "change") and isinstance(value, dict):
            yield from list_choices(part.key.of, value, here)
        elif part.key.kind == "tables" and isinstance(value, list):
            for index, each in enumerate(value):
                yield from list_choices(part.key.of, each, (*here, index))
        elif part.key.kind in ("named tables", "changes") and isinstance(value, dict):
            for name, each in value.items():
                yield from list_choices(part.key.of, each, (*here, name))


def misspell(text: str) -> Iterator[tuple[str, int]]:
    """The text with one such word misspelt, and the line of it, for each of them."""
    places, lines = locate_keys(text), text.split("\n")
    for at, word in list_choices(Spec, tomllib.loads(text)):
        place = places[at]
        line = lines[place.line - 1]
        found = re.compile(rf'{at[-1]}\s*=\s*"{re.escape(word)}"').search(line, place.column - 1)
        assert found, f"{at} is not found in {line!r}"
        wrong = f"{word[:-2]}{word[-1]}" if len(word) > 3 else f"{word}{word[-1]}"
        changed = f'{line[: found.start()]}{at[-1]} = "{wrong}"{line[found.end() :]}'
        yield "\n".join([*lines[: place.line - 1], changed, *lines[place.line :]]), place.line


def tell(path: Path) -> list[tuple[int, str]]:
    try:
        resolve_variants(read_spec(path))
    except SpecRejected as rejected:
        return [(problem.place.line, problem.what) for problem in rejected.problems]
    return []


def judge(text: str, path: Path) -> int:
    """How many words were misspelt; each is told by one problem at its line."""
    count = 0
    for wrong, line in misspell(text):
        path.write_text(wrong, encoding="utf-8")
        told = tell(path)
        assert len(told) == 1, (line, told)
        assert told[0][0] == line, told
        assert " cannot be " in told[0][1], told
        count += 1
    return count


@pytest.mark.parametrize("name", SPECS)
def test_a_misspelt_word_of_a_spec_is_one_problem(name: str, tmp_path: Path) -> None:
    source = SPECS[name]
    for drawing in source.parent.glob("*.svg"):
        (tmp_path / drawing.name).write_bytes(drawing.read_bytes())
    assert judge(source.read_text(encoding="utf-8"), tmp_path / source.name) > 2


@pytest.mark.parametrize("name", TOPICS)
def test_a_misspelt_word_of_a_topic_is_one_problem(name: str, tmp_path: Path) -> None:
    lay_out_files(tmp_path)
    assert judge(write_topic(name), tmp_path / "key-sleeve.toml") > 2


SOLD = '[materials.hide]\nkind = "leather"\nthickness = "2 mm"\nsold = %s\n%s'


@pytest.mark.parametrize(
    ("sold", "more", "line"),
    [
        ('"sied"', 'area = "20 sq ft"\nedge = "2 m"\nfirm = "300 mm"\n', 4),
        ('"pannel"', 'size = ["24 in", "36 in"]\n', 4),
        ('"rol"', 'width = "54 in"\n', 4),
        ('"roll"', "width = 54\n", 5),
        ('"panel"', "size = 36\n", 5),
    ],
)
def test_how_goods_are_sold_is_one_problem(sold: str, more: str, line: int, tmp_path: Path) -> None:
    path = tmp_path / "key-sleeve.toml"
    whole = write_topic("example")
    start, end = whole.index("[materials.hide]"), whole.index("[stitches")
    path.write_text(SOLD % (sold, more) + whole[:start] + whole[end:], encoding="utf-8")
    assert [at for at, _ in tell(path)] == [line]
