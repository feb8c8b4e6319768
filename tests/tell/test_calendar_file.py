"""The evening's calendar file, held against RFC 5545 line by line and read back by a library.

The checks of this file's form read the text themselves, after RFC 5545 (B. Desruisseaux,
Internet Calendaring and Scheduling Core Object Specification, 2009); the section stands beside
each. What the events say is held against the evening that they were made from.
"""

from __future__ import annotations

import re
from datetime import UTC, date, datetime, timedelta
from zoneinfo import ZoneInfo

import icalendar
import pytest
from nights import DAY, kit_of, planned_of

from axletree.evening.sheet.plan import EveningRequest, plan_evening
from axletree.kit.errors import AxletreeError
from axletree.sky.observer import observer_of
from axletree.tell.evening.calendar_file import (
    MOMENT_BEFORE,
    ROOM_BEFORE,
    SIDE_BEFORE,
    evening_ics,
)
from axletree.tell.evening.data import evening_document
from axletree.tell.evening.document import Evening, read_evening

HOSTILE = 'X\r\nBEGIN:VALARM\r\n"; , \\ \u202eRTL\u0007 </script> ' + "ü" * 90


def evening_of(name: str) -> Evening:
    return evening_document(planned_of(name).evening)


def lines_of(content: bytes) -> list[str]:
    """RFC 5545, 3.1: content lines end with CRLF and are at most 75 octets before they fold."""
    assert content.endswith(b"\r\n")
    raw = content.split(b"\r\n")[:-1]
    assert all(len(line) <= 75 for line in raw)
    assert not any(b"\n" in line or b"\r" in line for line in raw)
    unfolded: list[bytes] = []
    for line in raw:
        if line[:1] in (b" ", b"\t"):
            unfolded[-1] += line[1:]
        else:
            unfolded.append(line)
    text = [line.decode("utf-8") for line in unfolded]
    assert not any(re.search(r"[\x00-\x08\x0a-\x1f\x7f]", line) for line in text)
    return text


def components_of(lines: list[str]) -> list[tuple[str, dict[str, list[str]]]]:
    """RFC 5545, 3.4 and 3.6: components nest and close in turn; their properties by name."""
    open_: list[tuple[str, dict[str, list[str]]]] = []
    done: list[tuple[str, dict[str, list[str]]]] = []
    for line in lines:
        match = re.fullmatch(r"([A-Z-]+)((?:;[^:]*)?):(.*)", line)
        assert match, line
        name, parameters, value = match.groups()
        if name == "BEGIN":
            inside = {"VCALENDAR": [], "VEVENT": ["VCALENDAR"], "VALARM": ["VCALENDAR", "VEVENT"]}
            assert [kind for kind, _ in open_] == inside[value]
            open_.append((value, {}))
        elif name == "END":
            assert open_[-1][0] == value
            done.append(open_.pop())
        else:
            open_[-1][1].setdefault(name, []).append(parameters + ":" + value)
    assert not open_
    return done


@pytest.mark.parametrize("name", ["courtyard", "paddock"])
def test_the_form_is_that_of_rfc_5545(name: str) -> None:
    found = components_of(lines_of(evening_ics(with_change_and_end(evening_of(name)))))
    kinds = [kind for kind, _ in found]
    assert kinds[-1] == "VCALENDAR"
    assert kinds.count("VCALENDAR") == 1
    (calendar,) = [p for kind, p in found if kind == "VCALENDAR"]
    assert calendar["VERSION"] == [":2.0"]  # 3.7.4
    assert len(calendar["PRODID"]) == 1  # 3.7.3
    events = [p for kind, p in found if kind == "VEVENT"]
    moment = re.compile(r":\d{8}T\d{6}Z")  # 3.3.5, form 2: UTC
    for event in events:
        for once in ("UID", "DTSTAMP", "DTSTART", "SUMMARY"):  # 3.6.1
            assert len(event[once]) == 1, once
        assert moment.fullmatch(event["DTSTAMP"][0])
        assert moment.fullmatch(event["DTSTART"][0])
        if "DTEND" in event:
            assert moment.fullmatch(event["DTEND"][0])
            assert event["DTEND"][0] > event["DTSTART"][0]  # 3.8.2.2
        latitude, longitude = event["GEO"][0][1:].split(";")  # 3.8.1.6
        assert -90 <= float(latitude) <= 90
        assert -180 <= float(longitude) <= 180
        assert event["TRANSP"][0] in (":OPAQUE", ":TRANSPARENT")  # 3.8.2.7
        assert all(value != ":" for values in event.values() for value in values)
    assert len({e["UID"][0] for e in events}) == len(events)  # 3.8.4.7
    alarms = [p for kind, p in found if kind == "VALARM"]
    assert alarms
    for alarm in alarms:  # 3.6.6: a display alarm needs these three
        assert alarm["ACTION"] == [":DISPLAY"]
        assert len(alarm["DESCRIPTION"]) == 1
        (trigger,) = alarm["TRIGGER"]  # 3.8.6.3: a duration, or a moment in UTC that says so
        assert re.fullmatch(r":-PT\d+M|;VALUE=DATE-TIME:\d{8}T\d{6}Z", trigger), trigger


def test_what_a_reader_finds_is_the_evening() -> None:
    evening = evening_of("courtyard")
    calendar = icalendar.Calendar.from_ical(evening_ics(evening))
    assert not calendar.errors
    events = {str(e["summary"]): e for e in calendar.walk("VEVENT")}
    assert not any(e.errors for e in events.values())
    title = f"The sky, in {len(evening.stops)} stops"
    assert set(events) == {
        f"Telescope: {evening.place.name}", "Dark", "Set up: arrive", "Set up: pole", title,
        "Take down",
    }  # fmt: skip
    show, down = events[title], events["Take down"]
    first, last = evening.stops[0], evening.stops[-1]
    for event, moment, key in (
        (show, first.begin, "dtstart"), (show, last.end, "dtend"), (down, last.end, "dtstart"),
    ):  # fmt: skip
        read = event.decoded(key)
        assert read.utcoffset() == timedelta(0)
        assert abs(read - moment) <= timedelta(seconds=0.5)
    assert "tube off before the weights" in str(down["description"])
    # On a wall clock at the site each stop begins as on the run sheet.
    zone = ZoneInfo(evening.place.time_zone)
    for stop in evening.stops:
        nearest = stop.begin.astimezone(zone) + timedelta(seconds=30)  # minute, as on paper
        begins = f"{nearest:%H:%M} {stop.number}. {stop.name}\nTube "
        assert begins + stop.chosen.side in str(show["description"])
    for stage in evening.stages:
        assert f" {stage.name}" in str(events["Set up: arrive"]["description"])


def _alarms(event: icalendar.cal.Component) -> list[tuple[str, datetime]]:
    start = event.decoded("dtstart")
    found = []
    for alarm in event.walk("VALARM"):
        trigger = alarm.decoded("trigger")
        at = start + trigger if isinstance(trigger, timedelta) else trigger
        found.append((str(alarm["description"]), at))
    return found


@pytest.mark.parametrize("name", ["courtyard", "paddock"])
def test_alarms_for_dark_for_each_side_change_and_for_each_room_that_ends(name: str) -> None:
    evening = with_change_and_end(evening_of(name))
    calendar = icalendar.Calendar.from_ical(evening_ics(evening))
    events = {str(e["summary"]): e for e in calendar.walk("VEVENT")}
    dusk = evening.darkness.astronomical_dusk
    assert dusk is not None
    ((_, at),) = _alarms(events["Dark"])
    assert abs(at - (dusk - timedelta(minutes=10))) <= timedelta(seconds=0.5)
    ((_, shows),) = _alarms(events["Set up: pole"])
    assert evening.darkness.pole_star_visible is not None
    assert shows >= evening.darkness.pole_star_visible - timedelta(seconds=1)
    everything = _alarms(events[f"The sky, in {len(evening.stops)} stops"])
    sides, rooms = 0, 0
    before = None
    for stop in evening.stops:
        alarms = [one for one in everything if stop.name in one[0]]
        changes = before is not None and before.chosen.side != stop.chosen.side
        goes_over = [at for words, at in alarms if "goes over" in words]
        assert len(goes_over) == changes
        if changes:
            assert abs(goes_over[0] - (stop.begin - SIDE_BEFORE)) < timedelta(seconds=1)
        ends = stop.chosen.room_ends
        soon = ends is not None and ends <= stop.end + timedelta(minutes=30)
        room = [at for words, at in alarms if words.startswith("Room")]
        assert len(room) == soon
        if ends is not None and soon:
            assert abs(room[0] - (ends - ROOM_BEFORE)) < timedelta(seconds=1)
        sides, rooms, before = sides + changes, rooms + soon, stop
    assert sides >= 2
    assert rooms >= 1


def with_change_and_end(evening: Evening) -> Evening:
    """The evening with a change of side at its third stop and a room that ends soon at its fourth.

    Whatever the plan gave, so that the test always has something to test.
    """
    first, second, third, fourth, *rest = evening.stops
    over = {"east": "west", "west": "east"}[second.chosen.side]
    third = third.model_copy(update={"chosen": third.chosen.model_copy(update={"side": over})})
    ends = {"room_ends": fourth.end + timedelta(minutes=7), "side": second.chosen.side}
    fourth = fourth.model_copy(update={"chosen": fourth.chosen.model_copy(update=ends)})
    return evening.model_copy(update={"stops": (first, second, third, fourth, *rest)})


def test_a_file_made_again_replaces_the_same_events() -> None:
    evening = evening_of("courtyard")
    later = evening.model_copy(update={"made_at": evening.made_at + timedelta(hours=1)})
    first, second = (
        icalendar.Calendar.from_ical(evening_ics(e)).walk("VEVENT") for e in (evening, later)
    )
    assert [e["uid"] for e in first] == [e["uid"] for e in second]
    assert all(
        b.decoded("dtstamp") - a.decoded("dtstamp") == timedelta(hours=1)
        for a, b in zip(first, second, strict=True)
    )
    elsewhere = evening.model_copy(
        update={"place": evening.place.model_copy(update={"latitude_deg": -10.0})}
    )
    other = icalendar.Calendar.from_ical(evening_ics(elsewhere)).walk("VEVENT")
    assert not {e["uid"] for e in first} & {e["uid"] for e in other}


def test_names_are_text_and_nothing_else() -> None:
    evening = evening_of("courtyard")
    place = evening.place.model_copy(update={"name": HOSTILE})
    stop = evening.stops[0].model_copy(update={"name": HOSTILE, "turn_warnings": (HOSTILE,)})
    hostile = evening.model_copy(update={"place": place, "stops": (stop, *evening.stops[1:])})
    content = evening_ics(hostile)
    found = components_of(lines_of(content))
    plain = components_of(lines_of(evening_ics(evening)))
    assert [kind for kind, _ in found] == [kind for kind, _ in plain]
    calendar = icalendar.Calendar.from_ical(content)
    events = {str(e["summary"]): str(e.get("description", "")) for e in calendar.walk("VEVENT")}
    said = HOSTILE.replace("\r", " ").replace("\n", " ").replace("\u0007", " ")
    assert f" 1. {said}" in events[f"The sky, in {len(evening.stops)} stops"]


def test_a_night_without_darkness_is_refused_in_one_line() -> None:
    kit = kit_of("courtyard")
    north = kit.model_copy(
        update={"site": kit.site.model_copy(update={"latitude_deg": 69.0, "longitude_deg": 18.0,
                                                    "time_zone": "Europe/Oslo"})}
    )  # fmt: skip
    evening = evening_document(
        plan_evening(
            north,
            observer_of(north.site),
            EveningRequest(date(2026, 6, 21), made_at=datetime(2026, 6, 1, tzinfo=UTC)),
        )
    )
    with pytest.raises(AxletreeError, match="no darkness"):
        evening_ics(evening)


def test_the_document_alone_is_enough() -> None:
    evening = evening_of("courtyard")
    assert evening_ics(read_evening(evening.model_dump_json())) == evening_ics(evening)
    assert evening.date == DAY


def test_an_eclipse_stands_in_the_calendar_with_an_alarm_before_each_contact() -> None:
    """27 August 2026 in Ontario: umbral from 02:34 to 05:52 UT on the 28th, greatest 04:13 (NASA's
    table, from memory, to the minute); the penumbra alone is no alarm."""
    kit = kit_of("courtyard")
    place = {"latitude_deg": 44.3, "longitude_deg": -78.3, "time_zone": "America/Toronto"}
    kit = kit.model_copy(update={"site": kit.site.model_copy(update=place)})
    asked = EveningRequest(date(2026, 8, 27), made_at=datetime(2026, 8, 1, tzinfo=UTC))
    evening = evening_document(plan_evening(kit, observer_of(kit.site), asked))
    calendar = icalendar.Calendar.from_ical(evening_ics(evening))
    [event] = [e for e in calendar.walk("VEVENT") if "eclipse" in e["summary"]]
    assert event["summary"] == "Partial eclipse of the Moon, greatest 00:13"
    assert "Magnitude 0.93" in event["description"]
    assert event["dtstart"].dt < datetime(2026, 8, 28, 2, 34, tzinfo=UTC) < event["dtend"].dt
    alarms = event.walk("VALARM")
    almanac = [datetime(2026, 8, 28, *at, tzinfo=UTC) for at in ((2, 34), (4, 13), (5, 52))]
    assert len(alarms) == len(almanac)
    for alarm, moment in zip(alarms, almanac, strict=True):
        assert abs(alarm["trigger"].dt + MOMENT_BEFORE - moment) < timedelta(minutes=1.5)
    assert alarms[0]["description"] == "Partial eclipse of the Moon: partial from 22:34"


def test_an_ordinary_evening_has_no_entry_for_anything_special() -> None:
    evening = evening_of("courtyard")
    assert not [night for night in evening.special if night["great"]]
    titles = [str(e["summary"]) for e in
              icalendar.Calendar.from_ical(evening_ics(evening)).walk("VEVENT")]  # fmt: skip
    # One page of entries, not one a stop.
    assert len(titles) == 6
