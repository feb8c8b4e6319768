"""The finder's field at each star of a hop agrees with what the hop itself tells of its steps."""

from __future__ import annotations

from datetime import UTC, datetime

import numpy as np
import pytest

from axletree.kit.kit import demo_kit
from axletree.stages.target.find import FindRequest, find_object
from axletree.stages.target.hop_views import hop_turns_deg, hop_views
from axletree.tell.find.data import find_data
from axletree.tell.find.page_data import find_page_data


@pytest.mark.parametrize(
    ("kit", "thing", "at"),
    [
        ("courtyard", "M57", datetime(2026, 12, 5, 18, 48, tzinfo=UTC)),
        ("courtyard", "M1", datetime(2026, 12, 5, 23, 0, tzinfo=UTC)),
        ("paddock", "NGC 1433", datetime(2026, 12, 5, 11, 30, tzinfo=UTC)),
    ],
)
def test_the_next_star_stands_where_the_hop_says(kit: str, thing: str, at: datetime) -> None:
    answer = find_object(demo_kit(kit), FindRequest(thing, at))
    assert answer.finding is not None
    hop = answer.finding.hop
    assert hop is not None
    views = hop_views(answer)
    assert len(views) == len(hop.steps) > 0
    told = find_data(answer)["hop"]
    assert told is not None
    for view, step, words in zip(views, hop.steps, told["steps"], strict=True):
        numbers = list(view.star_number)
        middle = numbers.index(step.present.number)
        assert np.hypot(view.x[middle], view.y[middle]) < 0.01  # 1 % of the field's radius
        if step.following is None:
            assert view.place is not None
            x, y = view.place
        else:
            row = numbers.index(step.following.number)
            x, y = float(view.x[row]), float(view.y[row])
        assert np.hypot(x, y) == pytest.approx(2.0 * step.distance_field, abs=0.02)
        clockwise = np.degrees(np.arctan2(x, y))
        off = (clockwise - float(words["clockwise_deg"] or 0.0) + 180.0) % 360.0 - 180.0
        assert abs(off) < 1.0  # told as it stands in this very field


@pytest.mark.parametrize(
    ("thing", "at"),
    [
        ("M76", datetime(2026, 12, 5, 21, 15, tzinfo=UTC)),
        ("NGC 891", datetime(2026, 12, 5, 19, 15, tzinfo=UTC)),
        ("NGC 188", datetime(2026, 12, 5, 20, 15, tzinfo=UTC)),  # 5 degrees from the pole
    ],
)
def test_the_picture_turns_as_verticals_converge(thing: str, at: datetime) -> None:
    """Under an upright head it turns by the change of azimuth times the sine of the height: the
    convergence of meridians, here of verticals (W. Torge, Geodesy, 3rd ed. 2001, ch. 6), to a
    fifth of a degree."""
    answer = find_object(demo_kit("courtyard"), FindRequest(thing, at))
    found = answer.finding
    assert found is not None
    assert found.hop is not None
    assert found.near_patch is not None
    near, turns = found.near_patch, hop_turns_deg(answer)
    rows = [step.present.row for step in found.hop.steps]
    assert len(turns) == len(rows) > 0
    azimuth = np.array([*near.star_azimuth_deg[rows], near.azimuth_deg])
    altitude = np.array([*near.star_altitude_deg[rows], near.altitude_deg])
    between = np.radians((altitude[1:] + altitude[:-1]) / 2.0)
    across = (np.diff(azimuth) + 180.0) % 360.0 - 180.0
    assert turns == pytest.approx(list(across * np.sin(between)), abs=0.2)
    page = find_page_data(answer)
    told = ["the picture turns" in " ".join(words) for words in page["hop_steps"]]
    assert told == page["hop_turned"] == [abs(turn) >= 15.0 for turn in turns]
    assert any(told) == (thing == "M76")
