"""Frozen classes of our own making behave as the standard library's; `dataclasses` itself is the measure."""

import copy
import dataclasses
import pickle

import pytest

from docgen import classes

WAYS = {"by name": {"kw_only": True}, "in order": {"kw_only": False}}


def make_both(kw_only: bool) -> tuple[type, type]:
    """The same class, ours and the library's."""
    made = []
    for decorate in (classes.dataclass, dataclasses.dataclass):

        @decorate(frozen=True, slots=True, kw_only=kw_only)
        class Hole:
            """A hole."""

            at: tuple[float, float]
            wide_mm: float = 4.0
            note: str = dataclasses.field(default="round", metadata={"words": "shape"})

            @property
            def area(self) -> float:
                return self.wide_mm**2

        made.append(Hole)
    return made[0], made[1]


@classes.dataclass(frozen=True, slots=True)
class Kept:
    """Stands in the module, so that it can be pickled."""

    first: int
    second: tuple[str, ...] = ()


@pytest.mark.parametrize("way", WAYS)
def test_repr_hash_fields_and_patterns_are_as_the_library_makes_them(way: str) -> None:
    ours, theirs = make_both(**WAYS[way])
    one, other = ours(at=(1.0, 2.0), note="oval"), theirs(at=(1.0, 2.0), note="oval")
    assert repr(one) == repr(other)
    assert hash(one) == hash(other)
    assert ours.__match_args__ == theirs.__match_args__
    assert ours.__slots__ == theirs.__slots__
    assert dataclasses.asdict(one) == dataclasses.asdict(other)
    described = [[(f.name, f.default, f.kw_only, f.metadata) for f in dataclasses.fields(it)] for it in (ours, theirs)]
    assert described[0] == described[1]
    assert (one.area, ours.__doc__, ours.__qualname__) == (16.0, "A hole.", theirs.__qualname__)


@pytest.mark.parametrize("way", WAYS)
def test_values_are_equal_when_class_and_fields_are(way: str) -> None:
    ours, theirs = make_both(**WAYS[way])
    one = ours(at=(1.0, 2.0))
    assert one == ours(at=(1.0, 2.0)) == dataclasses.replace(ours(at=(0.0, 0.0)), at=(1.0, 2.0))
    assert one != ours(at=(1.0, 3.0))
    assert one != theirs(at=(1.0, 2.0))
    assert one != (1.0, 2.0)
    assert len({one, ours(at=(1.0, 2.0)), ours(at=(1.0, 3.0))}) == 2


@pytest.mark.parametrize("name", ["wide_mm", "unheard_of"])
def test_nothing_can_be_set_or_deleted(name: str) -> None:
    for made in make_both(kw_only=True):
        value = made(at=(1.0, 2.0))
        # The library lets a name that is no field fall through to the slots, which refuse it.
        with pytest.raises((dataclasses.FrozenInstanceError, TypeError)):
            setattr(value, name, 5.0)
        with pytest.raises((dataclasses.FrozenInstanceError, TypeError)):
            delattr(value, name)
        assert value == made(at=(1.0, 2.0))


@pytest.mark.parametrize("way", WAYS)
@pytest.mark.parametrize("call", [((), {}), ((), {"wide": 3}), (((0, 0), 1, "a", 2), {}), (((0, 0),), {"at": (0, 0)})])
def test_a_wrong_call_is_refused_in_the_same_words(
    way: str, call: tuple[tuple[object, ...], dict[str, object]]
) -> None:
    said = []
    for made in make_both(**WAYS[way]):
        with pytest.raises(TypeError) as caught:
            made(*call[0], **call[1])
        said.append(str(caught.value))
    assert said[0] == said[1]


def test_values_survive_copies_and_other_processes() -> None:
    value = Kept(1, ("a", "b"))
    for again in (copy.copy(value), copy.deepcopy(value), pickle.loads(pickle.dumps(value))):
        assert again == value
        assert type(again) is Kept
    match value:
        case Kept(first, (_, last)):
            assert (first, last) == (1, "b")


def test_what_is_worked_out_after_init_may_refuse() -> None:
    @classes.dataclass(frozen=True, slots=True, kw_only=True)
    class Whole:
        """Of a count."""

        count: int

        def __post_init__(self) -> None:
            if self.count < 0:
                raise ValueError("less than nothing")

    assert Whole(count=1).count == 1
    with pytest.raises(ValueError, match="less than nothing"):
        Whole(count=-1)


@pytest.mark.parametrize("frozen", [True, False])
def test_defaults_that_are_made_anew_and_classes_that_change(frozen: bool) -> None:
    @classes.dataclass(frozen=frozen, slots=True)
    class Open:
        """A list that grows."""

        found: list[int] = dataclasses.field(default_factory=list)

    one = Open()
    one.found.append(1)
    assert (one.found, Open().found) == ([1], [])
    assert repr(one).endswith("Open(found=[1])")


def test_a_class_may_build_on_another() -> None:
    @classes.dataclass(frozen=True, slots=True, kw_only=True)
    class Hole:
        """Round."""

        wide_mm: float

    @classes.dataclass(frozen=True, slots=True, kw_only=True)
    class Slot(Hole):
        """Oblong."""

        long_mm: float = 9.0

    one = Slot(wide_mm=3.0)
    assert repr(one).endswith("Slot(wide_mm=3.0, long_mm=9.0)")
    assert one == dataclasses.replace(one, wide_mm=3.0) != Hole(wide_mm=3.0)
    with pytest.raises(dataclasses.FrozenInstanceError):
        one.wide_mm = 4.0


@pytest.mark.parametrize("kw_only", [True, False])
def test_a_frozen_class_on_a_frozen_one_has_the_fields_of_both(kw_only: bool) -> None:
    """Its own decorator where both are given in one way, the library's where they are not: the same in every respect."""
    for decorate in (classes.dataclass, dataclasses.dataclass):

        @decorate(frozen=True, slots=True, kw_only=True)
        class Table:
            line: int = 0

        @decorate(frozen=True, slots=True, kw_only=kw_only)
        class Named(Table):
            name: str = ""

        value = Named(name="back", line=7)
        assert repr(value).endswith("Named(line=7, name='back')")
        assert (value, hash(value)) == (dataclasses.replace(Named(line=7), name="back"), hash((7, "back")))
        assert value != Named(name="back")
        assert copy.deepcopy(value) == value
        with pytest.raises(dataclasses.FrozenInstanceError):
            value.line = 8
