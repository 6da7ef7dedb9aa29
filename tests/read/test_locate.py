"""The places that the scanner finds, against the values that `tomllib` reads from the same text."""

import tomllib
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from docgen.read.locate import Location, find_repeat, find_too_deep, locate_keys

SPECS = sorted((Path(__file__).parents[2] / "specs").glob("*.toml"))
GOOD = Path(__file__).with_name("good.toml")

ODD = {
    "empty": "",
    "only notes": "# a [b]\n\n  # c = 1\n",
    "no line end": "a = 1",
    "quoted keys": '"a b" = 1\n\'c.d\' = 2\n"e\\u0066\\"" = 3\n"" = 4\n',
    "dotted keys": "a.b.c = 1\na . b . d = 2\n'x y'.\"z.w\" = 3\n3.14 = 'pi'\n",
    "numbers as keys": "1 = 1\n-2 = 2\n1979-05-27 = 3\n",
    "headers": "[a]\nb = 1\n[a.c]\nd = 2\n[ e . 'f g' ]\nh = 3\n",
    "inner header first": "[a.b]\nc = 1\n[a]\nd = 2\n",
    "list of tables": "[[a]]\nb = 1\n[[a]]\n[[a.c]]\nd = 1\n[[a.c]]\n[a.c.e]\nf = 1\n[a.g]\nh = 2\n",
    "inline tables": "a = { b = 1, c = { d = [1, { e = 2 }] }, f.g = 3, }\n".replace(", }", " }"),
    "empty inline": "a = {}\nb = []\nc = [[], {}, [[]]]\n",
    "lists over lines": "a = [ # x ]\n  1, # , 2\n\n  [2,\n 3], \"]\", ']#',\n]\nb = 1\n",
    "strings": 'a = "x # y = 1 [ \\" ] "\nb = \'c:\\\'\nc = "\\\\"\nd = 1\n',
    "long strings": 'a = """\n[x]\ny = 1 """\nb = """ ""two"" """\nc = """end"""""\nd = """\\""""\ne = 1\n',
    "long literals": "a = '''\n[x]\n'y' ''z'' '''\nb = ''''q'''''\nc = 1\n",
    "folded": 'a = """\\\n   x \\\n\n   y"""\nb = 2\n',
    "values": "a=+1\nb=-0.5e3\nc=inf\nd=0xFF\ne=1979-05-27 07:32:00\nf=1979-05-27T07:32:00-07:00\ng=true#x\n",
    "dates in lists": "a = [1979-05-27 07:32:00, 07:32:00.5,1e5]\n",
    "windows": '[a]\r\nb = [\r\n  1,\r\n  2,\r\n]\r\nc = """x\r\ny"""\r\nd = 1\r\n',
    "tabs": "\ta\t=\t1\t# x\n\t[\tb\t]\t\n\t\tc\t=\t[\t1\t,\t2\t]\n",
    "beyond latin": 'a = "é — 😀"\n"ключ" = [\'ü\', "ß"]\n["表"]\nb = 1\n',
    "list then header": "[[a.b]]\nc = 1\n[a.d]\ne = 2\n[[a.b]]\nc = 3\n",
    "same names": "[a]\na.a = 1\n[a.b]\na = { a = 2 }\n",
    "quote in note": "a = 1 # it's \"\nb = 2 # '''\nc = 3\n",
}


def walk(value: Any, at: tuple[str | int, ...] = ()) -> Iterator[tuple[str | int, ...]]:
    """Paths of all keys and list items of what `tomllib` gives."""
    pairs = value.items() if isinstance(value, dict) else enumerate(value) if isinstance(value, list) else ()
    for part, inner in pairs:
        yield (*at, part)
        yield from walk(inner, (*at, part))


@pytest.mark.parametrize("path", [GOOD, *SPECS], ids=lambda path: path.name)
def test_places_cover_every_key_of_a_spec(path: Path) -> None:
    text = path.read_text(encoding="utf-8")
    assert set(locate_keys(text)) == set(walk(tomllib.loads(text)))


@pytest.mark.parametrize("text", ODD.values(), ids=ODD.keys())
def test_places_cover_every_key_of_odd_toml(text: str) -> None:
    assert set(locate_keys(text)) == set(walk(tomllib.loads(text)))


BARE = st.text(alphabet="ab-_1", min_size=1, max_size=3)
QUOTED = st.text(alphabet="a .#[]='", max_size=3).map(lambda text: f'"{text}"')
LITERAL = st.text(alphabet='a .#[]="\\', max_size=3).map(lambda text: f"'{text}'")
KEYS = st.one_of(BARE, QUOTED, LITERAL)
LONG = st.text(alphabet='a\n]#"', max_size=6).filter(lambda text: '"""' not in text and not text.endswith('"'))
SCALARS = st.one_of(
    st.sampled_from(["1", "-2.5", "true", "1979-05-27 07:32:00", "nan", '"\\""', "''", '"a # b"']),
    LONG.map(lambda text: f'"""{text}"""'),
)


def inline(pairs: list[tuple[str, str]]) -> str:
    return "{" + ", ".join(f"{key} = {value}" for key, value in pairs) + "}"


def spread(items: list[str]) -> str:
    return "[ # ]\n" + "".join(f"  {item}, # {item!r}\n".replace("\\n", " ") for item in items) + "]"


VALUES = st.recursive(
    SCALARS,
    lambda inner: st.one_of(
        st.lists(inner, max_size=3).map(spread), st.lists(st.tuples(KEYS, inner), max_size=3).map(inline)
    ),
    max_leaves=5,
)
DOTTED = st.lists(KEYS, min_size=1, max_size=3).map(".".join)
LINES = st.one_of(
    st.tuples(DOTTED, VALUES).map(lambda pair: f"{pair[0]} = {pair[1]}"),
    DOTTED.map(lambda name: f"[{name}]"),
    DOTTED.map(lambda name: f"[[ {name} ]] # note"),
)


@settings(max_examples=300, deadline=None)
@given(st.lists(LINES, max_size=6).map("\n".join), st.booleans())
def test_places_cover_every_key_of_made_up_toml(text: str, windows: bool) -> None:
    if windows:
        text = text.replace("\n", "\r\n")
    try:
        document = tomllib.loads(text)
    except tomllib.TOMLDecodeError:
        locate_keys(text)
        find_repeat(text)
        return
    assert set(locate_keys(text)) == set(walk(document))
    assert find_repeat(text) is None


@settings(max_examples=200, deadline=None)
@given(st.text(alphabet="a=.[]{}\"'\\#\n, ", max_size=60))
def test_any_text_at_all_is_scanned_without_a_crash(text: str) -> None:
    located = locate_keys(text)
    find_too_deep(text)
    assert all(place.line >= 1 and place.column >= 1 for place in located.values())


def test_a_place_is_the_line_the_column_and_the_words_of_the_value() -> None:
    text = '[a]\n  b = ["x", # one\n    "yy"]\n[[c]]\nd.e = { f = 1 }\r\n'
    assert dict(locate_keys(text)) == {
        ("a",): Location(line=1, column=1, words="[a]"),
        ("a", "b"): Location(line=2, column=3, words='["x", # one'),
        ("a", "b", 0): Location(line=2, column=8, words='"x"'),
        ("a", "b", 1): Location(line=3, column=5, words='"yy"'),
        ("c",): Location(line=4, column=1, words="[[c]]"),
        ("c", 0): Location(line=4, column=1, words="[[c]]"),
        ("c", 0, "d"): Location(line=5, column=1, words="{ f = 1 }"),
        ("c", 0, "d", "e"): Location(line=5, column=3, words="{ f = 1 }"),
        ("c", 0, "d", "e", "f"): Location(line=5, column=9, words="1"),
    }


def test_a_table_stands_at_its_own_header_even_when_an_inner_one_came_first() -> None:
    assert locate_keys("[a.b]\n[a]\n")[("a",)] == Location(line=2, column=1, words="[a]")


def test_words_are_capped_at_a_hundred_letters() -> None:
    assert locate_keys(f'a = "{"x" * 300}"')[("a",)].words == '"' + "x" * 99


@pytest.mark.parametrize(
    ("text", "path", "lines"),
    [
        ("a = 1\nb = 2\na = 3\n", ("a",), (1, 3)),
        ("[a]\nb = 1\n[c]\n[a]\n", ("a",), (1, 4)),
        ("a = { b = 1, b = 2 }\n", ("a", "b"), (1, 1)),
        ("[a]\nb.c = 1\nb.c = [\n1]\n", ("a", "b", "c"), (2, 3)),
        ("a = 1\n[[a]]\n", ("a",), (1, 2)),
    ],
)
def test_a_key_given_twice_is_found(text: str, path: tuple[str, ...], lines: tuple[int, int]) -> None:
    with pytest.raises(tomllib.TOMLDecodeError):
        tomllib.loads(text)
    repeat = find_repeat(text)
    assert repeat is not None
    assert (repeat.path, (repeat.first.line, repeat.second.line)) == (path, lines)


def test_eight_brackets_are_allowed_and_nine_are_too_deep() -> None:
    assert find_too_deep("\na = [[[[[[[[]]]]]]]]") is None
    assert find_too_deep("\na = [[[[[[[[[]]]]]]]]]") == Location(line=2, column=13, words="a = [[[[[[[[[]]]]]]]]]")


def test_brackets_in_strings_and_notes_do_not_count_as_depth() -> None:
    assert find_too_deep('a = \'[[[[[[[[[[\' # [[[[[[[[[[\nb = """[[[[[\n[[[[["""\n') is None


def test_a_key_of_eight_parts_is_allowed_and_one_of_nine_is_too_deep() -> None:
    assert find_too_deep("a.b.c.d.e.f.g.h = 1") is None
    assert find_too_deep("a.b.c.d.e.f.g.h.i = 1") is not None


@pytest.mark.parametrize("piece", ["[", '"""\\', "'''a'", "a.", '"\\', "{a=", "#", "\\", '""" "" ', "a=["])
def test_half_a_megabyte_of_the_same_piece_is_scanned(piece: str) -> None:
    text = piece * (512 * 1024 // len(piece))
    assert len(locate_keys(text)) <= len(text)
    find_repeat(text)
    find_too_deep(text)
