"""Moon and planets in the round views: moons where the eye has them, on the right side."""

from __future__ import annotations

import math
import re
from datetime import datetime

import pytest

from axletree.find.at_eyepiece.answer import MoonAtEyepiece, PlanetAtEyepiece
from axletree.find.view import FieldView, seen_angle_deg
from axletree.kit.kit import demo_kit
from axletree.stages.target.find import FindRequest, find_object
from axletree.tell.eyepiece.disc_drawing import Round, _hatches, _within
from axletree.tell.eyepiece.field_drawing import draws_body, inset_times
from axletree.tell.find.view_drawing import field_view_svg

MIDDLE, RADIUS = (230.0, 268.0), 152.0  # of the field on its sheet
FIELD = Round(MIDDLE, RADIUS)


def views(kit_name: str, name: str, at: str) -> list[FieldView]:
    kit = demo_kit(kit_name)
    when = datetime.fromisoformat(at).replace(tzinfo=kit.site.zone)
    found = find_object(kit, FindRequest(name, when)).finding
    assert found is not None
    shown = [found.views.finder, found.views.weakest, found.views.planned]
    return [view for view in shown if view is not None]


def circles(svg: str) -> list[tuple[float, float]]:
    pattern = r'<circle cx="([-\d.]+)" cy="([-\d.]+)"'
    return [(float(x), float(y)) for x, y in re.findall(pattern, svg)]


# A Newtonian with eyepieces in its ring, and a refractor with a diagonal, in either hemisphere.
@pytest.mark.parametrize(
    ("kit", "at"), [("courtyard", "2027-02-20T21:30"), ("paddock", "2027-02-20T23:30")]
)
def test_jupiters_moons_are_drawn_at_true_scale_on_their_side(kit: str, at: str) -> None:
    """The angle on the sky turned by north and mirror alone, and the distance in field radii."""
    eyepieces = views(kit, "Jupiter", at)[1:]
    assert eyepieces
    for view in eyepieces:
        assert draws_body(view, FIELD)
        assert isinstance(view.body, PlanetAtEyepiece)
        drawn = circles(field_view_svg(view, "Jupiter"))
        seen = [m for m in view.body.moons if m.state.seen and m.apart_arcsec > 40.0]
        assert len(seen) >= 3
        assert view.place is not None
        for moon in seen:
            turned = view.turned
            a = math.radians(
                float(seen_angle_deg(moon.position_angle_deg, turned.north_deg, turned.mirrored))
            )
            apart = moon.apart_arcsec / 3600.0 / view.radius_deg * RADIUS
            x = MIDDLE[0] + view.place[0] * RADIUS + apart * math.sin(a)
            y = MIDDLE[1] - view.place[1] * RADIUS - apart * math.cos(a)
            # Half a unit on the sheet: the air's squeeze of the sky is left out.
            assert min(math.dist((x, y), spot) for spot in drawn) < 0.5


def test_a_small_disc_stands_once_more_enlarged_and_the_moon_at_true_size() -> None:
    finder, *eyepieces = views("courtyard", "Saturn", "2026-12-05T20:30")
    assert not draws_body(finder, FIELD)
    for view in eyepieces:
        times = inset_times(view, FIELD)
        assert times is not None
        assert times > 2.0
        assert f"{times:.0f} times larger" in field_view_svg(view, "Saturn")
    for view in views("paddock", "Moon", "2026-12-17T22:00"):
        assert isinstance(view.body, MoonAtEyepiece)
        assert draws_body(view, FIELD)
        assert inset_times(view, FIELD) is None


def test_nothing_of_a_moon_larger_than_the_field_leaves_it() -> None:
    window = Round((0.0, 0.0), 10.0)
    square = [(-30.0, -4.0), (30.0, -4.0), (30.0, 4.0), (-30.0, 4.0)]
    cut = _within(square, window)
    assert len(cut) > 4
    assert all(math.hypot(x, y) <= 10.0 + 1e-6 for x, y in cut)
    assert max(y for _, y in cut) == pytest.approx(4.0)
    assert _within([(20.0, 20.0), (30.0, 20.0), (30.0, 30.0)], window) == []


def test_hatching_covers_the_shape_and_no_more() -> None:
    """Lines 2 apart in a square of 20: their length times 2 is its area, within an edge's worth."""
    square = [(0.0, 0.0), (20.0, 0.0), (20.0, 20.0), (0.0, 20.0)]
    lines = _hatches(square, 2.0)
    assert sum(math.dist(a, b) for a, b in lines) * 2.0 == pytest.approx(400.0, rel=0.05)
    for line in lines:
        assert all(-1e-9 <= v <= 20.0 + 1e-9 for spot in line for v in spot)
