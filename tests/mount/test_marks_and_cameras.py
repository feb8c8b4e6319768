"""Marks on pictures one by one: where a picture was taken from, by the cameras of OpenCV, and which
marks are taken."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest
from scipy.spatial.transform import Rotation

from axletree.kit.errors import AxletreeError
from axletree.kit.kit import Kit, demo_kit
from axletree.mount.photographed.marks import pictures_of
from axletree.mount.photographed.picture import MarkedPicture, RigPlace
from axletree.mount.photographed.solution import photographed
from axletree.mount.photographed.start import begun
from axletree.mount.rig.build import build_rig
from mount.photographs import HIGH, WIDE, by_opencv, true_places


def exact(kit: Kit, azimuth_deg: float) -> tuple[np.ndarray, Rotation, MarkedPicture]:
    """Where a camera stands and how it is held, its lens of 26 mm (26/36 of the picture's width),
    and where it sees the places of the kit's rig."""
    places = true_places(build_rig(kit), kit.site.latitude_deg)
    points = np.array(list(places.values()))
    rng = np.random.default_rng(int(azimuth_deg))
    a = np.radians(azimuth_deg)
    centre = points.mean(axis=0)
    eye = np.array([*(centre[:2] + 4.2 * np.array([np.sin(a), np.cos(a)])), centre[2]])
    level = Rotation.from_euler(
        "zx", [np.arctan2(centre[0] - eye[0], centre[1] - eye[1]), np.pi / 2]
    )
    turn = Rotation.from_rotvec(np.radians(3.0) * rng.standard_normal(3)) * level
    middle = np.array([WIDE / 2, HIGH / 2])
    px = by_opencv(points, turn, eye, 26.0 / 36.0 * WIDE, middle, (0.0, 0.0, 0.0, 0.0))
    marks = tuple((place, float(x), float(y)) for place, (x, y) in zip(places, px, strict=True))
    return eye, turn, MarkedPicture(WIDE, HIGH, marks, focal_35mm=26.0)


@pytest.mark.parametrize("azimuth_deg", [20.0, 95.0, 190.0, 305.0])
def test_a_picture_is_taken_from_where_opencvs_camera_stands(azimuth_deg: float) -> None:
    kit = demo_kit("courtyard")
    eye, turn, marked = exact(kit, azimuth_deg)
    places = true_places(build_rig(kit), kit.site.latitude_deg)
    points = np.array([places[place] for place, _, _ in marked.marks])
    px = np.array([(x, y) for _, x, y in marked.marks])
    found = begun(marked, points, px)
    assert found.place_m == pytest.approx(eye, abs=1e-4)
    assert found.turn == pytest.approx(turn.as_matrix(), abs=1e-4)
    assert np.abs(found.seen_px(points) - px).max() < 0.1


MARKS = {place.value: [100.0 + 50.0 * k, 200.0] for k, place in enumerate(list(RigPlace)[:6])}
TAPE = {"from": "tube front", "to": "tube back", "length_mm": 690, "error_mm": 3.0}


def picture(**more: Any) -> MarkedPicture:
    raw = {"width_px": 4000, "height_px": 3000, "marks": MARKS, **more}
    return pictures_of([raw])[0]


def test_a_length_told_by_a_tape_is_read() -> None:
    known = picture(known=TAPE).known
    assert known is not None
    assert (known.start, known.end) == (RigPlace.TUBE_FRONT, RigPlace.TUBE_BACK)
    assert (known.length_mm, known.error_mm) == (690.0, 3.0)
    assert picture().known is None
    for wrong in ({**TAPE, "colour": 1}, {"to": "tube back", "length_mm": 690}, 690):
        with pytest.raises(AxletreeError, match="write known ="):
            picture(known=wrong)
    for wrong in ({**TAPE, "to": "tube front"}, {**TAPE, "length_mm": 5}, {**TAPE, "error_mm": 0}):
        with pytest.raises(AxletreeError, match="known length"):
            picture(known=wrong)


def test_a_place_is_marked_to_a_few_pixels_unless_told() -> None:
    """A fingertip or a pointer on a picture that fills the screen: four of 4,000 pixels. Common
    practice, no source."""
    assert picture().sigma_px == pytest.approx(4.0)
    upright = pictures_of([{"width_px": 3000, "height_px": 4000, "marks": MARKS}])[0]
    assert upright.sigma_px == pytest.approx(4.0)
    assert picture(mark_px=7.5).sigma_px == 7.5


def test_lenses_that_no_camera_has_are_refused() -> None:
    assert picture(focal_35mm=26).focal_35mm == 26.0
    for focal in (9.0, 501.0):
        with pytest.raises(AxletreeError, match="10 to 500 mm"):
            picture(focal_35mm=focal)


def test_a_lens_that_the_file_tells_is_found_again() -> None:
    """Exact marks by OpenCV's camera of the very lens that the file tells, on the rig as the kit
    has it: nothing pulls the focal length, the turn or the place anywhere else."""
    kit = demo_kit("courtyard")
    eye, turn, marked = exact(kit, 95.0)
    found = photographed(kit, [marked])
    camera = found.cameras[0]
    assert camera.focal == pytest.approx(26.0 / 36.0, rel=0.002)
    assert camera.place_m == pytest.approx(eye, abs=0.01)
    assert camera.turn == pytest.approx(turn.as_matrix(), abs=0.003)
    assert found.rms_px < 0.5
    assert found.marks == ()
