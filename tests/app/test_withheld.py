"""Who only looks learns neither the exact place nor the kit's text: every route is asked.

The searches look for the coordinates as they are written (decimal, in degrees and minutes, in
radians, as hours, the distance from the pole) and as they could be worked out; what a sidereal
time says of a longitude is worked out with ERFA, not with the product.
"""

from __future__ import annotations

import json
import math
import re
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import Any

import erfa
import httpx
import pytest
from desks import MARKED_PICTURES, Live, make_desk

from axletree.app.people.sharing import Sharing
from axletree.app.people.withheld import UNNAMED, coarse_deg, coarse_figures, coarse_kit
from axletree.app.state import Desk
from axletree.app.web.guard import COOKIE
from axletree.kit.kit import DEMO_KITS, check_text, demo_text
from axletree.tell.handbook.pages import handbook_pages

LATITUDE, LONGITUDE, ELEVATION = 47.31862, 11.07943, 913.7
LANDMARK = "47.32274, 11.08866"
REMARK = "the key of the shed hangs behind the oak"
DAY, AT, BEGUN = "2026-12-05", "2026-12-05T20:30:00Z", "2026-12-05T16:30:00Z"
STAR_RA_H = 18 + 36 / 60 + 56.33635 / 3600  # Vega, J2000.0: The Hipparcos Catalogue, ESA 1997
# What stands in a path or must stand in a query, for every route that has some.
PATHS: dict[str, list[str]] = {
    "/handbook/{name}": sorted(handbook_pages(lambda name: name)),
    "/handbook/pictures/{file}": ["pole.svg", "nosuch.svg"],
    "/answer/kit/demo/{name}": list(DEMO_KITS),
    "/answer/logbook/evening/{number}": ["1", "2"],
    "/answer/logbook/{table}.csv": ["evening", "stop", "note"],
}
QUERIES: dict[str, list[dict[str, str]]] = {
    "/answer/point": [{"object": "Vega", "at": AT}, {"object": "Moon", "at": AT}],
    "/answer/follow": [{"object": "Aldebaran", "at": AT}],
    "/answer/pole": [{"at": AT}, {"at": AT, "scale": "47.0", "azimuth": "20"}],
    "/answer/evening": [{"day": DAY, "at": AT}, {"day": "2026-12-08", "at": AT}],
    "/answer/rehearse": [{"day": DAY, "at": AT}],
    "/answer/shown": [{"at": AT, "before": "7"}, {"at": BEGUN}],
    "/answer/kit/places": [{"q": "Vienna"}],
    "/answer/calendar": [{"first": DAY, "at": AT}],
    "/answer/calendar/night": [{"first": DAY, "day": DAY}],
    "/answer/names": [{"q": "veg"}],
    "/answer/logbook/search": [{"q": "shown"}, {"q": ""}],
    "/answer/north": [{"at": AT}],
    "/answer/check": [{"at": AT}],
    "/answer/point/up": [{"at": AT}],
}
# What those who look may send.
BODIES: dict[str, Any] = {
    "/answer/spot": {"spacing_m": 1.0, "date": DAY},
    "/answer/kit/check": {"text": demo_text("paddock")},
    "/answer/kit/new": {"place": "Évora"},
    "/answer/kit/measure": {"text": demo_text("courtyard")},
    "/answer/kit/photographs": {"text": demo_text("courtyard"), "pictures": MARKED_PICTURES},
}  # fmt: skip


def dms(value: float) -> tuple[int, int, int]:
    whole = round(abs(value) * 3600)
    return whole // 3600, whole // 60 % 60, whole % 60


def spellings() -> list[str]:
    """Patterns of everything that would tell the place to better than 100 m or so."""
    found = [r"913\.7", r"2997\.\d", re.escape(REMARK), r"47\.3227", r"11\.0886"]
    found.append("latitude_deg = 47")
    for value in (LATITUDE, LONGITUDE):
        degrees, minutes, seconds = dms(value)
        found += [
            rf"{degrees}\s*[°d ]\s*{minutes:02d}\s*[′'m ]\s*0?{seconds}(?!\d)",
            rf"{degrees}°\s*0?{minutes}\.\d",
        ]
        figures = (value, 90.0 - value, value / 15.0, math.radians(value))
        for figure, digits in zip(figures, (3, 3, 4, 5), strict=True):
            for last in {math.floor(figure * 10**digits), round(figure * 10**digits)}:
                text = f"{last / 10**digits:.{digits}f}"
                found.append(rf"(?<![\d.]){re.escape(text)}")
    return found


@dataclass
class House:
    live: Live
    leader: httpx.Client
    looker: httpx.Client


def private_text() -> str:
    text = demo_text().replace("38.5712", str(LATITUDE)).replace("-7.9093", str(LONGITUDE))
    text = re.sub(r"elevation_m = .*", f"elevation_m = {ELEVATION}", text)
    text = re.sub(r"time_zone = .*", 'time_zone = "Europe/Vienna"', text)
    text = text.replace("School courtyard near Évora", "The school's meadow")
    return f"# {REMARK}\n" + text


@pytest.fixture(scope="module")
def house(tmp_path_factory: pytest.TempPathFactory) -> Iterator[House]:
    folder = tmp_path_factory.mktemp("house")
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("XDG_DATA_HOME", str(folder))
        kit, problems = check_text(private_text())
        assert kit is not None, problems
        assert (kit.site.latitude_deg, kit.site.longitude_deg) == (LATITUDE, LONGITUDE)
        file = folder / "axletree.toml"
        file.write_text(private_text(), encoding="utf-8")
        sharing = Sharing("http://192.168.7.1:8765/")
        live = Live(Desk(kit, private_text(), kit_file=file, folder=folder, sharing=sharing))
        live.start()
        leader, looker = (
            httpx.Client(base_url=live.url, headers={"origin": live.url}, timeout=120)
            for _ in range(2)
        )
        leader.get("/")
        looker.cookies.set(COOKIE, live.desk.seats.take("Ana", here=False).token)
        busy(leader)
        yield House(live, leader, looker)
        live.stop()


def busy(leader: httpx.Client) -> None:
    """An evening with something in every book."""
    given = {
        "/settings/north": {"landmark": LANDMARK, "landmark_name": "the mast"},
        "/settings/teach": {"latitude": LATITUDE, "hours": 1},
    }
    for path, body in given.items():
        assert leader.put(path, json=body).status_code == 200
    stop = leader.get("/answer/evening", params={"day": DAY, "at": AT}).json()["stops"][0]
    tick = {"day": DAY, "at": BEGUN, "key": stop["catalogue_id"], "uid": "0" * 16, "state": "done"}
    assert leader.post("/evening/tick", json=tick).status_code == 200
    note = {"at": AT, "uid": "1" * 16, "text": "shown to nine"}
    assert leader.post("/logbook/note", json=note).status_code == 200
    turned = {"at": AT, "altitude_turns": 0.25}
    assert leader.post("/check/turned", json=turned).status_code == 200


def routes(house: House) -> list[tuple[str, str]]:
    """(method, path) of everything that the app answers to, as its schema lists it."""
    listed = house.live.app.openapi()["paths"]
    found = [(method.upper(), path) for path, methods in listed.items() for method in methods]
    assert len(found) > 60
    return found


def asked(house: House, client: httpx.Client) -> dict[str, str]:
    """The bodies of every route that can be read, and of those that take a question."""
    found: dict[str, str] = {}
    for method, route in routes(house):
        if method == "POST" and route in BODIES:
            reply = client.post(route, json=BODIES[route])
            assert reply.status_code == 200, (route, reply.text)
            found[f"POST {route}"] = reply.text
        if method != "GET" or route == "/events":
            continue
        assert "{" not in route or route in PATHS, f"say in this test what stands in {route}"
        for path in (re.sub(r"\{\w+\}", value, route) for value in PATHS.get(route, [""])):
            for query in QUERIES.get(route, [{}]):
                reply = client.get(path, params=query)
                assert reply.status_code in (200, 303, 403, 404, 422), (path, reply.text)
                found[f"GET {path} {query}"] = reply.text + str(reply.headers)
    return found


def test_no_route_tells_a_looker_the_place_or_the_text(house: House) -> None:
    patterns = [re.compile(p) for p in spellings()]
    seen = asked(house, house.looker)
    assert len(seen) > 60
    told = {
        f"{where}: …{body[max(0, m.start() - 60):m.end() + 20]}…"
        for where, body in seen.items() for p in patterns for m in [p.search(body)] if m
    }  # fmt: skip
    assert told == set()
    good = [w for w in seen if w.startswith("GET /answer/p") and '"problem"' not in seen[w][:12]]
    assert len(good) >= 5
    assert "The school's meadow" in seen[f"GET /answer/evening {QUERIES['/answer/evening'][0]}"]


def test_the_search_finds_what_the_leader_is_told(house: House) -> None:
    """The same search where nothing is withheld: it must not be blind."""
    patterns = [re.compile(p) for p in spellings()]
    seen = asked(house, house.leader)
    where = {w.split()[1] for w, body in seen.items() if any(p.search(body) for p in patterns)}
    assert where >= {
        "/answer/kit", "/answer/evening", "/answer/pole", "/answer/teach", "/answer/calendar",
        "/answer/logbook/export.json", "/answer/logbook/evening.csv",
    }  # fmt: skip


def test_changes_are_the_leaders(house: House) -> None:
    open_to_all = {"/enter", "/lead/ask", "/lead/take", *BODIES}
    refused = 0
    for method, route in routes(house):
        if method != "GET" and route not in open_to_all:
            reply = house.looker.request(method, re.sub(r"\{\w+\}", "1", route), json={})
            assert reply.status_code == 403, (method, route)
            refused += 1
    assert refused >= 15


def test_the_stream_tells_no_place(house: House) -> None:
    """The first event tells all settings; later ones tell each change."""
    for client, whole in ((house.looker, False), (house.leader, True)):
        told: list[str] = []
        with client.stream("GET", "/events") as stream:
            for line in stream.iter_lines():
                told.append(line)
                if line == "" and len(told) == 4:
                    house.leader.put("/settings/north", json={"landmark": LANDMARK, "up": "line"})
                    house.leader.put("/settings/teach", json={"latitude": LATITUDE})
                if line.startswith("data:") and '"page": "teach"' in line:
                    break
        text = "\n".join(told)
        assert "the mast" in text
        assert ("47.32274" in text) is whole
        assert ("47.31862" in text) is whole


def test_what_can_be_worked_out_leads_to_the_coarse_place(house: House) -> None:
    """A star's hour angle tells the sidereal time, and that the longitude; the pole's true height
    is the latitude."""
    moment = datetime.fromisoformat(AT)
    jd = 2440587.5 + moment.timestamp() / 86400.0
    reply = house.looker.get("/answer/point", params={"object": "Vega", "at": AT}).json()
    # Vega's place of date, by ERFA from its catalogue place and motions.
    ri, _, eo = erfa.atci13(
        math.radians(STAR_RA_H * 15), math.radians(38.78369),
        math.radians(0.20094 / 3600) / math.cos(math.radians(38.78369)),
        math.radians(0.28623 / 3600), 0.13023, -13.9, jd, 69.2 / 86400,
    )  # fmt: skip
    hour_angle_deg = 15.0 * float(reply["hour_angle_h"])
    era = math.degrees(erfa.era00(jd, 0.0))
    longitude = (hour_angle_deg + math.degrees(float(ri)) - era + 180.0) % 360.0 - 180.0
    del eo  # the right ascension above is from the celestial intermediate origin, like era00
    assert longitude == pytest.approx(coarse_deg(LONGITUDE), abs=0.005)
    assert abs(longitude - LONGITUDE) > 0.015
    pole = house.looker.get("/answer/pole", params={"at": AT}).json()
    assert pole["pole_altitude_true_deg"] == pytest.approx(47.3, abs=1e-9)


def test_leader_and_looker_see_the_same_evening(house: House) -> None:
    """The same stops; moments to the minute, directions to a tenth of a degree."""
    query = {"day": DAY, "at": AT}
    whole, coarse = (
        c.get("/answer/evening", params=query).json() for c in (house.leader, house.looker)
    )
    assert [s["name"] for s in coarse["stops"]] == [s["name"] for s in whole["stops"]]
    assert len(coarse["stops"]) > 3
    for mine, yours in zip(whole["stops"], coarse["stops"], strict=True):
        begin, told = (datetime.fromisoformat(s["begin"]) for s in (mine, yours))
        assert abs((begin - told).total_seconds()) <= 30
        assert told.second == 0
        assert yours["start"]["azimuth_deg"] == round(mine["start"]["azimuth_deg"], 1)
    assert coarse["place"]["name"] == whole["place"]["name"] == "The school's meadow"
    assert (coarse["place"]["latitude_deg"], coarse["place"]["longitude_deg"]) == (47.3, 11.1)
    assert coarse["place"]["elevation_m"] == 900.0
    assert whole["place"]["latitude_deg"] == LATITUDE


def test_the_lead_brings_the_kit_with_it(tmp_path: Path) -> None:
    desk = make_desk(folder=tmp_path)
    live = Live(desk).start()
    try:
        first, second = (
            httpx.Client(base_url=live.url, headers={"origin": live.url}) for _ in range(2)
        )
        first.get("/")
        second.get("/answer/here")
        assert second.get("/answer/kit").json()["text"] == ""
        number = desk.seats.of(second.cookies["axletree_seat"]).number  # type: ignore[union-attr]
        assert first.post(f"/lead/give/{number}").status_code == 200
        assert second.get("/answer/kit").json()["text"] == desk.text
        assert first.get("/answer/kit").json()["withheld"] is True
    finally:
        live.stop()


def test_the_coarse_place() -> None:
    assert [coarse_deg(v) for v in (38.5712, -41.2889, -0.03, 0.03, 89.99, -180.0)] == [
        38.6, -41.3, -0.05, 0.0, 90.0, -180.0,
    ]  # fmt: skip
    kit, _ = check_text(demo_text("paddock"))
    assert kit is not None
    named = kit.model_copy(
        update={
            "name": "geo:-41.2,175.4",
            "site": kit.site.model_copy(
                update={"name": "41°12′S 175°24′E", "place": "-41.2, 175.4", "elevation_m": 149.0}
            ),
        }
    )
    coarse = coarse_kit(named)
    assert (coarse.name, coarse.site.name, coarse.site.place) == (UNNAMED, UNNAMED, None)
    assert coarse.site.elevation_m == 100.0
    assert coarse.site.north is kit.site.north
    told = coarse_figures(
        {"azimuth_deg": 12.3456, "hour_angle_h": -1.2345, "sigma_arcmin": 0.123,
         "at": "2026-12-05T20:30:31.5+01:00", "words": "2026-12-05T is no moment, nor this"}
    )  # fmt: skip
    assert json.loads(json.dumps(told)) == {
        "azimuth_deg": 12.3, "hour_angle_h": -1.23, "sigma_arcmin": 0.123,
        "at": "2026-12-05T20:31:00+01:00", "words": "2026-12-05T is no moment, nor this",
    }  # fmt: skip
