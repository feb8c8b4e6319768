"""How is a frozen dataclass made without a tenth of a command's time?

`dataclass(frozen=True)` of the standard library writes six functions a class and compiles each:
half a millisecond a class, for the four hundred of an evening a tenth of its time. Here five of
them are the same function for all classes, and `__init__` is compiled when somebody first makes
one, or asks how. `fields`, `replace`, `asdict`, `field` and `is_dataclass` are the library's own.
"""

from __future__ import annotations

import dataclasses
from collections.abc import Callable
from operator import attrgetter
from typing import Any, NoReturn, TypeVar, dataclass_transform, overload

_Class = TypeVar("_Class")


@overload
def dataclass(made: type[_Class], /) -> type[_Class]: ...
@overload
def dataclass(*, frozen: bool = False) -> Callable[[type[_Class]], type[_Class]]: ...


@dataclass_transform(field_specifiers=(dataclasses.field,))
def dataclass(made: Any = None, /, *, frozen: bool = False) -> Any:
    """`dataclasses.dataclass` with these options; a frozen one is light to make.

    Every field of a frozen one is an argument of `__init__`, or has a default; `InitVar` and fields
    by keyword alone are not for it.
    """
    if not frozen:
        return dataclasses.dataclass if made is None else dataclasses.dataclass(made)
    return _frozen if made is None else _frozen(made)


def _frozen(made: type[_Class]) -> type[_Class]:
    own = set(made.__dict__)
    made = dataclasses.dataclass(init=False, repr=False, eq=False)(made)
    every = dataclasses.fields(made)  # type: ignore[arg-type]
    names = [f.name for f in every if f.compare]
    hashed = [f.name for f in every if (f.compare if f.hash is None else f.hash)]
    made.__compared__ = _values(names)  # type: ignore[attr-defined]
    made.__hashed__ = _values(hashed)  # type: ignore[attr-defined]
    shared: dict[str, Any] = {
        "__setattr__": _refuse_to_set, "__delattr__": _refuse_to_delete, "__repr__": _told,
        "__eq__": _equal, "__hash__": _hash, "__init__": _Init(made),
    }  # fmt: skip
    # Whoever writes __eq__ alone has Python put a __hash__ of None beside it: not their own.
    if made.__dict__.get("__hash__") is None:
        own.discard("__hash__")
    for name, function in shared.items():
        if name not in own:
            setattr(made, name, function)
    return made


def _values(names: list[str]) -> Callable[[Any], tuple[Any, ...]]:
    """What reads these attributes of anything, as a tuple."""
    if len(names) > 1:
        return staticmethod(attrgetter(*names))
    return staticmethod(lambda thing: tuple(getattr(thing, name) for name in names))


class _Init:
    """Stands for `__init__` until it is asked for, and is then compiled."""

    def __init__(self, made: type) -> None:
        self.made = made

    def __get__(self, thing: Any, owner: Any = None) -> Any:
        made = _init_of(self.made)
        if self.made.__dict__.get("__init__") is self:
            self.made.__init__ = made
        return made if thing is None else made.__get__(thing)


def _init_of(made: type) -> Any:
    """The function `__init__` of a class, as the standard library would write it."""
    known: dict[str, Any] = {"_set": object.__setattr__, "_none": _NONE}
    arguments, body, types = ["self"], [], {}
    for one in dataclasses.fields(made):
        name, given = one.name, one.name
        if one.default_factory is not dataclasses.MISSING:
            known[f"_given_{name}"] = _made_where_not_given(one.default_factory)
            given = f"_given_{name}({name})" if one.init else f"_given_{name}()"
            arguments += [f"{name}=_none"] if one.init else []
        elif one.default is not dataclasses.MISSING:
            known[f"_default_{name}"] = one.default
            given = name if one.init else f"_default_{name}"
            arguments += [f"{name}=_default_{name}"] if one.init else []
        else:
            arguments.append(name)
        if one.init:
            types[name] = one.type
        body.append(f" _set(self, {name!r}, {given})")
    if hasattr(made, "__post_init__"):
        body.append(" self.__post_init__()")
    exec(f"def __init__({', '.join(arguments)}):\n" + "\n".join(body or [" pass"]), known)
    init = known["__init__"]
    init.__qualname__ = f"{made.__qualname__}.__init__"
    init.__module__ = made.__module__
    init.__annotations__ = {**types, "return": None}
    return init


_NONE = object()  # stands for a default that is made anew each time


def _made_where_not_given(make: Callable[[], Any]) -> Callable[..., Any]:
    return lambda value=_NONE: make() if value is _NONE else value


def _refuse_to_set(thing: Any, name: str, value: Any) -> NoReturn:
    raise dataclasses.FrozenInstanceError(name)


def _refuse_to_delete(thing: Any, name: str) -> NoReturn:
    raise dataclasses.FrozenInstanceError(name)


def _told(thing: Any) -> str:
    shown = ", ".join(
        f"{f.name}={getattr(thing, f.name)!r}" for f in dataclasses.fields(thing) if f.repr
    )
    return f"{type(thing).__qualname__}({shown})"


def _equal(thing: Any, other: Any) -> Any:
    if other.__class__ is not thing.__class__:
        return NotImplemented
    return thing.__compared__(thing) == thing.__compared__(other)


def _hash(thing: Any) -> int:
    return hash(thing.__hashed__(thing))
