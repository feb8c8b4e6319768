"""Drawings of the rig from one side, and of the kit's measures."""

from __future__ import annotations

import re
import xml.etree.ElementTree as ET

import numpy as np
import pytest

from axletree.kit.kit import check_text, demo_kit, demo_text
from axletree.mount.rig.build import build_rig
from axletree.mount.rig.kinematics import align, crossing_m, placed
from axletree.tell.kit.drawing import kit_view
from axletree.tell.shared.rig_side import SIZE, frame_for, rig_side
from axletree.tell.shared.rods_drawing import side_views

SVG = "{http://www.w3.org/2000/svg}"


@pytest.mark.parametrize("name", ["courtyard", "paddock"])
@pytest.mark.parametrize("view", [0, 1, 2])
def test_every_pose_lies_on_the_sheet(name: str, view: int) -> None:
    kit = demo_kit(name)
    rig, axes = build_rig(kit), align(kit.site.latitude_deg)
    frame = frame_for(rig, axes, side_views(axes.sense)[view])
    rng = np.random.default_rng(1)
    for _ in range(60):
        h, swing = rng.uniform(-12, 12), rng.uniform(-180, 180)
        for ends in placed(rig, axes, h, swing):
            for point in ends:
                x, y = frame.at(point)
                assert 0 <= x <= SIZE
                assert -1 <= y <= SIZE + 30  # feet stand a little below a sloping ground's middle


def test_the_scale_is_true() -> None:
    kit = demo_kit()
    rig, axes = build_rig(kit), align(kit.site.latitude_deg)
    frame = frame_for(rig, axes, side_views(axes.sense)[0])
    cross = crossing_m(rig, axes)
    a, b = frame.at(cross), frame.at(cross + axes.pole)
    assert np.hypot(b[0] - a[0], b[1] - a[1]) == pytest.approx(frame.scale, rel=1e-9)
    # Seen from the east, north is to the right; the axis rises by the latitude.
    assert np.degrees(np.arctan2(a[1] - b[1], b[0] - a[0])) == pytest.approx(38.5712, abs=1e-6)


def test_what_touches_is_filled_and_a_ghost_is_not() -> None:
    kit = demo_kit()
    rig, axes = build_rig(kit), align(kit.site.latitude_deg)
    plain = rig_side(rig, axes, 1.0, -50.0)
    lit = rig_side(rig, axes, 1.0, -50.0, touching=("tube",), ghost=(3.0, -50.0))
    warn = re.compile(r'fill="var\(--warn')
    assert not warn.search(plain)
    assert warn.search(lit)
    assert "stroke-dasharray" in lit


def test_each_measure_of_the_kit_says_its_length_and_whether_it_is_a_guess() -> None:
    kit = demo_kit()
    rig, axes = build_rig(kit), align(kit.site.latitude_deg)
    root = ET.fromstring(kit_view(kit, rig, axes))
    measures = {g.get("data-key"): g for g in root.iter(f"{SVG}g") if g.get("class") == "measure"}
    assert len(measures) >= 18
    for key, group in measures.items():
        assert key is not None
        table, name = key.rsplit(".", 1)
        value: object = kit
        for part in (*table.split("."), name):
            value = getattr(value, part)
        words = "".join(t.text or "" for t in group.iter(f"{SVG}text"))
        assert isinstance(value, float)
        shown = f"{value / 1000:.2f} m" if value >= 1000 else f"{value:.0f} mm"
        assert words.startswith(shown), key
        assert ("guessed" in words) == (key in kit.guessed)
        dashes = [x for x in group.iter(f"{SVG}line") if x.get("stroke-dasharray")]
        assert bool(dashes) == (key in kit.guessed)
        # The line is as long as the length that it stands for.
        line = max(
            (x for x in group.iter(f"{SVG}line") if x.get("stroke-width") == "2.6"),
            key=lambda x: 1,
        )
        x1, y1, x2, y2 = (float(line.get(k) or 0) for k in ("x1", "y1", "x2", "y2"))
        frame = frame_for(rig, axes, side_views(axes.sense)[0], spare_m=0.16)
        assert np.hypot(x2 - x1, y2 - y1) / frame.scale * 1000 == pytest.approx(value, abs=0.2)


def test_a_hostile_name_stays_words() -> None:
    text = demo_text().replace('name = "School courtyard"', "name = '<script>x</script>'")
    kit, problems = check_text(text)
    assert kit is not None, problems
    svg = kit_view(kit, build_rig(kit), align(kit.site.latitude_deg))
    assert "<script" not in svg
    ET.fromstring(svg)
