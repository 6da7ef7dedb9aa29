"""`dataclass` as the standard library has it, but for frozen classes made in two fifths of the time.

A command loads some three hundred of them. The standard decorator compiles six methods for each, and that took longer
than all that the commonest commands work out; here only `__init__` is compiled, and the others are shared. What comes
out is a dataclass of the standard library for fields, replace, asdict and patterns; type checkers see it as one.
"""

from __future__ import annotations

import dataclasses
from collections.abc import Callable
from operator import attrgetter
from typing import TYPE_CHECKING, Any

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


def _freeze(cls: type, kw_only: bool) -> type:
    cls.__doc__ = cls.__doc__ or cls.__name__  # else the library would look at the signature, which takes its time
    builds_on = cls.__bases__ != (object,)  # the library lets only a frozen class build on a frozen one
    make = dataclasses.dataclass(init=False, repr=False, eq=False, slots=True, kw_only=kw_only, frozen=builds_on)
    made: Any = make(cls)
    made.__dataclass_params__.frozen = True
    parts = dataclasses.fields(made)
    names = tuple(part.name for part in parts)
    look: Callable[[object], object] = attrgetter(*names) if parts else lambda value: ()

    def is_equal(self: object, other: object) -> bool:
        return look(self) == look(other) if other.__class__ is self.__class__ else NotImplemented

    made.__init__ = _compile_init(made, parts)
    made.__eq__, made.__hash__, made.__repr__ = is_equal, lambda self: hash(look(self)), _repr
    made.__setattr__, made.__delattr__ = _refuse_to_set, _refuse_to_delete
    made.__getstate__, made.__setstate__ = _get_state, _set_state
    return made  # type: ignore[no-any-return]


def _compile_init(made: Any, parts: tuple[dataclasses.Field[Any], ...]) -> Callable[..., None]:
    """`def __init__(self, *, name, note=_note): ...`, where _note is the default."""
    known = {f"_{part.name}": part.default for part in parts if part.default is not dataclasses.MISSING}
    given = [f"{part.name}=_{part.name}" if f"_{part.name}" in known else part.name for part in parts]
    body = [f"_put(self, {part.name!r}, {part.name})" for part in parts]
    body += ["self.__post_init__()"] if hasattr(made, "__post_init__") else []
    star = ["*"] if parts and parts[0].kw_only else []
    source = "\n ".join([f"def __init__({', '.join(['self', *star, *given])}):", *(body or ["pass"])])
    names: dict[str, Any] = {**known, "_put": object.__setattr__}
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
