"""`dataclass` as the standard library has it, but for frozen classes made in a fifth of the time.

A command loads some three hundred of them. The standard decorator compiles six methods for each, and that took longer
than all that the commonest commands work out; here only `__init__` is compiled, when the first value is made, and the
others are shared. What comes out is a dataclass of the standard library for fields, replace, asdict and patterns; type
checkers see it as one.
"""

from __future__ import annotations

import dataclasses
from collections.abc import Callable, Iterator
from operator import attrgetter
from typing import TYPE_CHECKING, Any, ClassVar

__all__ = ["dataclass"]

if TYPE_CHECKING:
    from dataclasses import dataclass
else:

    def dataclass(*, frozen: bool = False, slots: bool = False, kw_only: bool = False) -> Callable[[type], type]:
        """The standard decorator, with the options that are used here."""

        def decorate(cls: type) -> type:
            if frozen and slots and _is_plain(cls, kw_only):
                return _freeze(cls, kw_only)
            return dataclasses.dataclass(frozen=frozen, slots=slots, kw_only=kw_only)(cls)

        return decorate


def _is_plain(cls: type, kw_only: bool) -> bool:
    """No default is made anew for each value, and what it builds on was made here, its fields given in the same way."""
    parts = (value for value in vars(cls).values() if isinstance(value, dataclasses.Field))
    is_made = any(part.default_factory is not dataclasses.MISSING for part in parts)
    return not is_made and all(_is_ours(base, kw_only) for base in cls.__bases__ if base is not object)


def _is_ours(base: Any, kw_only: bool) -> bool:
    return base.__setattr__ is _refuse_to_set and all(part.kw_only == kw_only for part in dataclasses.fields(base))


@dataclasses.dataclass(frozen=True)
class _Sample:
    """What the library writes on a frozen class and on a field, to be written on those made here."""

    part: int


_PARAMS = vars(_Sample)["__dataclass_params__"]
_PART: Any = dataclasses.fields(_Sample)[0]


def _own_parts(cls: type, kw_only: bool) -> Iterator[dataclasses.Field[Any]]:
    for name, kind in cls.__annotations__.items():
        if kind.startswith("ClassVar") if isinstance(kind, str) else getattr(kind, "__origin__", None) is ClassVar:
            continue
        default = cls.__dict__.get(name, dataclasses.MISSING)
        part: Any = default if isinstance(default, dataclasses.Field) else dataclasses.field(default=default)
        part.name, part.type, part.kw_only, part._field_type = name, kind, kw_only, _PART._field_type
        yield part


def _freeze(cls: type, kw_only: bool) -> type:
    """The class made again, with slots and the shared methods."""
    own = {part.name: part for part in _own_parts(cls, kw_only)}
    old = {part.name: part for base in reversed(cls.__bases__) for part in _fields_of(base)}
    known = old | own
    names = tuple(known)
    look: Callable[[object], object] = attrgetter(*names) if names else lambda value: ()

    def is_equal(self: object, other: object) -> bool:
        return look(self) == look(other) if other.__class__ is self.__class__ else NotImplemented

    def make_first(self: object, *given: object, **named: object) -> None:
        made.__init__ = _compile_init(made, tuple(known.values()))
        made.__init__(self, *given, **named)

    kept = {name: value for name, value in vars(cls).items() if name not in own and name not in _OF_NO_SLOTS}
    kept |= {
        "__slots__": tuple(name for name in own if name not in old),
        "__doc__": cls.__doc__ or cls.__name__,
        "__qualname__": cls.__qualname__,
        "__dataclass_fields__": known,
        "__dataclass_params__": _PARAMS,
        "__match_args__": () if kw_only else names,
        "__init__": make_first,
        "__eq__": is_equal,
        "__hash__": lambda self: hash(look(self)),
        **_SHARED,
    }
    made: Any = type(cls)(cls.__name__, cls.__bases__, kept)
    return made  # type: ignore[no-any-return]


def _fields_of(base: Any) -> tuple[dataclasses.Field[Any], ...]:
    return dataclasses.fields(base) if base is not object else ()


def _compile_init(made: Any, parts: tuple[dataclasses.Field[Any], ...]) -> Callable[..., None]:
    """`def __init__(self, *, name, note=_note): ...`, where _note is the default. Each slot is filled by itself: that takes
    two thirds of what it takes to look it up by its name."""
    known = {f"_{part.name}": part.default for part in parts if part.default is not dataclasses.MISSING}
    given = [f"{part.name}=_{part.name}" if f"_{part.name}" in known else part.name for part in parts]
    body = [f"_put_{part.name}(self, {part.name})" for part in parts]
    body += ["self.__post_init__()"] if hasattr(made, "__post_init__") else []
    star = ["*"] if parts and parts[0].kw_only else []
    source = "\n ".join([f"def __init__({', '.join(['self', *star, *given])}):", *(body or ["pass"])])
    names: dict[str, Any] = {**known, **{f"_put_{part.name}": getattr(made, part.name).__set__ for part in parts}}
    exec(source, names)
    made_init: Callable[..., None] = names["__init__"]
    made_init.__qualname__ = f"{made.__qualname__}.__init__"
    return made_init


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
_SHARED = {
    "__repr__": _repr,
    "__setattr__": _refuse_to_set,
    "__delattr__": _refuse_to_delete,
    "__getstate__": _get_state,
    "__setstate__": _set_state,
}
