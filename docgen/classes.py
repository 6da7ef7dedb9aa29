"""`dataclass` as the standard library has it, made in a fifth of the time.

A command loads some three hundred of them. The standard decorator compiles six methods for each, and that took longer
than all that the commonest commands work out. Here the methods are shared; `__init__`, made with the first value, is a
pattern that is compiled once for each number of fields. What comes out is a dataclass of the standard library for fields,
replace, asdict and patterns; type checkers see it as one.
"""

from __future__ import annotations

import dataclasses
from collections.abc import Callable, Iterator
from functools import cache
from operator import attrgetter
from types import CodeType, FunctionType
from typing import TYPE_CHECKING, Any, ClassVar

__all__ = ["dataclass"]

if TYPE_CHECKING:
    from dataclasses import dataclass
else:

    def dataclass(
        *, frozen: bool = False, slots: bool = False, kw_only: bool = False, eq: bool = True
    ) -> Callable[[type], type]:
        """The standard decorator, with the options that are used here. A frozen class without slots keeps its fields in
        slots too, and beside them what it works out once, its hash among it."""

        def decorate(cls: type) -> type:
            if (frozen or slots) and _is_plain(cls, frozen, kw_only):
                return _make(cls, frozen, slots, kw_only, eq)
            return dataclasses.dataclass(frozen=frozen, slots=slots, kw_only=kw_only, eq=eq)(cls)

        return decorate


def _is_plain(cls: type, frozen: bool, kw_only: bool) -> bool:
    """What it builds on was made here, is frozen as it is, and its fields are given in the same way."""
    return all(_is_ours(base, frozen, kw_only) for base in cls.__bases__ if base is not object)


def _is_ours(base: Any, frozen: bool, kw_only: bool) -> bool:
    is_alike = frozen and base.__setattr__ is _refuse_to_set
    return is_alike and all(part.kw_only == kw_only for part in dataclasses.fields(base))


@dataclasses.dataclass
class _Sample:
    """What the library writes on a class and on a field, to be written on those made here."""

    part: int


_PARAMS: Any = type(vars(_Sample)["__dataclass_params__"])
_PART: Any = dataclasses.fields(_Sample)[0]


def _own_parts(cls: type, kw_only: bool) -> Iterator[dataclasses.Field[Any]]:
    for name, kind in cls.__annotations__.items():
        if kind.startswith("ClassVar") if isinstance(kind, str) else getattr(kind, "__origin__", None) is ClassVar:
            continue
        default = cls.__dict__.get(name, dataclasses.MISSING)
        part: Any = default if isinstance(default, dataclasses.Field) else dataclasses.field(default=default)
        part.name, part.type, part.kw_only, part._field_type = name, kind, kw_only, _PART._field_type
        yield part


def _make(cls: type, frozen: bool, slots: bool, kw_only: bool, eq: bool) -> type:
    """The class made again, with slots and the shared methods."""
    own = {part.name: part for part in _own_parts(cls, kw_only)}
    old = {part.name: part for base in reversed(cls.__bases__) for part in _fields_of(base)}
    known = old | own
    names = tuple(known)

    def make_first(self: object, *given: object, **named: object) -> None:
        made.__init__ = _make_init(made, tuple(known.values()))
        made.__init__(self, *given, **named)

    kept = {name: value for name, value in vars(cls).items() if name not in own and name not in _OF_NO_SLOTS}
    kept |= {
        "__slots__": tuple(name for name in own if name not in old) + (() if slots else _OF_NO_SLOTS),
        "__doc__": cls.__doc__ or cls.__name__,
        "__qualname__": cls.__qualname__,
        "__dataclass_fields__": known,
        "__dataclass_params__": _PARAMS(True, True, eq, False, False, frozen),
        "__match_args__": () if kw_only else names,
        "__init__": make_first,
        **_SHARED,
        **(_compare(names, frozen, slots) if eq else {}),
        **(_FROZEN if frozen else {}),
    }
    made: Any = type(cls)(cls.__name__, cls.__bases__, kept)
    return made  # type: ignore[no-any-return]


def _compare(names: tuple[str, ...], frozen: bool, slots: bool) -> dict[str, object]:
    look: Callable[[object], object] = attrgetter(*names) if names else lambda value: ()

    def is_equal(self: object, other: object) -> bool:
        if self is other:
            return True
        return look(self) == look(other) if other.__class__ is self.__class__ else NotImplemented

    def hash_once(self: object) -> Any:
        kept = self.__dict__
        if "hash" not in kept:
            kept["hash"] = hash(look(self))
        return kept["hash"]

    hashed = (lambda self: hash(look(self))) if slots else hash_once
    return {"__eq__": is_equal, "__hash__": hashed if frozen else None}


def _fields_of(base: Any) -> tuple[dataclasses.Field[Any], ...]:
    return dataclasses.fields(base) if base is not object else ()


def _make_init(made: Any, parts: tuple[dataclasses.Field[Any], ...]) -> Callable[..., None]:
    """`def __init__(self, *, name, note=...): ...`: the pattern for so many fields, with the names of these."""
    anew = tuple(number for number, part in enumerate(parts) if part.default_factory is not dataclasses.MISSING)
    code = _compile_init(len(parts), anew, hasattr(made, "__post_init__"))
    names = tuple(part.name for part in parts)
    counts = (1, len(parts)) if parts and parts[0].kw_only else (1 + len(parts), 0)
    code = code.replace(co_varnames=("self", *names), co_argcount=counts[0], co_kwonlyargcount=counts[1])
    puts = {f"put_{number}": getattr(made, name).__set__ for number, name in enumerate(names)}
    given = {part.name: _default_of(part) for part in parts}
    defaults = {name: value for name, value in given.items() if value is not dataclasses.MISSING}
    fresh = {f"made_{number}": parts[number].default_factory for number in anew}
    init = FunctionType(code, puts | fresh, "__init__", None if counts[1] else tuple(defaults.values()))
    init.__kwdefaults__ = defaults if counts[1] else None
    init.__qualname__ = f"{made.__qualname__}.__init__"
    return init


def _default_of(part: dataclasses.Field[Any]) -> Any:
    """What stands where a field is not given: its default, or what makes one anew."""
    return part.default if part.default_factory is dataclasses.MISSING else part.default_factory


@cache
def _compile_init(count: int, anew: tuple[int, ...], goes_on: bool) -> CodeType:
    """Each slot is filled by itself: that takes two thirds of what it takes to look it up by its name."""
    names = [f"a_{number}" for number in range(count)]
    given = [f"made_{number}() if a_{number} is made_{number} else a_{number}" for number in anew]
    values = dict(enumerate(names)) | dict(zip(anew, given, strict=True))
    body = [f"put_{number}(self, {value})" for number, value in values.items()]
    body += ["self.__post_init__()"] if goes_on else []
    source = "\n ".join([f"def __init__({', '.join(['self', *names])}):", *(body or ["pass"])])
    holder: dict[str, Any] = {}
    exec(source, holder)
    code: CodeType = holder["__init__"].__code__
    return code


def _names_of(value: Any) -> list[str]:
    return [part.name for part in dataclasses.fields(value)]


def _repr(self: Any) -> str:
    told = ", ".join(f"{name}={getattr(self, name)!r}" for name in _names_of(self))
    return f"{self.__class__.__qualname__}({told})"


def _refuse_to_set(self: Any, name: str, value: object) -> None:
    raise dataclasses.FrozenInstanceError(f"cannot assign to field {name!r}")


def _refuse_to_delete(self: Any, name: str) -> None:
    raise dataclasses.FrozenInstanceError(f"cannot delete field {name!r}")


def _get_state(self: Any) -> list[Any]:
    return [getattr(self, name) for name in _names_of(self)]


def _set_state(self: Any, state: list[Any]) -> None:
    for name, value in zip(_names_of(self), state, strict=True):
        object.__setattr__(self, name, value)


_OF_NO_SLOTS = ("__dict__", "__weakref__")
_SHARED = {"__repr__": _repr, "__getstate__": _get_state, "__setstate__": _set_state}
_FROZEN = {"__setattr__": _refuse_to_set, "__delattr__": _refuse_to_delete}
