"""What files hold, changed by structure: a few edits, each told by numbers, so that one that failed is kept as a line."""

import copy
import json
from collections.abc import Iterator, Sequence
from typing import Any

from hypothesis import strategies as st

Edit = tuple[str, int, int]
OPERATIONS = ("drop", "replace", "copy", "repeat", "rename", "cut")
EDITS = st.lists(
    st.tuples(st.sampled_from(OPERATIONS), st.integers(0, 100_000), st.integers(0, 100_000)), min_size=1, max_size=4
)
VALUES: tuple[Any, ...] = (
    *(
        "",
        " ",
        "0",
        "-1 in",
        "1e308 mm",
        "9.9 m",
        "1 furlong",
        "1 parsec",
        "3 foo",
        "2 kg",
        "3 1/0 in",
        "nan",
        "inf mm",
    ),
    *("1e-300 mm", "x" * 3000, "\u202e\u0007", "{0}", "../x.svg", "/dev/zero", "con", "solve", "100 %", "width"),
    *(True, False, 0, -1, 10**18, 1.5, float("inf")),
    *([], {}, [[]], ["a"], {"a": 1}, ["1 in"] * 200),
)
REPEATS = (2, 30, 501)


def apply(tree: Any, edits: Sequence[Edit]) -> Any:
    """The tree of tables, lists and values with the edits made, one after another."""
    tree = copy.deepcopy(tree)
    for operation, place, number in edits:
        spots = list(_walk(tree))
        if not spots:
            break
        held, key = spots[place % len(spots)]
        _change(held, key, operation, number, [other[at] for other, at in spots])
    return tree


def _walk(tree: Any) -> Iterator[tuple[Any, Any]]:
    """Every place of the tree: what holds it, and its key or number there."""
    for key in list(tree) if isinstance(tree, dict) else range(len(tree)) if isinstance(tree, list) else ():
        yield tree, key
        yield from _walk(tree[key])


def _change(held: Any, key: Any, operation: str, number: int, others: Sequence[Any]) -> None:
    value = held[key]
    if operation == "drop":
        del held[key]
    elif operation == "replace":
        held[key] = copy.deepcopy(VALUES[number % len(VALUES)])
    elif operation == "copy":
        held[key] = copy.deepcopy(others[number % len(others)])
    elif operation == "repeat":
        times = REPEATS[number % len(REPEATS)]
        many = value * times if isinstance(value, str) else [copy.deepcopy(value) for _ in range(times)]
        held[key] = many if len(str(value)) < 200 else value
    elif operation == "rename" and isinstance(held, dict):
        held[("", "other", "é", "a b", "con", "x" * 200)[number % 6]] = held.pop(key)
    elif operation == "cut" and isinstance(value, str | list):
        held[key] = value[: number % (len(value) + 1)]


def write_toml(tree: dict[str, Any]) -> str:
    """The tree as TOML, every table inline but those at the top."""
    lines: list[str] = []
    tables = {key: value for key, value in tree.items() if isinstance(value, dict)}
    lines += [f"{_key(key)} = {_value(value)}" for key, value in tree.items() if key not in tables]
    for key, table in tables.items():
        lines += [f"[{_key(key)}]", *(f"{_key(inner)} = {_value(value)}" for inner, value in table.items())]
    return "\n".join([*lines, ""])


def _key(key: str) -> str:
    return json.dumps(key)


def _value(value: Any) -> str:
    if isinstance(value, dict):
        return "{ " + ", ".join(f"{_key(key)} = {_value(held)}" for key, held in value.items()) + " }"
    if isinstance(value, list):
        return "[" + ", ".join(map(_value, value)) + "]"
    if isinstance(value, float):
        return str(value)
    return json.dumps(value) if isinstance(value, str | bool | int) else json.dumps(str(value))
