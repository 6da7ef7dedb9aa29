"""The keys for a person and for an editor, against the fields that the classes declare."""

import json
import re
import tomllib
from collections.abc import Iterator
from dataclasses import fields
from pathlib import Path
from typing import Any

import pytest
from jsonschema import Draft202012Validator

from docgen.read import READY, Key, Spec, describe_keys, json_schema, render_keys, show_ready
from docgen.read.kinds import KINDS, list_examples
from docgen.read.schema import NAME
from docgen.resolve.goods.amounts import parse_areas, parse_density, parse_load, parse_run_weight, parse_weight
from docgen.starters import STARTERS, fill_starter
from docgen.written.measures import evaluate_length
from docgen.written.threads import parse_needle, parse_thread
from docgen.written.units.lengths import parse_percent, parse_pitch, parse_run, parse_thickness

HEAD = {"code": "roll", "title": "Roll", "version": "1"}
LEATHER = {"kind": "leather", "thickness": "4 oz"}


def declared(owner: type[Any] = Spec, table: str = "") -> Iterator[tuple[str, str, Key]]:
    """Table, key and what is declared, straight from the dataclasses."""
    for field in fields(owner):
        key = field.metadata.get("key")
        if key is None:
            continue
        word = field.name.replace("_", "-")
        yield table, word, key
        if key.of is not None and not key.kind.startswith("change"):
            ending = {"table": "", "tables": "[]", "named tables": ".NAME"}[key.kind]
            yield from declared(key.of, f"{table}.{word}{ending}".lstrip("."))


def test_every_declared_key_has_its_row() -> None:
    rows = {(row.table, row.key): row.told for row in describe_keys()}
    assert rows == {(table, word): key for table, word, key in declared()}


def test_rows_name_the_table_as_it_is_written() -> None:
    tables = {row.table for row in describe_keys()}
    assert {"", "spec", "pieces.NAME", "pieces.NAME.holes[]", "pieces.NAME.hole-rows[]", "steps[]"} <= tables
    assert {"straps.NAME.holes", "straps.NAME.ends[]", "care"} <= tables


def test_every_key_is_explained_and_of_a_known_kind() -> None:
    for table, word, key in declared():
        assert key.kind in KINDS, (table, word)
        assert key.meaning.endswith("."), (table, word)
        assert (key.kind == "choice") == bool(key.choices), (table, word)
        assert key.kind != "count" or key.least <= key.most, (table, word)
        assert key.kind not in ("tables", "named tables", "names", "sides") or key.most or key.size, (table, word)


def test_the_text_holds_every_key_and_every_kind_within_100_columns() -> None:
    text = render_keys()
    flat = " ".join(text.split())
    assert max(len(line) for line in text.splitlines()) <= 100
    for _, word, key in declared():
        assert f"\n  {word} " in text
        assert " ".join(key.meaning.split()) in flat
        assert key.default in flat
    for kind in {key.kind for _, _, key in declared()}:
        assert f"\n  {kind} " in text.split("\nKinds")[1]


def test_the_text_of_one_table() -> None:
    assert (
        render_keys()
        .split("\n\n")
        .count(
            "[straps.NAME.holes]\n"
            "  count                   Number of holes; odd, so that there is a middle one. "
            "(count; from 1 to 99;\n"
            "                          required)\n"
            "  pitch                   From hole to hole. (length; when left out: 1 in)\n"
            "  punch                   Size of the punch. (length; required)\n"
            "  tip                     From the last hole to the tip. (length; when left out: 3 in)"
        )
    )


def test_the_ways_of_an_oblong_hole_are_explained_on_pieces_and_on_straps() -> None:
    """A strap lies on the bench either way: up and across need its own words."""
    text = " ".join(render_keys().split())
    assert "up runs along the strap, from start to end; across runs over its width" in text
    assert "up runs from bottom to top (a strip: from start to end), across from left to right" in text
    assert "none where a curve begins or ends" in text
    assert '"3 in from start, centre" or "... middle"' in text


def test_the_headings_are_those_of_toml() -> None:
    headings = re.findall(r"^\[.*\]$", render_keys(), re.MULTILINE)
    assert headings[:3] == ["[spec]", "[shop]", "[pattern]"]
    assert {"[[steps]]", "[[pieces.NAME.holes]]", "[materials.NAME]"} <= set(headings)


def fits(schema: dict[str, Any], value: Any) -> bool:
    return bool(Draft202012Validator(schema).is_valid(value))


def test_the_schema_is_plain_json_of_the_draft_of_2020() -> None:
    schema = json_schema()
    assert schema["$schema"] == "https://json-schema.org/draft/2020-12/schema"
    assert json.loads(json.dumps(schema)) == schema


def test_the_schema_is_one() -> None:
    Draft202012Validator.check_schema(json_schema())


ROOT = Path(__file__).parents[2]
SPECS = [
    *ROOT.glob("specs/*.toml"),
    *(path for path in ROOT.glob("tests/**/*.toml") if "\n[spec]" in f"\n{path.read_text()}"),
]
FAULTY = ("mistakes.toml", "ten_versions.toml")  # mistakes on purpose, and a table of changes


def list_faults(source: str) -> list[str]:
    errors = Draft202012Validator(json_schema()).iter_errors(tomllib.loads(source))
    return [f"{error.json_path}: {error.message[:200]}" for error in errors]


@pytest.mark.parametrize("path", [path for path in SPECS if not path.name.endswith(FAULTY)], ids=lambda path: path.name)
def test_the_schema_takes_every_spec(path: Path) -> None:
    assert list_faults(path.read_text(encoding="utf-8")) == []


@pytest.mark.parametrize("name", READY)
def test_the_schema_takes_what_a_ready_part_shows_for_its_use(name: str) -> None:
    lines = (line[6:] for line in show_ready(name).words.splitlines() if line.startswith("#     "))
    materials = (
        '[materials.hide]\nkind = "leather"\nthickness = "2 mm"\n[spec]\ncode = "a"\ntitle = "A"\nversion = "1"\n'
    )
    assert list_faults(materials + "\n".join(lines)) == []


@pytest.mark.parametrize("numbers", [{"pockets": "4"}, {"pockets": 4.5}, {"pockets": 201}, {"Pockets": 4}, 4])
def test_the_schema_turns_numbers_away_that_are_none(numbers: object) -> None:
    small = {
        "spec": HEAD,
        "materials": {"body": LEATHER},
        "parts": {"cards": {"use": "card-pockets", "numbers": numbers}},
    }
    assert not fits(json_schema(), small)
    assert fits(json_schema(), {**small, "parts": {"cards": {"use": "card-pockets", "numbers": {"pockets": 4}}}})


@pytest.mark.parametrize("like", STARTERS)
def test_the_schema_takes_every_starter_whose_first_line_names_it(like: str) -> None:
    text = fill_starter(like, "mine")
    assert text.splitlines()[0] == "#:schema ./spec-schema.json"
    assert list_faults(text) == []


@pytest.mark.parametrize(
    "change",
    [
        {"spec": {"code": "roll", "title": "Roll"}},
        {"spec": {**HEAD, "code": "Tool Roll"}},
        {"spec": {**HEAD, "version": "2 b"}},
        {"spec": {**HEAD, "makes": 0}},
        {"spec": {**HEAD, "makes": True}},
        {"spec": {**HEAD, "show": "feet"}},
        {"spec": {**HEAD, "titel": "x"}},
        {"shop": {"link": "http://example.org"}},
        {"shop": {"name": "x" * 201}},
        {"materials": {}},
        {"materials": {"Body": LEATHER}},
        {"materials": {"body": {"kind": "leather"}}},
        {"materials": {"body": {**LEATHER, "width": 12}}},
        {"materials": {"body": {**LEATHER, "thickness": 0}}},
        {"measures": {"a": 3}},
        {"pieces": {"a": {"size": ["1 in"]}}},
        {"pieces": {"a": {"size": "1 in"}}},
        {"pieces": {"a": {"pair": "yes"}}},
        {"pieces": {"a": {"hole_rows": []}}},
        {"pieces": {"a": {"round": {"Top": "1 in"}}}},
        {"pieces": {"a": {"holes": [{"at": "centre"}]}}},
        {"steps": {"do": "x"}},
        {"piece": {}},
    ],
    ids=json.dumps,
)
def test_the_schema_turns_mistakes_away(change: dict[str, Any]) -> None:
    small = {"spec": HEAD, "materials": {"body": LEATHER}}
    assert fits(json_schema(), small)
    assert not fits(json_schema(), {**small, **change})


def test_the_schema_describes_every_key() -> None:
    leather = json_schema()["properties"]["materials"]["additionalProperties"]["properties"]
    assert leather["finish"] == {
        "description": "Surface of leather. One of a list of words. When left out: plain.",
        "default": "plain",
        "enum": ["plain", "waxed", "oiled", "coated", "suede"],
    }
    assert all(part["description"] for part in leather.values())


PARSED = {
    "thickness": parse_thickness,
    "pitch": parse_pitch,
    "run": parse_run,
    "percent": parse_percent,
    "thread": parse_thread,
    "needle": parse_needle,
    "load": parse_load,
    "run-weight": parse_run_weight,
    "weight": parse_weight,
    "density": parse_density,
    "area": parse_areas,
}


def test_every_example_that_an_editor_offers_can_be_read() -> None:
    """Each by the reader of its kind; arithmetic with two lengths for its measures."""
    offered = {(row.told.kind, example) for row in describe_keys() for example in list_examples(row.told)}
    assert {kind for kind, _ in offered} >= {*PARSED, "length", "lengths", "position", "sides", "edges"}
    for kind, example in offered:
        if kind in PARSED:
            PARSED[kind](example)
        elif kind in ("length", "lengths", "corners", "measures") and example != "solve":
            assert evaluate_length(example, {"width": 100.0, "edge": 5.0}) > 0


def find_words(schema: Any) -> list[dict[str, Any]]:
    """Every place of a schema where words may be written."""
    inner = schema.values() if isinstance(schema, dict) else schema if isinstance(schema, list) else ()
    own = [schema] if isinstance(schema, dict) and schema.get("type") == "string" else []
    return [*own, *(word for item in inner for word in find_words(item))]


def test_an_editor_is_told_something_at_every_value_and_name() -> None:
    schema = json_schema()
    pieces = schema["properties"]["pieces"]
    assert "[pieces.NAME]" in pieces["description"]
    assert pieces["additionalProperties"]["description"].startswith("A name of your own")
    words = [word for word in find_words(schema) if word.get("pattern") != NAME["pattern"]]
    assert all("description" in word for word in words if "examples" in word)
    of = pieces["additionalProperties"]["properties"]["of"]
    assert "one of [materials]" in of["description"]
    assert "below" not in json.dumps(schema), "there is nothing below it in an editor"
    corners = pieces["additionalProperties"]["properties"]["round"]
    assert not fits(corners, {"bottom-lefft": "5 mm"})
    assert fits(corners, {"bottom-left": "5 mm", "end-right": "5 mm"})
    assert list(schema["properties"]["materials"]["additionalProperties"]["properties"])[:3] == [
        "title",
        "colour",
        "kind",
    ]
