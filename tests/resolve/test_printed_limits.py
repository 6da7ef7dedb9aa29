"""What is printed of limits and defaults is what happens: one thing too many is one problem and no other, and a default
that is written out changes nothing."""

import copy
import json
import tomllib
from collections.abc import Callable, Iterator
from dataclasses import fields, is_dataclass
from functools import lru_cache
from pathlib import Path
from typing import Any

import pytest

from docgen.checks import resolve_build
from docgen.plan import plan_work
from docgen.problems import Place, Problem, SpecRejected, has_errors
from docgen.read import Key, describe_keys, json_schema, read_spec
from docgen.read.check import READ_OVER, VALUES_MOST
from docgen.read.kinds import LINK_MOST, NAME_MOST, NOTE_MOST, WORDS_MOST, KeyField, list_keys
from docgen.read.locate import DEPTH_MOST
from docgen.read.source import SIZE_MOST
from docgen.read.spec import Spec
from docgen.resolve import Printing, choices_of
from docgen.tables.limits import Limits, limit_words
from docgen.tables.winding import find_spool_mm

BASE = Path(__file__).with_name("whole_language.toml").read_text(encoding="utf-8")
BOARD = '<svg width="90mm" height="90mm" viewBox="0 0 90 90"><path id="board" d="M10 10H70V50H10z"/></svg>'
LISTS = ("names", "texts", "lengths", "sides", "tables", "prices")
WRITTEN_AS_WORDS = {"thickness", "length", "pitch", "run", "percent", "thread", "needle", "load", "weight", "density"}
WRITTEN_AS_WORDS |= {"price", "times", "position", "edges", "text", "note"}
Path_ = tuple[str | int, ...]
Document = dict[str, Any]


def write(value: Any) -> str:
    """A value as TOML, on one line."""
    if isinstance(value, dict):
        return "{ " + ", ".join(f"{word} = {write(item)}" for word, item in value.items()) + " }"
    if isinstance(value, list):
        return f"[{', '.join(map(write, value))}]"
    return json.dumps(value, ensure_ascii=False)


def write_document(document: Document) -> str:
    return "".join(f"{word} = {write(value)}\n" for word, value in document.items())


@pytest.fixture
def problems_of(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Callable[[str], list[Problem]]:
    """The errors in a spec, whose drawing is there."""
    monkeypatch.chdir(tmp_path)
    Path("board.svg").write_text(BOARD)

    def read(text: str) -> list[Problem]:
        Path("a.toml").write_text(text, encoding="utf-8")
        try:
            resolve_build(read_spec("a.toml"))
        except SpecRejected as error:
            return [problem for problem in error.problems if has_errors([problem])]
        return []

    return read


def walk(owner: type[Any], table: Document, at: Path_ = ()) -> Iterator[tuple[Path_, KeyField, Document]]:
    """Every key that a table of the document holds or may hold: its path, what it is, and the table."""
    for part in list_keys(owner):
        here, held = (*at, part.word), table.get(part.word)
        yield here, part, table
        if part.key.of is None or not held:
            continue
        inner = {(): held} if part.key.kind == "table" else dict(enumerate(held)) if part.key.kind == "tables" else held
        for name, one in inner.items():
            yield from walk(part.key.of, one, here if name == () else (*here, name))


def too_little(key: Key) -> tuple[int, str] | None:
    """One less than a count takes, as `too_much`."""
    return (key.least - 1, f"from {key.least} to {key.most}") if key.kind == "count" else None


def too_much(key: Key, held: Any) -> tuple[Any, str] | None:
    """One more than a key takes, and a word of the message; None for a key without such a limit, or that is not used."""
    if key.kind == "count":
        return key.most + 1, f"from {key.least} to {key.most}"
    if key.kind in WRITTEN_AS_WORDS:
        most = NOTE_MOST if key.kind == "note" else WORDS_MOST
        return "m" * (most + 1), f"at most {most:,} are allowed"
    if key.kind == "link":
        return "https://" + "a" * LINK_MOST, f"at most {LINK_MOST} are allowed"
    if not held or not key.most:
        return None
    if key.kind in LISTS:
        held = [held] if isinstance(held, str) else held  # one name may stand alone
        return [held[k % len(held)] for k in range(key.most + 1)], f"at most {key.most} are allowed"
    name, model = list(held.items())[-1]
    copies = {f"{name}-{k}": copy.deepcopy(model) for k in range(key.most + 1 - len(held))}
    return {**held, **copies}, f"at most {key.most} are allowed"


# Here what is added is wrong in itself: measures that [measures] has not, advice named twice, an edge hemmed twice.
WRONG_ALONE = {("variants", "large", "measures"), ("care", "parts"), ("pieces", "tab", "hems")}


def cases() -> Iterator[Path_]:
    """Every key that is written, and of each kind of table once every other key."""
    seen = set()
    for path, part, table in walk(Spec, tomllib.loads(BASE)):
        kind = (*(word for word in path[:-1:2]), len(path), part.word)
        is_new = part.word in table or kind not in seen
        if is_new and path not in WRONG_ALONE and too_much(part.key, table.get(part.word)) is not None:
            seen.add(kind)
            yield path


def test_the_base_is_good(problems_of: Callable[[str], list[Problem]]) -> None:
    assert problems_of(BASE) == []
    assert problems_of(write_document(tomllib.loads(BASE))) == []


@pytest.mark.parametrize("path", list(cases()), ids=lambda path: ".".join(map(str, path)))
def test_one_too_many_or_too_few_is_one_problem(problems_of: Callable[[str], list[Problem]], path: Path_) -> None:
    for ask in (lambda part, held: too_much(part.key, held), lambda part, _: too_little(part.key)):
        document = tomllib.loads(BASE)
        part, table = next((part, table) for at, part, table in walk(Spec, document) if at == path)
        if (found := ask(part, table.get(part.word))) is not None:
            table[part.word], words = found
            (problem,) = problems_of(write_document(document))
            assert words in problem.what


@pytest.mark.parametrize("name", ["hide", "main", "tab", "band", "belt", "ring", "flatbed"])
def test_a_name_too_long_is_one_problem_however_often_it_is_named(
    problems_of: Callable[[str], list[Problem]], name: str
) -> None:
    long = "n" * (NAME_MOST + 1)
    text = BASE.replace(f'"{name}"', f'"{long}"').replace(f".{name}]", f".{long}]").replace(f'"{name}:', f'"{long}:')
    (problem,) = problems_of(text)
    assert problem.mend == f"use at most {NAME_MOST} letters; it has {NAME_MOST + 1}"


def test_far_too_many_are_cut_off_and_nothing_is_said_of_what_hangs_on_them(
    problems_of: Callable[[str], list[Problem]],
) -> None:
    """Of 601 pieces, 300 being allowed, the last is the one that a seam names."""
    count = READ_OVER * 300 + 1
    pieces = "".join(
        f'[pieces.p{k}]\nof = "hide"\nshape = "rectangle"\nsize = ["40 mm", "50 mm"]\n' for k in range(count)
    )
    seam = f'[seams.last]\nstitch = "main"\nmeet = ["p{count - 1}: left", "p{count - 2}: left"]\n'
    (problem,) = problems_of(BASE + pieces + seam)
    assert problem.what == "pieces has 610 entries; at most 300 are allowed"


def test_where_a_few_are_too_many_a_wrong_name_is_told_besides(problems_of: Callable[[str], list[Problem]]) -> None:
    pieces = "".join(
        f'[pieces.p{k}]\nof = "hide"\nshape = "rectangle"\nsize = ["40 mm", "50 mm"]\n' for k in range(300)
    )
    seam = '[seams.last]\nstitch = "main"\nmeet = ["p299: left", "nowhere: left"]\n'
    told = [problem.what for problem in problems_of(BASE + pieces + seam)]
    assert "pieces has 309 entries; at most 300 are allowed" in told
    assert any('"nowhere"' in what for what in told)


def test_too_many_values_are_one_problem(problems_of: Callable[[str], list[Problem]]) -> None:
    holes = ", ".join(['{ at = "centre, middle", punch = "4 mm" }'] * 400)
    pieces = "".join(
        f'[pieces.p{k}]\nof = "hide"\nshape = "rectangle"\nsize = ["40 mm", "50 mm"]\nholes = [{holes}]\n'
        for k in range(21)
    )
    (problem,) = problems_of(BASE + pieces)
    assert f"at most {VALUES_MOST:,} are allowed" in problem.what


@pytest.mark.parametrize(
    ("text", "what"),
    [
        ("#" * (SIZE_MOST + 1), "the file is larger than 512 KiB, too large for a spec"),
        (
            f"a = {'[' * (DEPTH_MOST + 1)}{']' * (DEPTH_MOST + 1)}",
            f"lists and tables are nested more than {DEPTH_MOST} deep",
        ),
        (f"a = {'9' * 5000}", "a number with more digits than can be read"),
    ],
)
def test_a_file_beyond_the_limits_is_one_problem(
    problems_of: Callable[[str], list[Problem]], text: str, what: str
) -> None:
    (problem,) = problems_of(f"{BASE}\n[x]\n{text}\n")
    assert problem.what == what


# ---- defaults ---------------------------------------------------------------


def strip(value: Any) -> Any:
    """A build without the places and words of its spec, and with what counts where its printing says nothing."""
    if isinstance(value, Printing):
        return strip(choices_of(value))
    if is_dataclass(value):
        kept = [part.name for part in fields(value) if part.name not in ("source", "digest", "is_point_given")]
        return {name: strip(getattr(value, name)) for name in kept if not isinstance(getattr(value, name), Place)}
    return [strip(item) for item in value if not isinstance(item, Place)] if isinstance(value, tuple | list) else value


def build_of(document: Document) -> Any:
    return build_once(write_document(document))


@lru_cache(maxsize=4)
def build_once(text: str) -> Any:
    """What a spec comes to; the problems that it is rejected for. Kept, since most documents leave a key out already."""
    Path("a.toml").write_text(text, encoding="utf-8")
    try:
        return strip(resolve_build(read_spec("a.toml")))
    except SpecRejected as error:
        return [problem.what for problem in error.problems]


def kind_of(path: Path_) -> tuple[str, ...]:
    """The path without names and numbers of entries."""
    owner: type[Any] = Spec
    words: list[str] = []
    for word in path:
        part = next((part for part in list_keys(owner) if part.word == word), None)
        if part is not None:
            words.append(part.word)
            owner = part.key.of or owner
    return tuple(words)


def defaults_of(owner: type[Any], at: tuple[str, ...] = ()) -> Iterator[tuple[tuple[str, ...], Any]]:
    """Every key of the language that has a value where it is left out, and that value."""
    for part in list_keys(owner):
        if part.key.of is not None:
            yield from defaults_of(part.key.of, (*at, part.word))
        elif part.key.value is not None:
            yield (*at, part.word), part.key.value


def other_value(key: Key) -> Any:
    """A value that is not the default."""
    if key.kind == "count":
        return key.most if key.value != key.most else key.least
    if key.kind == "flag":
        return not key.value
    if key.kind == "choice":
        return next(choice for choice in reversed(key.choices) if choice != key.value)
    others = {"percent": "11 %", "times": "1.1 times", "lengths": ["1.1 mm", "1.2 mm"], "code": "de"}
    return others.get(key.kind, {"paper": "a4", "at": "1 in from bottom"}.get(key.meaning, "7.7 mm"))


DEFAULTS = dict(defaults_of(Spec))
OF_VARIANTS = [kind for kind in DEFAULTS if kind[0] == "variants" and kind != ("variants", "made")]


@pytest.mark.parametrize("kind", OF_VARIANTS, ids=".".join)
def test_what_a_variant_may_change_has_the_default_of_what_it_changes(kind: tuple[str, ...]) -> None:
    assert DEFAULTS[kind] == DEFAULTS[kind[1:]]


OF_THEIR_OWN = {("pieces", "laid", "clear")}
"""Tried in `test_laid.py`, since what is laid wants goods with a width, whose absence is a problem of its own."""


@pytest.mark.parametrize(
    "kind", [kind for kind in DEFAULTS if kind[0] != "variants" and kind not in OF_THEIR_OWN], ids=".".join
)
def test_a_default_written_out_changes_nothing_and_another_value_does(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, kind: tuple[str, ...]
) -> None:
    monkeypatch.chdir(tmp_path)
    Path("board.svg").write_text(BOARD)
    paths = [path for path, _, _ in walk(Spec, tomllib.loads(BASE)) if kind_of(path) == kind]
    has_effect = False
    for path in paths:
        document = tomllib.loads(BASE)
        key, table = next((part.key, table) for at, part, table in walk(Spec, document) if at == path)
        table.pop(path[-1], None)
        left_out = build_of(document)
        table[path[-1]] = key.value
        as_default = build_of(document)
        if isinstance(as_default, list):
            continue  # the key has no meaning in this table
        assert left_out == as_default, path
        if not has_effect:
            table[path[-1]] = SPECIAL.get(kind, other_value(key))
            has_effect = build_of(document) != as_default
    assert has_effect


SPECIAL: dict[tuple[str, ...], Any] = {
    ("pattern", "paper"): "a4",
    ("pieces", "notches", "at"): "1 in from bottom",
    ("straps", "layers"): 2,
}


def test_defaults_that_are_told_in_words_are_those_of_the_tables(problems_of: Callable[[str], list[Problem]]) -> None:
    rows = {(row.table, row.key): row.told.default for row in describe_keys()}
    usual = BASE.replace('waste = "30 %"\n', "").replace('bobbin = "25 m"\nspool = "500 m"\n', "")
    problems_of(usual)
    build = resolve_build(read_spec("a.toml"))
    wastes = [f"{material.waste:.0%}".replace("%", " %") for material in build.materials]
    assert rows["materials.NAME", "waste"] == f"{wastes[0]} leather, {wastes[1]} other"
    (need,) = plan_work(build).threads
    grams = need.bobbin_mm * need.tex / 1e6
    assert rows["stitches.NAME", "bobbin"] == f"{grams:g} g of it"
    ounces = need.spool_mm * need.tex / 1e6 / 0.9 / 28.35  # a tenth of the spool is bond or finish
    by_hand = find_spool_mm(280.0, "hand") * 280.0 / 1e6
    assert rows["stitches.NAME", "spool"] == f"{ounces:g} oz of it, by hand {by_hand:g} g"


def test_every_limit_has_its_key_and_the_schema_its_default() -> None:
    rows = {row.key: row.told.default for row in describe_keys() if row.table == "limits"}
    assert rows == {key.replace("_", "-"): words for key, words in limit_words(Limits()).items()}
    schema = json_schema()["properties"]
    assert schema["limits"]["properties"]["hand-tails"]["default"] == "300 mm"
    assert schema["stitches"]["additionalProperties"]["properties"]["row-gap"]["default"] == "1/8 in"
    assert schema["spec"]["properties"]["makes"]["default"] == 1
