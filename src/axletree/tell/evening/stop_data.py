"""How do the stops' typed answers become their part of the document?"""

from __future__ import annotations

import math
from zoneinfo import ZoneInfo

from axletree.axis.circles_read import SetOnStar, StopPlace
from axletree.evening.given_up import GivenUp
from axletree.evening.night.set_up_times import seconds_between
from axletree.evening.stops.outcome import OrderQuality
from axletree.evening.stops.stop import (
    CutOff,
    Nudge,
    SideChoice,
    Stop,
    Wait,
)
from axletree.mount.rig.field_orientation import PictureKind
from axletree.mount.room.side_answer import SideCaution
from axletree.sky.orbits.orbit import OrbitDoubt
from axletree.tell.evening.document import GivenUpFacts, OrderFacts
from axletree.tell.evening.parts.finding_facts import finding_facts
from axletree.tell.evening.parts.stop_facts import (
    NudgeFacts,
    PlaceFacts,
    SetOnStarFacts,
    SideFacts,
    StopFacts,
    ViewFacts,
    WaitFacts,
    WorthFacts,
)
from axletree.tell.eyepiece.data import eyepiece_data
from axletree.tell.eyepiece.forms import AtEyepieceData
from axletree.tell.eyepiece.way_text import EyeTurn
from axletree.tell.orbit.data import orbit_data
from axletree.tell.sayings.text import sayings_of
from axletree.tell.seeing.text import visibility_words, why_words
from axletree.tell.side.doubt_data import RoomDoubtData, room_doubt_data
from axletree.tell.side.text import end_words, posture_words
from axletree.tell.special.on_object_text import stop_special_words
from axletree.tell.stop.circles_text import set_on_words
from axletree.tell.stop.text import (
    dial,
    face_words,
    given_up_words,
    nudge_words,
    order_words,
    orientation_words,
    stop_caution_words,
    wait_words,
    why_side_words,
)


def stop_facts(stop: Stop, units: str) -> StopFacts:
    """One stop; lengths in its sentences in the person's units, times as its begin has them."""
    return StopFacts(
        number=stop.number,
        name=stop.name,
        also_called=stop.also_called,
        kind=stop.kind,
        constellation=stop.constellation,
        catalogue_id=stop.catalogue_id,
        right_ascension_of_date_h=stop.right_ascension_of_date_h,
        declination_of_date_deg=stop.declination_of_date_deg,
        right_ascension_j2000_h=stop.right_ascension_j2000_h,
        declination_j2000_deg=stop.declination_j2000_deg,
        magnitude_v=stop.magnitude_v,
        size_arcmin=stop.size_arcmin,
        begin=stop.begin,
        end=stop.end,
        queue_s=stop.queue_s,
        start=_place(stop.start),
        finish=_place(stop.finish),
        chosen=_side(stop.chosen, stop),
        other=None if stop.other is None else _side(stop.other, stop),
        why_side=why_side_words(stop, units),
        why_side_code=why_side_code(stop),
        view=_view(stop, units),
        nudge=_nudge(stop.nudge),
        visibility=visibility_words(stop.visibility),
        visibility_code=stop.visibility.value,
        margin_mag=stop.margin_mag,
        line_filter=stop.candidate.line_filter,
        why=why_words(stop.candidate),
        turn_warnings=tuple(map(stop_caution_words, stop.turn_cautions)),
        turn_warning_codes=tuple(map(_caution_code, stop.turn_cautions)),
        cautions=tuple(map(stop_caution_words, stop.cautions)),
        caution_codes=tuple(map(_caution_code, stop.cautions)),
        promised=stop.promised,
        set_on=None if stop.set_on is None else _set_on(stop.set_on),
        finding=finding_facts(stop),
        eyepiece=_eyepiece(stop),
        sayings=sayings_of(stop.name),
        worth=_worth(stop),
        wait=None if stop.wait is None else _wait(stop.wait, stop.name),
        orbit=orbit_data(stop.candidate.thing),
        tonight=tuple(stop_special_words(one, stop.begin, _zone(stop)) for one in stop.special),
    )


def _wait(wait: Wait, name: str) -> WaitFacts:
    return WaitFacts(
        begin=wait.begin,
        end=wait.end,
        waits_for_code=wait.waits_for.value,
        meanwhile_code=wait.meanwhile.value,
        words=wait_words(wait, name),
    )


def why_side_code(stop: Stop) -> str:
    """What tells the chosen side from the other one, or that the order of the stops does."""
    decided = stop.choice.better not in (stop.chosen.side, "")
    return "order" if decided else stop.choice.reason.value


def _worth(stop: Stop) -> WorthFacts:
    parts = {name: round(part) for name, part in vars(stop.candidate.worth).items()}
    return WorthFacts(points=round(stop.candidate.value, 1), **parts)


def _caution_code(caution: SideCaution | CutOff | OrbitDoubt) -> str:
    if isinstance(caution, OrbitDoubt):
        return caution.kind.value
    return "cut_off" if isinstance(caution, CutOff) else caution.warning.value


def _eyepiece(stop: Stop) -> AtEyepieceData | None:
    view = stop.view
    turn = None
    if math.isfinite(view.north_deg):
        turn = EyeTurn(view.north_deg, view.picture is PictureKind.MIRRORED)
    return eyepiece_data(stop.body, turn, view.magnification, _zone(stop))


def _zone(stop: Stop) -> ZoneInfo:
    zone = stop.begin.tzinfo
    assert isinstance(zone, ZoneInfo)
    return zone


def _place(place: StopPlace) -> PlaceFacts:
    figures = dict(vars(place))
    return PlaceFacts(circles_code=figures.pop("circles").value, **figures)


def _set_on(setting: SetOnStar) -> SetOnStarFacts:
    return SetOnStarFacts(
        star=setting.star,
        apart_deg=round(setting.apart_deg, 1),
        at=setting.at,
        star_reading_h=setting.star_reading_h,
        object_reading_h=setting.object_reading_h,
        sigma_min=setting.sigma_min,
        then_code=setting.then.value,
        words=set_on_words(setting),
    )


def _side(side: SideChoice, stop: Stop) -> SideFacts:
    return SideFacts(
        side=side.side,
        weights_up=side.weights_up,
        room_s=side.room_s,
        room_deg=side.room_deg,
        room_ends=side.room_ends,
        ends_by=end_words(side.ends),
        ends_code=side.ends.by.key,
        doubt=_doubt(side, stop),
    )


def _doubt(side: SideChoice, stop: Stop) -> RoomDoubtData | None:
    if side.doubt is None:
        return None
    lasts = seconds_between(stop.begin, stop.end)
    chance = float(side.doubt.touches_within(lasts).mean())
    return room_doubt_data(side.doubt, stop.begin, chance, told=side.doubt.matters(lasts))


def _view(stop: Stop, units: str) -> ViewFacts:
    view, doubt = stop.view, stop.chosen.doubt
    return ViewFacts(
        eyepiece=view.eyepiece,
        magnification=view.magnification,
        true_field_deg=view.true_field_deg,
        exit_pupil_mm=view.exit_pupil_mm,
        height_mm=view.height_mm,
        height_error_mm=0.0 if doubt is None else round(doubt.eye_sigma_m * 1000.0, 1),
        face_azimuth_deg=view.face_azimuth_deg,
        face_words=face_words(view),
        barrel_tilt_deg=view.barrel_tilt_deg,
        reach=posture_words(view.posture, units),
        reach_code=view.posture.stance.value,
        orientation=orientation_words(view),
        orientation_code=view.picture.value,
        drift_clock=dial(view.drift_deg),
    )


def _nudge(nudge: Nudge) -> NudgeFacts:
    return NudgeFacts(
        every_s=nudge.every_s,
        knob_turns=nudge.knob_turns,
        direction=nudge_words(nudge),
        direction_code=nudge.direction.value,
        times_per_visitor=nudge.times_per_visitor,
    )


def given_up_facts(left: GivenUp) -> GivenUpFacts:
    """An object without a stop."""
    return GivenUpFacts(name=left.name, reason=given_up_words(left), reason_code=left.reason.value)


def order_facts(order: OrderQuality) -> OrderFacts:
    """How good the order is."""
    return OrderFacts(
        method=order.method,
        proven_best=order.proven_best,
        gap_percent=round(order.gap_percent, 2),
        words=order_words(order),
        empty_because=None if order.empty_because is None else order.empty_because.value,
        ended_by=None if order.ended_by is None else order.ended_by.value,
        idle_from=None if order.idle is None else order.idle.begin,
        could_follow=() if order.idle is None else order.idle.could_follow,
    )
