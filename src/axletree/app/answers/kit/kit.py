"""Is this kit right, what does it look like, and how is it kept?"""

from __future__ import annotations

from pathlib import PurePath
from typing import Annotated, Any, Literal

from fastapi import APIRouter, Request
from pydantic import BaseModel, Field

from axletree.app.answers.common import OnDesk
from axletree.app.answers.kit.kit_edit import Edit, edited
from axletree.app.answers.kit.kit_sheet import fields_of
from axletree.app.own_files import own_text, part_choices
from axletree.app.state import Desk
from axletree.app.web.guard import from_here
from axletree.kit.errors import AxletreeError
from axletree.kit.kit import DEMO_KITS, Kit, check_text, demo_text
from axletree.kit.reading.composed import OwnPart
from axletree.kit.reading.overgrown import overgrown
from axletree.kit.reading.problems import Problem
from axletree.stages.kit.kit_check import KitCheckAnswer, KitCheckRequest, kit_check
from axletree.tell.kit.slips_text import slip_words

router = APIRouter()
# Twenty times what a kit takes; what is longer would keep the machine busy at every keystroke.
LARGEST_TEXT = 120_000
MOST_PROBLEMS = 100
Text = Annotated[str, Field(max_length=LARGEST_TEXT)]


class FieldChange(BaseModel):
    """One edit of the sheet."""

    path: Annotated[list[str | int], Field(min_length=1, max_length=6)]
    value: Annotated[str, Field(max_length=4000)] = ""
    what: Literal["set", "add", "remove"] = "set"


class Draft(BaseModel):
    """A kit's text as the page holds it, with edits to make in it."""

    text: Text
    edits: Annotated[list[FieldChange], Field(max_length=50)] = []
    units: Literal["metric", "us"] = "metric"


class Kept(BaseModel):
    """A text to keep, made from this revision of the kit."""

    text: Text
    revision: int


class PartNamed(BaseModel):
    """A site or tube by the name of its file ('' the kit's own), chosen at this revision."""

    part: OwnPart
    name: Annotated[str, Field(max_length=4000)] = ""
    revision: int


@router.get("/answer/kit")
def kit(desk: OnDesk) -> dict[str, Any]:
    """The kit on the desk; its text and fields are the leader's."""
    if desk.looking:
        looked: dict[str, Any] = desk.cached("sheet", lambda: _looked_at(desk))
        return {**looked, "revision": desk.revision}
    sheet = desk.cached("sheet", lambda: _sheet(desk, desk.text, [], desk.kit.habits.units))
    return {
        **sheet,
        "withheld": False,
        "revision": desk.revision,
        "file": desk.kit_file.name if desk.kit_file else None,
        "demo": desk.demo,
        "demos": list(DEMO_KITS),
        "parts": _parts(desk),
    }


def _parts(desk: Desk) -> list[dict[str, Any]]:
    """Which sites and tubes there are beside the kit; the files come and go while the app runs."""
    if desk.kit_file is None:
        return []
    text = own_text(desk.text, desk.own_files)
    return [
        {"part": c.part, "names": c.names, "chosen": c.chosen, "in_kit": c.in_kit}
        for c in part_choices(desk.kit_file, text, desk.own_files)
    ]


@router.post("/answer/kit/check")
def check(desk: OnDesk, draft: Draft) -> dict[str, Any]:
    """What is wrong with a draft, and how its rig looks; nothing is kept."""
    if overgrown(draft.text) is not None:
        return _sheet(desk, draft.text, [], draft.units)
    edits = [Edit(tuple(c.path), c.value, c.what) for c in draft.edits]
    text, misread = edited(draft.text, edits, draft.units)
    return _sheet(desk, text, misread, draft.units)


@router.get("/answer/kit/demo/{name}")
def demo(name: str) -> dict[str, Any]:
    """A demo kit's text."""
    return {"text": demo_text(name)}


@router.put("/kit")
def keep(desk: OnDesk, kept: Kept, request: Request) -> dict[str, Any]:
    """Take the text as the kit, or say everything that is wrong with it."""
    found = checked(kept.text)
    made, problems = found.kit, list(found.problems)
    problems = problems or _foreign_files(desk, made, from_here(request.scope))
    if not problems:
        problems = desk.keep_kit(kept.text, kept.revision)
    if problems:
        raise AxletreeError(f"not kept: {problems[0]}")
    return {"revision": desk.revision}


@router.post("/kit/part")
def choose(desk: OnDesk, chosen: PartNamed) -> dict[str, Any]:
    """Take another site or tube that lies beside the kit, for every page."""
    desk.choose_parts({chosen.part: chosen.name}, chosen.revision)
    return {"revision": desk.revision}


def _foreign_files(desk: Desk, kit: Kit | None, here: bool) -> list[Problem]:
    """A page may name only files that lie beside the kit, and only from this machine new ones."""
    if kit is None:
        return []
    found = []
    for key, name in _files(kit):
        if (key, name) in _files(desk.kit):
            continue
        path = PurePath(name)
        if not here or path.is_absolute() or ".." in path.parts or len(path.parts) != 1:
            found.append(
                Problem(key, "from a page, a file must lie beside the kit and be named at the "
                        "machine itself; otherwise write it into the kit file there")
            )  # fmt: skip
    return found


def _files(kit: Kit) -> list[tuple[str, str]]:
    """The files that a kit names, each with its key."""
    habits = kit.habits
    named = [
        ("site.skyline.file", kit.site.skyline.file),
        ("habits.own_objects_file", habits.own_objects_file),
        *(("habits.elements_files", name) for name in habits.elements_files),
        *(("habits.satellite_files", name) for name in habits.satellite_files),
    ]
    return [(key, name) for key, name in named if name is not None]


def checked(text: str) -> KitCheckAnswer:
    """What the stage says of a text from a page, which may not make it read a file."""
    return kit_check(KitCheckRequest(text, read_files=False))


def draft_kit(text: str) -> Kit:
    """The kit that a page's text holds; refuses one with anything wrong in it, the first named."""
    kit, problems = check_text(text)
    if kit is None:
        raise AxletreeError(f"first mend what is wrong: {problems[0]}")
    return kit


def _sheet(desk: Desk, text: str, misread: list[Problem], units: str) -> dict[str, Any]:
    found = checked(text)
    made, problems = found.kit, [*misread, *found.problems]
    spreads = {g.key: float(f"{g.sigma:.2g}") for g in found.guesses if g.sigma is not None}
    if made is not None and made.habits.units != units and not misread:
        units = made.habits.units
    return {
        "text": text,
        "right": made is not None and not misread,
        "units": units,
        "name": made.name if made else None,
        "problems": [
            {"key": p.key, "line": p.line, "message": p.message} for p in problems[:MOST_PROBLEMS]
        ],
        "guessed": len(found.guesses) if made else None,
        "groups": [] if overgrown(text) is not None else fields_of(text, problems, units, spreads),
        "slips": [f"{slip.key}: {slip_words(slip)}" for slip in found.slips],
        **drawing_of(made),
    }


def _looked_at(desk: Desk) -> dict[str, Any]:
    return {
        "text": "", "withheld": True, "right": True, "units": desk.kit.habits.units,
        "name": desk.kit.name, "problems": [], "guessed": len(desk.kit.guessed), "groups": [],
        "slips": [], **drawing_of(desk.kit), "file": None,
        "demo": desk.demo, "demos": list(DEMO_KITS), "parts": [],
    }  # fmt: skip


def drawing_of(kit: Kit | None) -> dict[str, Any]:
    """The rig with its measures, where its parts sit in that drawing, what can't work about it."""
    from axletree.mount.clearance.workable import check_rig
    from axletree.mount.rig.build import build_rig
    from axletree.mount.rig.kinematics import align
    from axletree.tell.kit.drawing import kit_view
    from axletree.tell.kit.plate_data import plate_data

    if kit is None:
        return {"drawing": "", "note": "", "plate": None}
    try:
        rig = build_rig(kit)
        axes = align(kit.site.latitude_deg)
    except AxletreeError as error:
        return {"drawing": "", "note": str(error), "plate": None}
    drawn = {"drawing": kit_view(kit, rig, axes), "plate": plate_data(rig, axes)}
    try:
        check_rig(rig, axes)
    except AxletreeError as error:
        return {**drawn, "note": str(error)}
    return {**drawn, "note": ""}
