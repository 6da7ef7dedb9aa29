"""The values between the phases cannot be changed: no lists, dicts or sets in them, every class frozen."""

from collections.abc import Iterator
from dataclasses import FrozenInstanceError, dataclass, fields, is_dataclass
from functools import cache
from pathlib import Path
from types import MappingProxyType

import pytest

from docgen.assemble import assemble
from docgen.checks import resolve_build
from docgen.pages import choices_of, lay_out
from docgen.plan import plan_work
from docgen.read import read_spec
from docgen.resolve import Build

DEMOS = sorted((Path(__file__).parent.parent / "specs").glob("*.toml"))
PLAIN = (str, bytes, int, float, bool, type(None))


def find_changeable(value: object, where: str, seen: set[int]) -> Iterator[str]:
    """Where something in the value can be changed, as a path of field names and places."""
    if isinstance(value, PLAIN) or id(value) in seen:
        return
    seen.add(id(value))
    if isinstance(value, (tuple, frozenset)):
        for index, item in enumerate(value):
            yield from find_changeable(item, f"{where}[{index}]", seen)
    elif is_dataclass(value) and not isinstance(value, type):
        for field in fields(value):
            if can_be_set(value, field.name):
                yield f"{where}: {type(value).__name__} is not frozen"
            yield from find_changeable(getattr(value, field.name), f"{where}.{field.name}", seen)
    else:
        yield f"{where}: {type(value).__name__}"


def can_be_set(value: object, name: str) -> bool:
    """Tried with what is there already, so that nothing changes."""
    try:
        setattr(value, name, getattr(value, name))
    except FrozenInstanceError:
        return False
    return True


@cache
def make_values(path: Path) -> dict[str, object]:
    """What each phase makes of a demo."""
    spec = read_spec(path)
    build = resolve_build(spec)
    plan = plan_work(build)
    packet = lay_out(plan, choices=choices_of(build.printing), date="2026-03-31")
    return {"Spec": spec, "Build": build, "Plan": plan, "Packet": packet}


@pytest.mark.parametrize("kind", ["Spec", "Build", "Plan", "Packet"])
@pytest.mark.parametrize("path", DEMOS, ids=lambda path: path.stem)
def test_nothing_between_the_phases_can_be_changed(path: Path, kind: str) -> None:
    value = make_values(path)[kind]
    seen: set[int] = set()
    assert list(find_changeable(value, kind, seen)) == []
    assert len(seen) > 100


def test_an_assembly_cannot_be_changed() -> None:
    (bag,) = [path for path in DEMOS if path.stem == "field-bag"]
    value = make_values(bag)["Build"]
    assert isinstance(value, Build)
    seen: set[int] = set()
    assert list(find_changeable(assemble(value), "Assembly", seen)) == []
    assert len(seen) > 100


@dataclass(frozen=True)
class Frozen:
    part: object


@dataclass
class Thawed:
    part: object


@pytest.mark.parametrize(
    ("value", "expected"),
    [
        (Frozen([1]), ["v.part: list"]),
        (Frozen(({},)), ["v.part[0]: dict"]),
        (Frozen(Frozen({1})), ["v.part.part: set"]),
        (Frozen(bytearray()), ["v.part: bytearray"]),
        (Frozen(MappingProxyType({})), ["v.part: mappingproxy"]),
        (Thawed((1, "a", None)), ["v: Thawed is not frozen"]),
        (Frozen((1, 2.0, "a", b"b", True, None, frozenset({1}))), []),
    ],
)
def test_what_can_be_changed_is_found(value: object, expected: list[str]) -> None:
    assert list(find_changeable(value, "v", set())) == expected
