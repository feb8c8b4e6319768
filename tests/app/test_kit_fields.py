"""The kit's fields by their page's route: each kind of value read, or refused with its key."""

from __future__ import annotations

import tomllib
from datetime import time
from typing import Any

import pytest
from desks import ORIGIN, client_of, make_desk
from fastapi.testclient import TestClient

from axletree.app.state import Desk


@pytest.fixture(scope="module")
def desk() -> Desk:
    return make_desk()


@pytest.fixture(scope="module")
def client(desk: Desk) -> TestClient:
    return client_of(desk)


def checked(client: TestClient, text: str, *edits: tuple[Any, ...]) -> dict[str, Any]:
    body = {
        "text": text, "units": "metric",
        "edits": [
            {"path": path, "value": more[0] if more else "", "what": more[1] if more[1:] else "set"}
            for path, *more in edits
        ],
    }  # fmt: skip
    reply = client.post("/answer/kit/check", json=body, headers=ORIGIN)
    assert reply.status_code == 200, reply.text
    found: dict[str, Any] = reply.json()
    return found


def held(found: dict[str, Any], path: list[str | int]) -> Any:
    at: Any = tomllib.loads(found["text"])
    for part in path:
        at = at[part]
    return at


LEGS = ["mount", "tripod", "leg_directions_deg"]
POINTS = ["site", "skyline", "points"]


@pytest.mark.parametrize(
    ("path", "typed", "value"),
    [
        (["tube", "ring_turn_fixed"], "yes", True),
        (["tube", "ring_turn_fixed"], " no ", False),
        (["habits", "start"], "21:15", time(21, 15)),
        (["habits", "visitors"], "30", 30),
        (["habits", "observer"], "expert", "expert"),
        (["habits", "must_see"], "M31, Albireo,", ["M31", "Albireo"]),
        (["habits", "themes"], "clusters, colours", ["clusters", "colours"]),
        (LEGS, "10, 130.5, 250", [10, 130.5, 250]),
        (LEGS, "10; 130,5; 250", [10, 130.5, 250]),
        (POINTS, "0 5; 180 7.5\n270,12", [[0, 5], [180, 7.5], [270, 12]]),
        (POINTS, "0, 5; 90,5 12,25;", [[0, 5], [90.5, 12.25]]),
        (["barlow", 0, "factor"], "2,5", 2.5),  # neither table nor entry was there
    ],
)
def test_each_kind_of_value_is_read(
    client: TestClient, desk: Desk, path: list[str | int], typed: str, value: Any
) -> None:
    found = checked(client, desk.text, (path, typed))
    assert found["right"], found["problems"]
    assert held(found, path) == value


@pytest.mark.parametrize(
    ("path", "typed", "said"),
    [
        (["tube", "ring_turn_fixed"], "maybe", "neither yes nor no"),
        (["habits", "start"], "10 pm", "write 22:30"),
        (["habits", "start"], "22:30+02:00", "not a time of day here"),
        (["habits", "visitors"], "2.5", "not a whole number"),
        (LEGS, "0, 120, left", "'left' is not a number"),
        (POINTS, "90 15; 180", "write pairs"),
        (POINTS, "90 15 3", "write pairs"),
        (POINTS, "90 high", "'high' is not a number"),
        (["name", "first"], "x", "no such key"),
        ([0], "x", "no such key"),
    ],
)
def test_what_cannot_be_read_is_told_at_its_key_and_changes_nothing(
    client: TestClient, desk: Desk, path: list[str | int], typed: str, said: str
) -> None:
    found = checked(client, desk.text, (path, typed))
    assert not found["right"]
    assert found["text"] == desk.text
    (problem,) = found["problems"]
    assert said in problem["message"]
    dotted = "".join(f"[{p + 1}]" if isinstance(p, int) else f".{p}" for p in path).lstrip(".")
    assert problem["key"] == dotted


def test_a_choice_of_several_may_be_emptied_and_any_other_field_cleared(
    client: TestClient, desk: Desk
) -> None:
    found = checked(client, desk.text, (["habits", "themes"], ""), (["habits", "bedtime"], " "),
                    (["tube", "mass_kg"], ""))  # fmt: skip
    assert held(found, ["habits", "themes"]) == []
    assert "bedtime" not in tomllib.loads(found["text"])["habits"]
    assert "mass_kg" not in tomllib.loads(found["text"])["tube"]


def test_entries_begin_a_list_and_end_at_sixty(client: TestClient, desk: Desk) -> None:
    add = (["barlow"], "", "add")
    found = checked(client, desk.text, add, (["barlow", 0, "factor"], "2"))
    assert held(found, ["barlow"]) == [{"factor": 2}]
    # A table that is there already is not begun again.
    again = checked(client, desk.text, (["tube", "finder"], "", "add"))
    assert held(again, ["tube"]) == tomllib.loads(desk.text)["tube"] | {
        "finder": held(again, ["tube", "finder"])
    }
    full = found["text"] + "".join("\n[[barlow]]\nfactor = 2\n" for _ in range(59))
    more = checked(client, full, add)
    assert not more["right"]
    assert [(p["key"], p["message"]) for p in more["problems"]] == [("barlow", "60 are enough")]
    assert len(held(more, ["barlow"])) == 60


LENGTH = ["tube", "length_mm"]


def test_a_length_shows_and_takes_its_error(client: TestClient, desk: Desk) -> None:
    found = checked(client, desk.text, (LENGTH, "701,5 ± 3"))
    assert found["right"], found["problems"]
    assert held(found, LENGTH) == {"value": 701.5, "error": 3}
    assert field_of(found, "tube.length_mm")["value"] == "701.5 ± 3"
    # A plain number again takes the error away; the remark behind the value stays.
    remarked = found["text"].replace("error = 3}", "error = 3}  # by tape")
    assert remarked != found["text"]
    again = checked(client, remarked, (["tube", "mass_kg"], "5"))
    assert "{value = 701.5, error = 3}  # by tape" in again["text"]
    plain = checked(client, remarked, (LENGTH, "700"))
    assert "length_mm = 700  # by tape" in plain["text"]


def test_an_error_is_typed_in_the_units_of_the_page(client: TestClient, desk: Desk) -> None:
    text = desk.text.replace("[habits]", '[habits]\nunits = "us"')
    body = {"text": text, "units": "us", "edits": [{"path": LENGTH, "value": "27.5 ± 0.1"}]}
    found = client.post("/answer/kit/check", json=body, headers=ORIGIN).json()
    assert held(found, LENGTH) == {"value": 698.5, "error": 2.54}  # 1 in = 25.4 mm (1959)
    assert field_of(found, "tube.length_mm")["value"] == "27.5 ± 0.1"


def test_legs_take_one_error_for_all(client: TestClient, desk: Desk) -> None:
    found = checked(client, desk.text, (LEGS, "0, 120, 240 ± 2"))
    assert found["right"], found["problems"]
    assert held(found, LEGS) == {"value": [0, 120, 240], "error": 2}
    assert field_of(found, "mount.tripod.leg_directions_deg")["value"] == "0, 120, 240 ± 2"


@pytest.mark.parametrize("typed", ["700 ± 0", "700 ± x", "± 3"])
def test_an_error_that_is_none_is_told(client: TestClient, desk: Desk, typed: str) -> None:
    found = checked(client, desk.text, (LENGTH, typed))
    assert not found["right"]
    assert [p["key"] for p in found["problems"]] == ["tube.length_mm"]
    assert found["text"] == desk.text


def field_of(found: dict[str, Any], key: str) -> dict[str, Any]:
    fields = [f for g in found["groups"] for e in g["entries"] for f in e["fields"]]
    return next(f for f in fields if f["key"] == key)


def test_the_page_is_told_what_was_hardly_meant(client: TestClient, desk: Desk) -> None:
    assert checked(client, desk.text)["slips"] == []
    found = checked(client, desk.text, (LENGTH, "70"))
    assert found["right"], "it refuses nothing"
    (words,) = found["slips"]
    assert words.startswith("tube.length_mm: 70 mm looks like centimetres")


def test_an_empty_field_shows_its_guess_with_the_spread(client: TestClient, desk: Desk) -> None:
    """By hand: 0.6 of 700 mm; 8 % of it, and 0.6 times 2 % of 700 mm."""
    field = field_of(checked(client, desk.text), "tube.balance_from_front_mm")
    assert (field["source"], field["value"]) == ("guessed", "420 ± 35")
