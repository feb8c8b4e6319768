"""Lengths from pictures, against the cameras of OpenCV (`photographs.py`) and a general solver."""

from __future__ import annotations

import json
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from scipy.spatial.transform import Rotation

from axletree.cli import main
from axletree.kit.errors import AxletreeError
from axletree.kit.kit import demo_kit, demo_text, load_kit
from axletree.mount.dimensions.of_kit import dimensions_of
from axletree.mount.photographed.camera import PictureCamera
from axletree.mount.photographed.marks import marks_of_text
from axletree.mount.photographed.picture import MarkedPicture, RigPlace
from axletree.mount.photographed.places import PLACES, places_m
from axletree.mount.photographed.solution import PhotographedRig, photographed
from axletree.mount.rig.build import build_rig
from axletree.mount.sure.shapes import changed_rig
from axletree.sky.rotations import small_rotation
from mount.photographs import HIGH, WIDE, by_opencv, taken, true_places

TUBE = (RigPlace.TUBE_FRONT, RigPlace.TUBE_BACK, 2.0)
FEET = (RigPlace.FOOT_1, RigPlace.FOOT_2, 3.0)


def drawn(seed: int) -> tuple[np.ndarray, dict[RigPlace, np.ndarray], np.random.Generator]:
    """A rig that the courtyard kit's may be: its dimensions, its places, more numbers."""
    kit = demo_kit("courtyard")
    known, rig, rng = dimensions_of(kit), build_rig(kit), np.random.default_rng(seed)
    values, vectors = np.linalg.eigh(known.covariance)
    off = vectors @ (np.sqrt(np.maximum(values, 0.0)) * rng.standard_normal(len(values)))
    made = changed_rig(kit, rig, known.names, known.values + off)
    return known.values + off, true_places(made, kit.site.latitude_deg), rng


def two(seed: int, apart_deg: float = 85.0) -> tuple[np.ndarray, dict, PhotographedRig]:
    values, places, rng = drawn(seed)
    pictures = [
        taken(places, 95.0, rng, known=TUBE),
        taken(places, 95.0 + apart_deg, rng, known=FEET),
    ]
    return values, places, photographed(demo_kit("courtyard"), pictures)


def solved_places(found: PhotographedRig) -> dict[RigPlace, np.ndarray]:
    kit = demo_kit("courtyard")
    rig = changed_rig(kit, build_rig(kit), found.known.names, found.values)
    points = places_m(rig, kit.site.latitude_deg, np.zeros(3))
    return dict(zip(PLACES, points, strict=True))


def test_a_point_is_seen_where_scipy_turns_it() -> None:
    """Rotation by scipy; the pinhole by hand: 0.1 beside the axis at 1 m is a tenth of f."""
    vector = np.array([0.3, -0.2, 0.9])
    assert small_rotation(vector) == pytest.approx(
        Rotation.from_rotvec(vector).as_matrix(), abs=1e-12
    )
    camera = PictureCamera(np.eye(3), np.zeros(3), 0.72, 0.05, np.array([0.5, 0.375]), 4000.0)
    seen = camera.seen_px(np.array([[0.1, 0.0, 1.0]]))[0]
    assert seen == pytest.approx([2000.0 + 288.0 * 1.0005, 1500.0])


def test_a_camera_sees_what_opencv_projects() -> None:
    """Points before cameras anywhere, to a thousandth of a pixel; one term of distortion."""
    rng = np.random.default_rng(11)
    for _ in range(50):
        eye, turn = rng.uniform(-2.0, 2.0, 3), Rotation.random(random_state=rng)
        ahead = np.stack((*rng.uniform(-1.5, 1.5, (2, 30)), rng.uniform(2.0, 5.0, 30)), axis=1)
        points = turn.inv().apply(ahead) + eye
        focal, k = float(rng.uniform(0.6, 1.1)), float(rng.uniform(-0.1, 0.1))
        middle = 0.5 + 0.01 * rng.standard_normal(2)
        camera = PictureCamera(turn.as_matrix(), eye, focal, k, middle, 4000.0)
        there = by_opencv(points, turn, eye, focal * 4000.0, middle * 4000.0, (k, 0.0, 0.0, 0.0))
        assert np.abs(camera.seen_px(points) - there).max() < 1e-3


def test_long_lengths_come_within_one_and_a_half_per_cent_with_honest_bars() -> None:
    """Two pictures 60 and 110 degrees apart; 4 of 4,000 pixels, 2 % distortion."""
    parts, deviations = [], []
    for seed, apart in ((1, 60.0), (2, 110.0), (3, 85.0)):
        values, places, found = two(seed, apart)
        solved = solved_places(found)
        for a, b in (
            (RigPlace.TUBE_FRONT, RigPlace.TUBE_BACK), (RigPlace.FOOT_1, RigPlace.FOOT_3),
            (RigPlace.FOOT_1, RigPlace.HINGE_1), (RigPlace.CROSSING, RigPlace.FOOT_2),
            (RigPlace.TUBE_BACK, RigPlace.FOOT_1), (RigPlace.TUBE_FRONT, RigPlace.SHAFT_END),
        ):  # fmt: skip
            true = float(np.linalg.norm(places[a] - places[b]))
            parts.append(abs(float(np.linalg.norm(solved[a] - solved[b])) / true - 1.0))
        for name in ("mount.head.saddle_distance_mm", "mount.head.crossing_along_mm",
                     "mount.head.pivot_height_mm", "tube.balance_from_front_mm"):  # fmt: skip
            k = found.known.index(name)
            assert found.sigmas[k] < 0.5 * found.known.sigmas[k]
            deviations.append((found.values[k] - values[k]) / found.sigmas[k])
    assert np.sqrt(np.mean(np.square(parts))) < 0.015
    assert np.max(parts) < 0.03  # one length of 18 may lie two standard deviations off
    assert 0.4 < np.sqrt(np.mean(np.square(deviations))) < 1.6


def test_a_mark_on_the_wrong_place_is_named_and_does_little_harm() -> None:
    _, places, rng = drawn(5)
    good = [taken(places, 95.0, rng, known=TUBE), taken(places, 180.0, rng, known=FEET)]
    k = [place for place, _, _ in good[0].marks].index(RigPlace.TUBE_BACK)
    marks = list(good[0].marks)
    place, x, y = marks[k]
    marks[k] = (place, x, y - 250.0)
    kit = demo_kit("courtyard")
    found = photographed(kit, [replace(good[0], marks=tuple(marks)), good[1]])
    assert (0, RigPlace.TUBE_BACK) in [(one.picture, one.place) for one in found.marks]
    clean = photographed(kit, good)
    i = found.known.index("mount.head.saddle_distance_mm")
    assert abs(found.values[i] - clean.values[i]) < 3.0 * clean.sigmas[i]


def test_one_picture_leaves_open_what_lies_along_the_line_of_sight() -> None:
    """From the east the foot that points there and how far its plane turns can't be seen."""
    _, places, rng = drawn(7)
    one = [taken(places, 90.0, rng, known=TUBE)]
    both = [*one, taken(places, 180.0, rng)]
    kit = demo_kit("courtyard")
    alone, more = photographed(kit, one), photographed(kit, both)
    k = alone.known.index("mount.head.saddle_distance_mm")
    assert alone.sigmas[k] < 0.4 * alone.known.sigmas[k]
    top = alone.known.index("mount.tripod.foot_radius_mm")
    assert more.sigmas[top] < 0.8 * alone.sigmas[top]
    assert (alone.sigmas <= alone.known.sigmas * (1 + 1e-6)).all()


def text_of(pictures: list[MarkedPicture]) -> str:
    lines = []
    for one in pictures:
        lines += ["[[picture]]", f"width_px = {WIDE}", f"height_px = {HIGH}", "focal_35mm = 26"]
        if one.known is not None:
            k = one.known
            lines.append(
                f"known = {{ from = '{k.start}', to = '{k.end}', length_mm = {k.length_mm:.1f}, "
                f"error_mm = {k.error_mm} }}"
            )
        lines += ["[picture.marks]", *(f"'{p}' = [{x:.1f}, {y:.1f}]" for p, x, y in one.marks)]
    return "\n".join(lines)


def test_the_command_reads_marks_and_writes_what_they_tell(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.chdir(tmp_path)
    values, places, rng = drawn(9)
    pictures = [taken(places, 95.0, rng, known=TUBE), taken(places, 180.0, rng, known=FEET)]
    Path("my.toml").write_text(demo_text("courtyard"), encoding="utf-8")
    Path("marks.toml").write_text(text_of(pictures), encoding="utf-8")
    assert main(["kit", "photographs", "my.toml", "marks.toml", "--write", "--json"]) == 0
    told = json.loads(capsys.readouterr().out)
    known = dimensions_of(load_kit("my.toml"))
    name = "mount.head.saddle_distance_mm"
    assert name in told["written"]
    k = known.index(name)
    assert known.sigmas[k] < 10.0
    assert abs(known.values[k] - values[k]) < 4.0 * known.sigmas[k]
    before = Path("my.toml").read_text(encoding="utf-8")
    for wrong in ("x = 1", "[[picture]]\nwidth_px = 4000\nheight_px = 3000\n[picture.marks]",
                  text_of(pictures).replace("'foot 1' =", "'toe' =")):  # fmt: skip
        Path("marks.toml").write_text(wrong, encoding="utf-8")
        assert main(["kit", "photographs", "my.toml", "marks.toml", "--write"]) == 2
        assert capsys.readouterr().err.count("\n") == 1
    assert Path("my.toml").read_text(encoding="utf-8") == before


def test_marks_that_nobody_can_mean_are_refused() -> None:
    head = "[[picture]]\nwidth_px = 4000\nheight_px = 3000\n"
    for body, said in (
        ("", "no marks"),
        ("[picture.marks]\n'foot 1' = [1, 2]", "at least 6"),
        ("[picture.marks]\n'foot 1' = [1, 'a']", "write a number"),
        ("colour = 3\n", "unknown key"),
    ):
        with pytest.raises(AxletreeError, match=said):
            marks_of_text(head + body)
