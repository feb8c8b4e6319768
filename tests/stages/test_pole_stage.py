"""The stages of the pole: codes with their figures, and the shared limits they go by."""

from __future__ import annotations

from datetime import UTC, datetime

import pytest

from axletree.kit.errors import AxletreeError
from axletree.kit.kit import Kit, check_text, demo_kit
from axletree.pole.correct.bolts import AxisError
from axletree.sky.contrast import FIELD_FACTOR, naked_eye_limit_mag
from axletree.sky.events.rise_and_set import sun_altitude_deg
from axletree.sky.observer import observer_of
from axletree.sky.time.instants import Instants
from axletree.stages.set_up.enough import EnoughRequest, enough
from axletree.stages.set_up.pole import NoView, PoleAssumption, PoleCaution, pole
from axletree.stages.set_up.pole_request import HeadReading, PoleRequest

DUSK = datetime(2026, 12, 5, 21, 0, tzinfo=UTC)
SILENT = """
kit_version = 1
name = "x"
[site]
latitude_deg = {latitude}
longitude_deg = 19.0
time_zone = "UTC"
[mount]
size = "middle"
[mount.polar_scope]
kind = "{scope}"
[tube]
kind = "refractor"
aperture_mm = 80
focal_length_mm = 560
"""


def kit_of(latitude: float, scope: str = "scope", focal_mm: int = 560) -> Kit:
    text = SILENT.format(latitude=latitude, scope=scope)
    kit, problems = check_text(text.replace("560", str(focal_mm)))
    assert kit is not None, problems
    return kit


def test_a_silent_sky_is_that_of_every_other_stage() -> None:
    kit = kit_of(45.0)
    answer = pole(kit, PoleRequest(DUSK))
    assert PoleAssumption.ORDINARY_SKY in answer.assumptions
    # 20.5 mag/arcsec2, as the evening takes it.
    wanted = float(naked_eye_limit_mag(20.5, FIELD_FACTOR[kit.habits.observer]))
    assert answer.naked_eye_limit_mag == pytest.approx(wanted, abs=1e-9)


def test_the_sun_counts_as_up_above_its_own_limit() -> None:
    kit = demo_kit()
    minutes = Instants.grid(datetime(2026, 12, 5, 17, 0, tzinfo=UTC), count=40, step_s=60)
    altitude = sun_altitude_deg(minutes, observer_of(kit.site))
    for at, height in zip(minutes.to_datetimes(UTC), altitude, strict=True):
        if abs(height + 0.85) < 0.3:
            up = PoleCaution.SUN_IS_UP in pole(kit, PoleRequest(at)).cautions
            assert up == (height > -0.85), height


@pytest.mark.parametrize(
    ("latitude", "scope", "at", "why"),
    [
        (70.0, "scope", datetime(2026, 6, 21, 20, 0, tzinfo=UTC), NoView.TOO_BRIGHT),
        (0.0, "scope", DUSK, NoView.POLE_ON_HORIZON),
        # A longer tube, in whose widest field Polaris doesn't fit.
        (45.0, "none", DUSK, NoView.NO_POLAR_SCOPE),
        (45.0, "scope", DUSK, None),
    ],
)
def test_why_the_pole_is_not_seen(
    latitude: float, scope: str, at: datetime, why: NoView | None
) -> None:
    kit = kit_of(latitude, scope, focal_mm=1100 if scope == "none" else 560)
    answer = pole(kit, PoleRequest(at))
    assert answer.no_view is why
    assert (PoleCaution.STEEL in answer.cautions) == (why is not None)


def test_readings_and_errors_are_not_mixed() -> None:
    with pytest.raises(AxletreeError, match="not both"):
        pole(demo_kit(), PoleRequest(DUSK, HeadReading(40.0), AxisError(1.0, 1.0)))
    with pytest.raises(AxletreeError, match="not both"):
        enough(demo_kit(), EnoughRequest(DUSK, declination_deg=10.0, object_name="M42"))
