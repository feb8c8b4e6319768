"""What is measured first on the kit's page, and gaps on the logbook's."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import numpy as np
import pytest
from desks import ORIGIN, client_of, make_desk
from fastapi.testclient import TestClient

from axletree.kit.kit import check_text, demo_kit, demo_text
from axletree.mount.dimensions.of_kit import dimensions_of
from axletree.mount.photographed.picture import RigPlace
from axletree.mount.rig.build import build_rig
from mount.photographs import taken, true_places

SAME = {**ORIGIN, "sec-fetch-site": "same-origin"}
AT = "2025-12-05T21:00:00+00:00"
UID = "0123456789abcdef"


@pytest.fixture
def client(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> TestClient:
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path / "home"))
    opened = client_of(make_desk(folder=tmp_path))
    opened.get("/")
    return opened


def post(client: TestClient, where: str, **given: Any) -> Any:
    return client.post(where, json=given, headers=SAME)


def test_what_is_written_in_is_in_the_text_and_no_longer_asked_for(client: TestClient) -> None:
    text = demo_text("courtyard")
    first = post(client, "/answer/kit/measure", text=text).json()["first"]
    key = first[0]["key"]
    assert "<svg" in first[0]["drawing"]
    assert first[0]["tape"]
    found = post(
        client, "/answer/kit/measure", text=text, key=key, typed="6 ± 0.1", units="us"
    ).json()
    kit, problems = check_text(found["text"])
    assert kit is not None, problems
    known = dimensions_of(kit)
    assert known.values[known.index(key)] == pytest.approx(152.4)
    assert known.sigmas[known.index(key)] == pytest.approx(2.54)
    assert key not in [one["key"] for one in found["first"]]
    for typed in ("x", "3 kg", "-5", "balanced 3"):
        assert post(client, "/answer/kit/measure", text=text, key=key, typed=typed).status_code == (
            422
        )


def test_a_gap_is_noted_once_told_and_taken_back(client: TestClient) -> None:
    given = {"at": AT, "uid": UID, "object": "Capella", "side": "west", "left": "90 ± 10"}
    for _ in range(2):
        assert post(client, "/logbook/gap", **given).status_code == 200
    told = client.get("/answer/logbook/gaps", params={"at": AT}).json()
    assert told["counts"] is True
    assert [(one["gap_mm"], one["error_mm"]) for one in told["gaps"]] == [(90.0, 10.0)]
    assert told["taught"]
    point = client.get("/answer/point", params={"object": "Capella", "at": AT}).json()
    assert len(point["rig_learned"]["used"]) + len(point["rig_learned"]["left_out"]) == 1
    assert post(client, "/logbook/gap", **{**given, "object": "Nonesuch"}).status_code == 422
    assert post(client, "/logbook/gap/take-back", at=AT, uid=UID).json() == {"gone": True}
    assert client.get("/answer/logbook/gaps", params={"at": AT}).json()["gaps"] == []
    assert (
        "rig_learned"
        not in client.get("/answer/point", params={"object": "Capella", "at": AT}).json()
    )


def test_marks_on_pictures_tell_lengths_and_stand_in_the_text(client: TestClient) -> None:
    """Pictures by cameras of other code (tests/mount/photographs.py)."""
    told = client.get("/answer/kit/photographs/places").json()
    assert [one["code"] for one in told["places"]] == [place.value for place in RigPlace]
    assert all("<svg" in drawing for drawing in told["drawings"])
    kit, rng = demo_kit("courtyard"), np.random.default_rng(3)
    places = true_places(build_rig(kit), kit.site.latitude_deg)
    known = (RigPlace.TUBE_FRONT, RigPlace.TUBE_BACK, 2.0)
    pictures = [
        {
            "width_px": one.width_px, "height_px": one.height_px, "mark_px": 4.0,
            "marks": {place.value: [x, y] for place, x, y in one.marks},
            "known": {"start": "tube front", "end": "tube back",
                      "length_mm": one.known.length_mm if one.known else 700.0},
        }
        for one in (taken(places, at, rng, known=known) for at in (95.0, 180.0))
    ]  # fmt: skip
    text = demo_text("courtyard")
    found = post(client, "/answer/kit/photographs", text=text, pictures=pictures).json()
    assert "mount.head.saddle_distance_mm" in found["written"]
    made, problems = check_text(found["text"])
    assert made is not None, problems
    after = dimensions_of(made)
    k = after.index("mount.head.saddle_distance_mm")
    assert abs(after.values[k] - 150.0) < 4.0 * after.sigmas[k] < 40.0
    for wrong in ({"marks": {"toe": [1, 2]}}, {"marks": {}}, {"width_px": 0}):
        sent = [{**pictures[0], **wrong}]
        reply = post(client, "/answer/kit/photographs", text=text, pictures=sent)
        assert reply.status_code == 422
