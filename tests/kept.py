"""Figures that are kept within a process, so that no test waits for the same ones twice.

Only of functions whose answer follows from their words alone and is changed by nobody. Tests of the
planner, of the mount and of what goes wrong reckon afresh: kept is for those who look at what
commands, pages, drawings and sheets make of a night.
"""

from __future__ import annotations

import functools
import importlib
import pickle
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from types import ModuleType
from typing import Any

# Where kept figures serve: folders of tests, or single files.
PLACES = (
    "app", "commands", "docs", "drawings", "tell", "hard/test_any_words.py",
    "hard/test_api_of_its_schema.py",
)  # fmt: skip
AFRESH = ("commands/test_progress.py",)  # what is told while a night is planned


class Switch:
    """Whether kept figures are given out."""

    on = True


SWITCH = Switch()


class NotKeptError(Exception):
    """The answer depends on more than these words."""


def same_words(*words: Any, **named: Any) -> Any:
    """The words as they are."""
    return words, named


def as_it_was(answer: Any, *words: Any, **named: Any) -> Any:
    """The answer as it was given first."""
    return answer


def keep(
    module: ModuleType,
    name: str,
    asked: Callable[..., Any] = same_words,
    given: Callable[..., Any] = as_it_was,
) -> None:
    """Let a function of a module answer once for all words that are alike.

    `asked` gives of its words what the answer depends on; where that can't be pickled the function
    answers each time. `given` makes of a kept answer the one for these words.
    """
    function: Callable[..., Any] = getattr(module, name)
    kept: dict[bytes, Any] = {}

    @functools.wraps(function)
    def known(*words: Any, **named: Any) -> Any:
        if not SWITCH.on:
            return function(*words, **named)
        try:
            key = pickle.dumps(asked(*words, **named))
        except (NotKeptError, pickle.PicklingError, TypeError, AttributeError):
            return function(*words, **named)
        if key not in kept:
            kept[key] = function(*words, **named)
        return given(kept[key], *words, **named)

    setattr(module, name, known)


def of_night(kit: Any, observer: Any, request: Any, *more: Any, **named: Any) -> Any:
    """What a plan depends on: not when it is made, nor where a kit without files lies."""
    if request.own_file or kit.site.skyline.file or kit.habits.own_objects_file:
        raise NotKeptError
    return kit, observer, replace(request, made_at=None, kit_folder=None)


def of_year(
    kit: Any,
    observer: Any,
    first: Any,
    last: Any,
    *,
    folder: Any = None,
    own: Any = (),
    **more: Any,
) -> Any:
    """What a year's nights depend on: not what anything is called, nor where the kit lies."""
    if own or kit.site.skyline.file or kit.habits.own_objects_file:
        raise NotKeptError
    parts = {part: getattr(kit, part).model_copy(update={"name": ""}) for part in ("site", "tube")}
    nameless = kit.model_copy(update={**parts, "name": ""})
    return nameless.model_dump_json(warnings=False), observer, first, last, more


def of_now(prepared: Any, kit: Any, observer: Any, request: Any, *more: Any, **named: Any) -> Any:
    """The night as it is prepared at the moment that is named now."""
    return replace(prepared, made_at=request.made_at)


def planned_now(
    planned: Any, kit: Any, observer: Any, request: Any, *more: Any, **named: Any
) -> Any:
    """The night as it is planned at the moment that is named now."""
    return replace(planned, evening=replace(planned.evening, made_at=request.made_at))


def keep_nights() -> None:
    """Plan each night once, score each year once, and reckon the clearances of each rig once."""
    plan = importlib.import_module("axletree.evening.sheet.plan")
    table = importlib.import_module("axletree.mount.room.table")
    calendar = importlib.import_module("axletree.stages.night.calendar")
    keep(calendar, "score_nights", of_year)
    keep(calendar, "special_of", of_year)
    keep(plan, "prepare", of_night, of_now)
    keep(plan, "plan_whole", of_night, planned_now)
    keep(table, "clearance_map")


def serves(path: Path) -> bool:
    """Whether kept figures serve in a test's file."""
    name = path.relative_to(Path(__file__).parent).as_posix()
    return name.startswith(PLACES) and name not in AFRESH
