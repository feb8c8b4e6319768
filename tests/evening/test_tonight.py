"""What happens in a session is told, and a stop is placed where something happens."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta

import pytest

from axletree.evening.night.set_up_times import Session
from axletree.evening.objects.tonight import OnObject
from axletree.evening.order.candidates import Opening
from axletree.evening.sheet.answer import EveningAnswer
from axletree.evening.sheet.plan import EveningRequest
from axletree.evening.stops.tonight import (
    CONTACT_POINTS,
    CROSSING_POINTS,
    ONCE_POINTS,
    worth_more,
)
from axletree.kit.kit import demo_kit
from axletree.sky.happenings.kinds import Happening, HappeningKind, Turn, TurnKind
from axletree.sky.special.kinds import MomentKind, NamedMoment, SpecialKind, SpecialNight
from axletree.stages.night.evening import evening
from axletree.tell.evening.data import evening_document
from axletree.tell.evening.document import evening_json, read_evening
from axletree.tell.evening.text import evening_text

FIRST = datetime(2027, 2, 13, 20, 0, tzinfo=UTC)
SHOW_S = 600.0


def session() -> Session:
    made = object.__new__(Session)
    object.__setattr__(made, "first_stop", FIRST)
    object.__setattr__(made, "end", FIRST + timedelta(hours=3))
    return made


def crossing(begin_min: float, end_min: float, *, seen: bool = True) -> Happening:
    turns = (
        Turn(TurnKind.MIDDLE_IN, FIRST + timedelta(minutes=begin_min), 10.0),
        Turn(TurnKind.MIDDLE_OUT, FIRST + timedelta(minutes=end_min), 10.0, seen),
    )
    return Happening("jupiter", HappeningKind.SHADOW_ON_DISC, "io", turns)


def on_it(*told: Happening, special: tuple[SpecialNight, ...] = ()) -> OnObject:
    return OnObject(told, special, 50.0)


def test_every_stop_in_a_better_opening_has_the_contact_in_it() -> None:
    whole = [Opening("east", 0.0, 10800.0, -2.0)]
    more = worth_more(whole, on_it(crossing(30.0, 150.0)), session(), SHOW_S)
    assert more[0] == whole[0]
    at = [o for o in more if o.value_change == -2.0 + CONTACT_POINTS]
    assert len(at) == 2
    for opening, moment in zip(at, (1800.0, 9000.0), strict=True):
        # The earliest and the latest stop of ten minutes that fit within it.
        assert opening.start_s <= moment <= opening.start_s + SHOW_S
        assert opening.end_s - SHOW_S <= moment <= opening.end_s
    [meanwhile] = [o for o in more if o.value_change == -2.0 + CROSSING_POINTS]
    assert (meanwhile.start_s, meanwhile.end_s) == (1800.0, 9000.0)


def test_what_nobody_sees_and_where_no_stop_fits_is_worth_nothing_more() -> None:
    whole = [Opening("east", 0.0, 10800.0)]
    unseen = crossing(30.0, 150.0, seen=False)
    at = [o for o in worth_more(whole, on_it(unseen), session(), SHOW_S) if o.value_change > 5.0]
    assert len(at) == 1
    short = [Opening("west", 1700.0, 2000.0)]
    assert worth_more(short, on_it(crossing(30.0, 150.0)), session(), SHOW_S) == short


def moment(kind: MomentKind, minutes: float, *, seen: bool = True) -> NamedMoment:
    return NamedMoment(kind, FIRST + timedelta(minutes=minutes), 2.0, 40.0, 180.0, seen)


def test_a_star_that_the_moon_hides_sets_the_order_around_it() -> None:
    """Each contact that is seen has an opening of its own, worth more than any eclipse of Io."""
    goes = moment(MomentKind.DISAPPEARS, 40.0)
    comes = moment(MomentKind.REAPPEARS, 100.0, seen=False)
    hidden = SpecialNight(
        SpecialKind.OCCULTATION, FIRST.date(), ("moon", "Regulus"), goes, (goes, comes), ()
    )
    more = worth_more([Opening("east", 0.0, 10800.0)], on_it(special=(hidden,)), session(), SHOW_S)[
        1:
    ]
    assert [(o.start_s, o.end_s) for o in more] == [(2400.0 - SHOW_S, 2400.0 + SHOW_S)]
    assert more[0].value_change == ONCE_POINTS > CONTACT_POINTS


def test_a_stop_at_an_eclipsed_moon_prefers_the_umbra_and_its_deepest() -> None:
    begins, deepest, ends = (
        moment(kind, minutes)
        for kind, minutes in (
            (MomentKind.PARTIAL_BEGINS, 20.0),
            (MomentKind.GREATEST, 90.0),
            (MomentKind.PARTIAL_ENDS, 160.0),
        )
    )
    eclipse = SpecialNight(
        SpecialKind.MOON_ECLIPSE_PARTIAL, FIRST.date(), ("moon",), deepest,
        (begins, deepest, ends), (),
    )  # fmt: skip
    more = worth_more(
        [Opening("west", 0.0, 10800.0)], on_it(special=(eclipse,)), session(), SHOW_S
    )[1:]
    assert sorted((o.start_s, o.end_s, o.value_change) for o in more) == [
        (1200.0, 9600.0, CROSSING_POINTS),
        (5400.0 - SHOW_S, 5400.0 + SHOW_S, ONCE_POINTS),
    ]


@pytest.fixture(scope="module")
def planned() -> EveningAnswer:
    asked = EveningRequest(
        date(2027, 2, 13), made_at=datetime(2026, 11, 25, tzinfo=UTC), effort="quick"
    )
    return evening(demo_kit("courtyard"), asked)


def test_the_document_tells_what_happens_at_its_stops(planned: EveningAnswer) -> None:
    """Europa and its shadow cross Jupiter on 13 February 2027, three days after opposition."""
    jupiter = next(stop for stop in planned.stops if stop.catalogue_id == "jupiter")
    told = {(h.actor, h.kind) for h in planned.happenings if h.body == "jupiter"}
    assert ("europa", HappeningKind.MOON_BEFORE_DISC) in told
    assert ("europa", HappeningKind.SHADOW_ON_DISC) in told
    document = evening_document(planned)
    assert document.happenings is not None
    assert len(document.happenings) == len(planned.happenings)
    text = evening_text(document)
    assert "Europa's shadow on the disc" in text
    assert read_evening(evening_json(document)) == document
    if jupiter.begin.hour < 22:
        [stop] = [stop for stop in document.stops if stop.catalogue_id == "jupiter"]
        assert stop.eyepiece is not None
        assert "Europa" in stop.eyepiece["short"]
