"""How far is the axis off by pictures that a page reduced and sent? For who leads alone.

Pictures come one by one, to addresses of their own with a limit of their own (`web.bodies`), and
what is done with them has a budget of its own. They stay in memory until they are let go.
"""

from __future__ import annotations

from datetime import datetime, tzinfo
from typing import Annotated, Any, Literal
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

from fastapi import APIRouter, Body, Path, Query
from pydantic import BaseModel, Field

from axletree.app.answers.common import OnDesk, plain
from axletree.app.answers.told import Moment, local
from axletree.app.held_pictures import MOST_HELD
from axletree.app.mount_notes import notes_of, tell_changed_evening
from axletree.app.state import Desk
from axletree.kit.errors import AxletreeError
from axletree.logbook.axis_notes import Origin
from axletree.logbook.own import learned_bolts, logbook_to_learn_from
from axletree.pole.photographs.looking import everywhere
from axletree.pole.picture_files.exif import FileSays, zone_of
from axletree.pole.picture_files.sent import PictureSent, read_sent
from axletree.pole.picture_files.shots import (
    LEAST_FIELD_DEG,
    WIDEST_FIELD_DEG,
    PictureFacts,
    shots_of,
)
from axletree.stages.set_up.check import CheckAnswer, CheckRequest, after_bolts, check
from axletree.stages.set_up.check_findings import measured_at
from axletree.stages.set_up.measurements import PicturesMeasurement
from axletree.stages.set_up.pictures_finding import PicturesFinding
from axletree.tell.check.drawing import check_drawing
from axletree.tell.check.finding_data import finding_data
from axletree.tell.check.pictures.drawing import picture_overlay
from axletree.tell.check.pictures.watch_text import now_words
from axletree.tell.check.text import page_words
from axletree.tell.check.turn_text import bolt_words
from axletree.tell.logbook.text import learned_words

router = APIRouter(prefix="/check/pictures")
KEY = r"^[0-9a-z]{6,20}$"
Key = Annotated[str, Path(pattern=KEY)]
PictureKeys = Annotated[list[Annotated[str, Field(pattern=KEY)]], Field(max_length=MOST_HELD)]


class PictureSaid(BaseModel):
    """What the picture's own file said, read by the page; `width_px` before it was reduced."""

    name: Annotated[str, Field(max_length=80)] = "picture"
    taken: Annotated[str, Field(max_length=40)] = ""
    exposure_s: Annotated[float, Field(gt=0, le=86_400, allow_inf_nan=False)] | None = None
    focal_35_mm: Annotated[float, Field(gt=0, le=20_000, allow_inf_nan=False)] | None = None
    width_px: Annotated[int, Field(ge=1, le=100_000)] | None = None


class PicturesAsked(Moment):
    """Which pictures, and what the person says of them; `field_deg` of the longer side."""

    keys: PictureKeys
    zone: Annotated[str, Field(max_length=60)] = ""
    field_deg: Annotated[float, Field(ge=LEAST_FIELD_DEG, le=WIDEST_FIELD_DEG)] | None = None
    towards: Literal["pole", "anywhere"] = "pole"
    still_s: Annotated[float, Field(ge=1, le=600)] | None = None


@router.put("/{key}")
def hold(
    desk: OnDesk,
    key: Key,
    picture: Annotated[bytes, Body(media_type="image/jpeg")],
    said: Annotated[PictureSaid, Query()],
) -> dict[str, Any]:
    """Keep one reduced picture until it is let go; nothing is written."""
    begun = _begun(said.name, said.taken)
    says = FileSays(begun, said.exposure_s, focal_35_mm=said.focal_35_mm)
    sent = PictureSent(said.name, picture, says, said.width_px)
    height, width = read_sent(sent).grey.shape
    desk.pictures.hold(key, sent)
    return {"width_px": width, "height_px": height}


@router.post("/forget")
def forget(desk: OnDesk) -> dict[str, Any]:
    """Let all pictures go."""
    desk.pictures.forget()
    return {}


@router.post("/measure")
def measure(desk: OnDesk, given: PicturesAsked) -> dict[str, Any]:
    """The axis by two pictures and more between which the hour axis alone was turned; noted."""
    notes, now = notes_of(desk), local(desk, given.at)
    learned = learned_bolts(desk.kit, logbook_to_learn_from(demo=desk.demo))
    with desk.pictures:
        measurement = _measurement(desk, given)
        origin = Origin.of_pictures(measurement.shots)
        at = measured_at(measurement, now)
        request = CheckRequest(
            at, measurement, known=notes.tonight(at, without=origin), kit_folder=desk.folder
        )
        found = check(learned.kit, request)
    assert isinstance(found.finding, PicturesFinding)
    notes.note(found.finding, origin)
    desk.pictures.run = found, request
    desk.set_page("check", {"pictures": origin.key})
    tell_changed_evening(desk)
    over = picture_overlay(found, found.finding, bolt_words(found))
    said: dict[str, Any] = plain(
        {
            **finding_data(found.finding),
            "words": page_words(found, learned_words(learned)),
            "overlay": {
                "drawing": over.svg, "notes": over.notes, "which": over.which, "name": over.name,
                "flipped": over.flipped,
            },
        }
    )  # fmt: skip
    return said


@router.post("/follow")
def follow(desk: OnDesk, given: PicturesAsked) -> dict[str, Any]:
    """Where the axis points by one picture more, while bolts are turned; nothing is noted."""
    run = desk.pictures.run
    if run is None:
        raise AxletreeError("measure with two pictures first, then turn bolts and send one more")
    learned = learned_bolts(desk.kit, logbook_to_learn_from(demo=desk.demo))
    with desk.pictures:
        shots = _shots(desk, given)
        if len(shots) != 1:
            raise AxletreeError("send one picture more after each turn of the bolts")
        now: CheckAnswer = after_bolts(learned.kit, *run, shots[0])
    said: dict[str, Any] = plain(
        {
            "words": page_words(now, learned_words(learned)),
            "said": now_words(now),
            "drawing": check_drawing(now),
            "total_arcmin": float(now.estimate.total_arcmin),
        }
    )
    return said


def _measurement(desk: Desk, given: PicturesAsked) -> PicturesMeasurement:
    if given.still_s is None and len(given.keys) < 2:
        raise AxletreeError("two pictures at least, the hour axis turned between them")
    if given.still_s is not None and len(given.keys) != 1:
        raise AxletreeError("one long exposure is one picture: take the others away")
    towards = everywhere() if given.towards == "anywhere" else None
    return PicturesMeasurement(_shots(desk, given), towards, given.still_s is not None)


def _shots(desk: Desk, given: PicturesAsked) -> Any:
    held = desk.pictures.of(given.keys)
    if len(held) != len(given.keys):
        raise AxletreeError("a picture went astray on its way: choose the pictures again")
    zone = _zone(given.zone)
    for sent in held:
        if sent.says.begun is None:
            raise AxletreeError(f"{sent.name}: no time in it; write when its exposure began")
        if sent.says.begun.tzinfo is None and zone is None:
            raise AxletreeError(
                f"{sent.name}: its clock said {sent.says.begun:%Y-%m-%d %H:%M:%S}, but not in "
                "which zone; write the zone of the camera's clock"
            )
    facts = PictureFacts(zone=zone, field_deg=given.field_deg, still_s=given.still_s)
    return shots_of([read_sent(sent) for sent in held], facts, desk.kit)


def _zone(text: str) -> tzinfo | None:
    """The zone of a name or an offset; none where nothing was written."""
    if not text.strip():
        return None
    offset = zone_of(text)
    if offset is not None:
        return offset
    try:
        return ZoneInfo(text.strip())
    except (ZoneInfoNotFoundError, ValueError, OSError):
        raise AxletreeError(f"'{text}' is not a zone such as Europe/Lisbon or +01:00") from None


def _begun(name: str, text: str) -> datetime | None:
    if not text:
        return None
    try:
        return datetime.fromisoformat(text)
    except ValueError:
        raise AxletreeError(
            f"{name}: '{text}' is not a date and time such as 2026-12-05T20:30:05"
        ) from None
