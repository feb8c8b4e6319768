"""How do an order and the answers for setting up become the document of the evening?"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime

from axletree.evening.document import (
    BalanceAnswer,
    Darkness,
    Evening,
    GivenUp,
    NorthAnswer,
    OrderFacts,
    Place,
    PoleAnswer,
    Rig,
    Stop,
)
from axletree.evening.ground_here import Ground
from axletree.evening.night.darkness import FIRST_STARS_DEG, clock_change
from axletree.evening.night.set_up_times import Session, stages_of
from axletree.evening.objects.choosing import Chosen
from axletree.evening.order.best import Order
from axletree.evening.sheet import set_up as setup
from axletree.evening.sheet.rotation_words import rotation_words
from axletree.evening.sheet.set_up_words import words_of
from axletree.evening.stops.placing import Showing, given_up, order_facts, stops_from
from axletree.evening.stops.ring_advice import ring_advice
from axletree.kit.kit import Kit
from axletree.sky.observer import Observer
from axletree.sky.sun_rule import AFTER_STOP_S
from axletree.sky.time.instants import Instants
from axletree.sky.time.nights import Night


@dataclass(frozen=True)
class Prepared:
    """All of an evening but its order; `around` is the moment that its set-up answers are for.

    Without a session there are no candidates and nothing to show.
    """

    kit: Kit
    observer: Observer
    day: date
    made_at: datetime
    dark: Darkness
    around: datetime
    ground: Ground
    north: NorthAnswer
    pole: PoleAnswer
    balance: BalanceAnswer
    session: Session | None
    chosen: Chosen | None
    showing: Showing | None
    assumed: tuple[str, ...]
    notes: tuple[str, ...]


def document_of(prepared: Prepared, order: Order | None) -> Evening:
    """The document with the stops of this order; None where there is no session."""
    p, kit, observer = prepared, prepared.kit, prepared.observer
    words = words_of(kit, p.north, p.pole, p.balance, p.ground.horizon)
    stops: tuple[Stop, ...] = ()
    left: list[GivenUp] = []
    facts = OrderFacts(
        method="none", proven_best=True, gap_percent=0.0, words=_no_session(),
        empty_because="no session",
    )  # fmt: skip
    if p.showing is not None and order is not None:
        stops = stops_from(kit, observer, p.ground.table, p.showing, order.stops)
        facts, left = order_facts(p.showing, order), given_up(p.showing, order)
    turn = ring_advice(kit, p.ground.table, stops)
    if turn is not None:
        answer, details, cautions = words["balance"]
        words["balance"] = (answer, (*details, turn.words), cautions)
    return Evening(
        date=p.day,
        made_at=p.made_at,
        place=place_of(kit, observer),
        rig=_rig(kit),
        units=kit.habits.units,
        visitors=kit.habits.visitors,
        darkness=p.dark,
        north=p.north,
        pole=p.pole,
        balance=p.balance,
        follow=setup.follow_answer(kit),
        ring_turn=turn,
        stages=stages_of(p.session, p.dark, words, kit.tube.cool_down_min) if p.session else (),
        stops=stops,
        order=facts,
        given_up=tuple(left),
        assumptions=p.assumed,
        cautions=_cautions(kit),
        notes=(*_notes(p), *p.notes),
    )


def _no_session() -> str:
    return (
        f"no stops: the Sun does not sink {FIRST_STARS_DEG:.0f}° below the horizon within the "
        "hours you chose."
    )


def place_of(kit: Kit, observer: Observer) -> Place:
    """Where the evening happens."""
    site = kit.site
    return Place(
        name=site.name,
        latitude_deg=site.latitude_deg,
        longitude_deg=site.longitude_deg,
        elevation_m=site.elevation_m,
        time_zone=site.time_zone,
        elevated_pole="north" if site.north else "south",
        pressure_hpa=observer.air_pressure_hpa,
        temperature_c=observer.air_temperature_c,
    )


def _rig(kit: Kit) -> Rig:
    return Rig(
        kit_name=kit.name,
        mount=kit.mount.name,
        motion=kit.mount.motion,
        tube=kit.tube.name,
        tube_kind=kit.tube.kind,
        aperture_mm=kit.tube.aperture_mm,
        focal_length_mm=kit.tube.focal_length_mm,
        guessed=kit.guessed,
    )


def _cautions(kit: Kit) -> tuple[str, ...]:
    """The cautions that apply to this kit and audience."""
    said = [
        "The Sun: caps on while it is up. While any part of it is above the horizon, or will be "
        f"within {AFTER_STOP_S / 60:.0f} minutes of a stop's end, no stop comes within "
        f"{kit.habits.sun_distance_deg:.0f}° of it: one look through a tube blinds. When it is "
        "down, nearness doesn't count.",
        "Weights on before the tube, tube off before the weights. Hold the tube while a lock is "
        "open.",
        "Mark the tripod's feet and keep cords off the ground where people walk in the dark.",
    ]
    if kit.habits.visitors:
        said.append(
            "Visitors: the organiser's safety rules, permits and local codes come first. Nobody "
            "leans on the tube or the tripod."
        )
    said.append("Pointing lasers: only where local law allows, and never near aircraft.")
    return tuple(said)


def _notes(p: Prepared) -> tuple[str, ...]:
    moment = Instants.from_datetime(p.around)
    clocks = clock_change(Night.of(p.day, p.kit.site.time_zone))
    notes = [note for note in (rotation_words(moment.doubts), clocks) if note]
    if p.session is None:
        notes.append("There is no darkness for stars in this session: choose another night.")
    return tuple(notes)
