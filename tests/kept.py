"""Figures that are kept for a run of the tests, so that none waits for the same ones twice.

What one process has reckoned the others read from a folder of the run (FOLDER).

Only of functions whose answer follows from their words alone and is changed by nobody. Tests of the
mount and of what goes wrong reckon afresh, and so does each test that puts something else in the
place of a function (`monkeypatch`), that asks for `afresh`, or that judges evenings one by one.
"""

from __future__ import annotations

import functools
import hashlib
import importlib
import os
import pickle
from collections.abc import Callable, Collection
from dataclasses import replace
from pathlib import Path
from types import ModuleType
from typing import Any

# Where kept figures serve: folders of tests, or single files.
PLACES = (
    "app", "commands", "docs", "drawings", "evening", "outside", "stages", "tell",
    "hard/test_any_words.py", "hard/test_api_of_its_schema.py",
)  # fmt: skip
# There a test may replace what the planner is asked, but never what it is made of.
REPLACING = ("app", "commands", "docs", "drawings", "tell", "hard")
FOLDER = "AXLETREE_KEPT"  # in the environment; without it each process keeps its own
AFRESH = ("commands/test_progress.py",)  # what is told while a night is planned


class Switch:
    """Whether kept figures are given out, and whether the run's folder is used for it."""

    on = True
    folder = True


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
            kept[key] = _of_run(f"{module.__name__}.{name}", key, lambda: function(*words, **named))
        return given(kept[key], *words, **named)

    setattr(module, name, known)


def _of_run(name: str, key: bytes, reckon: Callable[[], Any]) -> Any:
    """What another process of this run has kept, else what is reckoned now, for the others too."""
    folder = os.environ.get(FOLDER)
    if folder is None or not SWITCH.folder:
        return reckon()
    file = Path(folder) / hashlib.sha256(name.encode() + key).hexdigest()
    if file.exists():
        return pickle.loads(file.read_bytes())
    answer = reckon()
    try:
        content = pickle.dumps(answer, protocol=5)
    except (pickle.PicklingError, TypeError, AttributeError):
        return answer
    being_written = file.with_suffix(f".{os.getpid()}")
    being_written.write_bytes(content)
    being_written.replace(file)
    return answer


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
    clearance = importlib.import_module("axletree.mount.clearance.map")
    calendar = importlib.import_module("axletree.stages.night.calendar")
    keep(calendar, "score_nights", of_year)
    keep(calendar, "special_of", of_year)
    keep(plan, "prepare", of_night, of_now)
    keep(plan, "plan_whole", of_night, planned_now)
    keep(clearance, "clearance_map")


def turn(path: Path, fixtures: Collection[str] = ()) -> None:
    """Set the switch for a test. Those of what goes wrong are watched for files that are opened."""
    SWITCH.on = serves(path, fixtures)
    SWITCH.folder = "hard" not in path.parts


def serves(path: Path, fixtures: Collection[str] = ()) -> bool:
    """Whether kept figures serve in a test's file, and for a test with these fixtures."""
    name = path.relative_to(Path(__file__).parent).as_posix()
    replaced = "monkeypatch" in fixtures and not name.startswith(REPLACING)
    afresh = name in AFRESH or "afresh" in fixtures or replaced
    return name.startswith(PLACES) and not afresh
