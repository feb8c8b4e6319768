"""How is a frozen dataclass made without a tenth of a command's time?

`dataclass(frozen=True)` of the standard library writes six functions a class and compiles each:
half a millisecond a class, for the four hundred of an evening a tenth of its time. Here five of
them are the same function for all classes, and so is `__init__` for a class's first few; it is
compiled when more are made, or somebody asks how. The library collects a class's fields when they
are first asked for: most classes of a short command are never used. `fields`, `replace`, `asdict`,
`field` and `is_dataclass` are the library's own.
"""

from __future__ import annotations

import dataclasses
import inspect
from collections.abc import Callable
from functools import partial
from operator import attrgetter
from threading import RLock
from typing import Any, NoReturn, TypeVar, dataclass_transform, overload

_Class = TypeVar("_Class")

# From so many of a class on, compiling its `__init__` costs less than doing without.
_OFTEN = 12


@overload
def dataclass(made: type[_Class], /) -> type[_Class]: ...
@overload
def dataclass(
    *, frozen: bool = False, eq: bool = True
) -> Callable[[type[_Class]], type[_Class]]: ...


@dataclass_transform(field_specifiers=(dataclasses.field,))
def dataclass(made: Any = None, /, *, frozen: bool = False, eq: bool = True) -> Any:
    """`dataclasses.dataclass` with these options; a frozen one is light to make.

    Every field of a frozen one is an argument of `__init__`, or has a default; `InitVar` and fields
    by keyword alone are not for it.
    """
    maker = partial(_frozen, eq=eq) if frozen else dataclasses.dataclass(eq=eq)
    return maker if made is None else maker(made)


def _frozen(made: type[_Class], *, eq: bool) -> type[_Class]:
    own = made.__dict__
    shared: dict[str, Any] = {
        "__setattr__": _refuse_to_set, "__delattr__": _refuse_to_delete, "__repr__": _told,
        "__init__": _Init(made),
    }  # fmt: skip
    if eq:
        shared |= {"__eq__": _equal}
        # Whoever writes __eq__ alone has Python put a __hash__ of None beside it: not their own.
        if own.get("__hash__") is None:
            made.__hash__ = _hash  # type: ignore[assignment]
    for name, function in shared.items():
        if name not in own:
            setattr(made, name, function)
    for name in _COLLECTED if eq else _COLLECTED[:3]:
        setattr(made, name, _WhenAsked(made, name, eq=eq))
    return made


# What is told of a class's fields; the last two where they say what is equal.
_COLLECTED = (
    "__dataclass_fields__", "__dataclass_params__", "__match_args__", "__compared__", "__hashed__",
)  # fmt: skip
_COLLECTING = RLock()  # fields are collected once, whoever else asks meanwhile


class _WhenAsked:
    """Stands for an attribute of `_COLLECTED` until one of them is asked for."""

    def __init__(self, made: type, name: str, *, eq: bool) -> None:
        self.made, self.name, self.eq = made, name, eq

    def __get__(self, thing: Any, owner: Any = None) -> Any:
        with _COLLECTING:
            if self.made.__dict__[self.name] is self:
                _collect(self.made, eq=self.eq)
        return getattr(self.made, self.name)


def _collect(made: Any, *, eq: bool) -> None:
    """Have the library collect a class's fields."""
    if not made.__doc__:
        made.__doc__ = made.__name__  # the library's is the signature, which takes long to write
    types = inspect.get_annotations(made)
    # The library reads each annotation that is text, for what makes no field of it (`ClassVar`);
    # that takes longer than all the rest, so that it gets the plain ones afterwards.
    made.__annotations__ = {
        name: type_ if "ClassVar" in str(type_) else object for name, type_ in types.items()
    }
    try:
        dataclasses.dataclass(init=False, repr=False, eq=False, match_args=False)(made)
    finally:
        made.__annotations__ = types
    every = dataclasses.fields(made)
    for one in every:
        one.type = types.get(one.name, one.type)
    setattr(made, "__match_args__", tuple(f.name for f in every if f.init))  # noqa: B010
    if eq:
        made.__compared__ = _values([f.name for f in every if f.compare])
        made.__hashed__ = _values(
            [f.name for f in every if (f.compare if f.hash is None else f.hash)]
        )


def _values(names: list[str]) -> Callable[[Any], tuple[Any, ...]]:
    """What reads these attributes of anything, as a tuple."""
    if len(names) > 1:
        return staticmethod(attrgetter(*names))
    return staticmethod(lambda thing: tuple(getattr(thing, name) for name in names))


class _Init:
    """Stands for `__init__` until it is asked for often enough, and is then compiled."""

    def __init__(self, made: type) -> None:
        self.made, self.times = made, 0

    def __get__(self, thing: Any, owner: Any = None) -> Any:
        if thing is None:
            return self._compiled()
        self.times += 1
        return partial(self._once if self.times < _OFTEN else self._compiled(), thing)

    def _compiled(self) -> Any:
        made = _init_of(self.made)
        if self.made.__dict__.get("__init__") is self:
            self.made.__init__ = made
        return made

    def _once(self, thing: Any, /, *given: Any, **named: Any) -> Any:
        """What the compiled one does; where anything is amiss that one refuses it in its words."""
        every = dataclasses.fields(self.made)
        asked = [one.name for one in every if one.init]
        values = dict(zip(asked, given, strict=False)) | named
        wrong = len(given) > len(asked) or not named.keys() <= set(asked[len(given) :])
        for one in every:
            if one.init and one.name in values:
                value = values[one.name]
            elif one.default is not dataclasses.MISSING:
                value = one.default
            elif one.default_factory is not dataclasses.MISSING:
                value = one.default_factory()
            else:
                wrong = True
            if wrong:
                return self._compiled()(thing, *given, **named)
            object.__setattr__(thing, one.name, value)
        if hasattr(thing, "__post_init__"):
            thing.__post_init__()
        return None


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
