"""`docgen keys TOPIC`: every example is made, and every table has one."""

import re
import tomllib

import pytest
from topic_specs import lay_out_files, write_topic

from docgen.checks import resolve_variants
from docgen.cli import main
from docgen.plan import plan_work
from docgen.read import describe_keys, read_spec
from docgen.topics import TOPICS, WHOLE, read_topic


def list_tables(value, table=""):
    """Every table that a spec writes, by the names of describe_keys."""
    named = {row.table.removesuffix(".NAME") for row in describe_keys() if row.table.endswith(".NAME")}
    for word, inner in value.items():
        path = f"{table}.{word}".lstrip(".")
        if path in named:
            for each in inner.values():
                yield f"{path}.NAME"
                yield from list_tables(each, f"{path}.NAME")
        elif isinstance(inner, dict):
            yield path
            yield from list_tables(inner, path)
        elif isinstance(inner, list):
            for each in inner:
                if isinstance(each, dict):
                    yield f"{path}[]"
                    yield from list_tables(each, f"{path}[]")


@pytest.mark.parametrize("name", TOPICS)
def test_the_example_is_right_and_silent(name, tmp_path):
    lay_out_files(tmp_path)
    path = tmp_path / "key-sleeve.toml"
    path.write_text(write_topic(name), encoding="utf-8")
    spec = read_spec(path)
    for build in resolve_variants(spec):
        accepted = {accept.check.value for accept in spec.accept}
        assert [caution.what for caution in build.cautions if caution.check not in accepted] == []
        assert plan_work(build).is_proposed == (name not in (WHOLE, "steps"))


def test_every_table_is_in_one_topic_with_an_example():
    tables = {row.table for row in describe_keys() if row.table} | {"measures"}
    told = [table for _, listed in TOPICS.values() for table in listed]
    assert sorted(told) == sorted(tables)
    for name, (_, listed) in TOPICS.items():
        assert set(listed) <= {*list_tables(tomllib.loads(write_topic(name)))}, name


@pytest.mark.parametrize("name", TOPICS)
def test_a_topic_tells_its_example_and_its_keys(name, capsys):
    assert main(["keys", name]) == 0
    said = capsys.readouterr().out
    assert said.startswith(read_topic(name))
    headings = {f"[[{table[:-2]}]]" if table.endswith("[]") else f"[{table}]" for table in TOPICS[name][1]}
    keys = said[len(read_topic(name)) :]
    assert set(re.findall(r"^(\[.*\])$", keys, re.MULTILINE)) == headings - {"[measures]"}


@pytest.mark.parametrize("name", TOPICS)
def test_its_lines_fit_a_page_of_README_width(name):
    lines = read_topic(name).splitlines()
    assert lines[0].startswith("# ")
    assert max(map(len, lines)) <= 124
    assert all(line == line.rstrip() for line in lines)


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["strap"], 'docgen: there is no topic "strap"; did you mean "straps"?\n'),
        (["boat"], 'docgen: there is no topic "boat"; '),
        (["straps", "--schema"], "docgen: the schema is of all keys; leave out --schema, or the topic\n"),
    ],
)
def test_a_wrong_topic_is_told(words, said, capsys):
    assert main(["keys", *words]) == 2
    assert capsys.readouterr().err.startswith(said)


def test_the_list_of_keys_names_the_topics(capsys):
    assert main(["keys"]) == 0
    said = capsys.readouterr().out
    assert all(f"\n  {name} " in said.split("Topics, with an example each")[1] for name in TOPICS)
