"""Frozen dataclasses that are light to make, held against the standard library's own."""

from __future__ import annotations

import copy
import dataclasses
import inspect
import pickle
from dataclasses import field
from typing import Any

import pytest

from axletree.kit import frozen


@frozen.dataclass(frozen=True)
class Pier:
    """Made here."""

    height_m: float
    name: str = "pier"
    bolts: list[int] = field(default_factory=list, compare=False)
    kept: str = field(default="x", repr=False, hash=False)

    def __post_init__(self) -> None:
        if self.height_m < 0.0:
            raise ValueError("below the ground")


@frozen.dataclass(frozen=True)
class HeavyPier(Pier):
    """Inherits fields, and counts further ones."""

    mass_kg: float = 2.0
    doubled: float = field(default=0.5, init=False)


def _by_the_library(of: type) -> Any:
    """The same class made by `dataclasses`."""
    body = {
        name: value
        for name, value in vars(of).items()
        if name in ("__annotations__", "__doc__", "__post_init__", "__module__")
    }
    for one in dataclasses.fields(of):
        if one.name in body["__annotations__"]:
            body[one.name] = field(
                default=one.default, default_factory=one.default_factory,  # type: ignore[call-overload]
                init=one.init, repr=one.repr, hash=one.hash, compare=one.compare,
            )  # fmt: skip
    bases = tuple(_by_the_library(base) for base in of.__bases__ if base is not object)
    return dataclasses.dataclass(frozen=True)(type(of.__name__, bases, body))


PAIRS = [(Pier, _by_the_library(Pier)), (HeavyPier, _by_the_library(HeavyPier))]


@pytest.mark.parametrize(("ours", "theirs"), PAIRS)
def test_made_told_and_compared_alike(ours: Any, theirs: Any) -> None:
    for words in ((1.0,), (1.0, "north"), (1.0, "north", [3], "y")):
        a, b = ours(*words), theirs(*words)
        assert repr(a) == repr(b)
        assert dataclasses.asdict(a) == dataclasses.asdict(b)
        assert hash(a) == hash(b)
        assert a == ours(*words)
        assert [f.name for f in dataclasses.fields(a)] == [f.name for f in dataclasses.fields(b)]
    for other in ((2.0,), (1.0, "pier", [4]), (1.0, "pier", [], "z")):
        assert (ours(1.0) == ours(*other)) is (theirs(1.0) == theirs(*other))
        assert (hash(ours(1.0)) == hash(ours(*other))) is (
            hash(theirs(1.0)) == hash(theirs(*other))
        )
    assert ours(1.0) != theirs(1.0)
    # A class's first few are made without compiling how, the others with it.
    many = [ours(float(i), kept="z") for i in range(30)]
    assert [repr(a) for a in many] == [repr(theirs(float(i), kept="z")) for i in range(30)]
    assert list(inspect.signature(ours).parameters) == list(inspect.signature(theirs).parameters)


@pytest.mark.parametrize(("ours", "theirs"), PAIRS)
def test_what_is_refused(ours: Any, theirs: Any) -> None:
    for made in (ours, theirs):
        thing = made(1.0)
        with pytest.raises(dataclasses.FrozenInstanceError, match="height_m"):
            thing.height_m = 2.0
        with pytest.raises(dataclasses.FrozenInstanceError, match="name"):
            del thing.name
        with pytest.raises(TypeError, match="height_m"):
            made()
        with pytest.raises(TypeError, match="unknown"):
            made(1.0, unknown=3)
        with pytest.raises(TypeError, match="height_m"):
            made(1.0, height_m=2.0)
        with pytest.raises(TypeError, match="positional"):
            made(*range(9))
        with pytest.raises(ValueError, match="below"):
            dataclasses.replace(thing, height_m=-1.0)


def test_replaced_copied_and_pickled() -> None:
    thing = HeavyPier(1.5, bolts=[1, 2], mass_kg=3.0)
    assert dataclasses.replace(thing, name="south") == HeavyPier(1.5, "south", [1, 2], "x", 3.0)
    assert copy.deepcopy(thing) == thing
    assert copy.deepcopy(thing).bolts is not thing.bolts
    assert pickle.loads(pickle.dumps(thing)) == thing
    assert Pier(1.0).bolts is not Pier(1.0).bolts
    assert thing.doubled == 0.5


def test_what_a_class_says_itself_stays() -> None:
    @frozen.dataclass(frozen=True)
    class Own:
        value: float

        def __repr__(self) -> str:
            return "own"

        def __eq__(self, other: object) -> bool:
            return True

    assert repr(Own(1.0)) == "own"
    assert Own(1.0) == Own(2.0)
    assert hash(Own(1.0)) == hash((1.0,))


def test_one_that_is_compared_as_the_thing_itself() -> None:
    @frozen.dataclass(frozen=True, eq=False)
    class Heap:
        stones: list[int]

    heap = Heap([1])
    assert heap == heap
    assert heap != Heap([1])
    assert len({heap, Heap([1])}) == 2
    assert repr(heap).endswith("Heap(stones=[1])")


def test_one_that_is_not_frozen_is_the_librarys() -> None:
    @frozen.dataclass
    class Loose:
        value: float

    thing = Loose(1.0)
    thing.value = 2.0
    assert thing == Loose(2.0)
