"""The compiled night table against the one in numpy: the same numbers but for their last digits."""

from __future__ import annotations

from datetime import UTC, datetime
from fractions import Fraction

import numpy as np
import pytest

from axletree.sky.bulk.night_table import COLUMNS, NightTable, Work, night_table
from axletree.sky.bulk.table_kernel import arc_terms
from axletree.sky.observer import Observer
from axletree.sky.positions.stars import Stars
from axletree.sky.time.instants import Instants

EVENING = datetime(2026, 11, 25, 18, tzinfo=UTC)
FIELDS = ("altitude_deg", "azimuth_deg", "hour_angle_h", "declination_deg")


def whole_sky(count: int = 500) -> Stars:
    """Directions all over the sky, both poles and some near them."""
    rng = np.random.default_rng(31)
    return Stars.of(
        np.append(rng.uniform(0, 360, count), [10.0, 37.95, 317.2, 0.0]),
        np.append(np.degrees(np.arcsin(rng.uniform(-1, 1, count))), [90.0, 89.264, -88.956, -90.0]),
        pm_dec_mas_yr=-300.0,
    )


def apart_arcsec(one: NightTable, other: NightTable) -> dict[str, float]:
    """Largest differences of each column, along the sky for those that run around it."""
    a = {f: getattr(one, f).astype(float) for f in FIELDS}
    b = {f: getattr(other, f).astype(float) for f in FIELDS}
    found = {f: np.abs(a[f] - b[f]) for f in ("altitude_deg", "declination_deg")}
    for field, turn, to_deg, height in (
        ("azimuth_deg", 360.0, 1.0, "altitude_deg"),
        ("hour_angle_h", 24.0, 15.0, "declination_deg"),
    ):
        around = (a[field] - b[field] + turn / 2) % turn - turn / 2
        found[field] = np.abs(around) * to_deg * np.cos(np.radians(b[height]))
    return {f: float(v.max()) * 3600.0 for f, v in found.items()}


@pytest.mark.parametrize("latitude", [-90.0, -44.0, 0.0, 38.57, 70.0])
@pytest.mark.parametrize(
    ("count", "step_s"), [(720, 60.0), (300, 600.0), (1, 60.0), (3, 0.0), (77, 1.0), (31, 86400.0)]
)
@pytest.mark.parametrize("pressure_hpa", [None, 0.0])
def test_both_ways_give_the_same_table(
    latitude: float, count: int, step_s: float, pressure_hpa: float | None
) -> None:
    observer = Observer(latitude, -7.91, 300.0, pressure_hpa)
    stars = whole_sky(60 if count > 100 else 400)
    instants = Instants.from_datetime(EVENING).plus(np.arange(count) * step_s)
    # A hundred-thousandth of what the exact table promises. The other's columns are rounded to
    # float32, whose steps are 0.11" at 360 degrees and 0.05" at 12 h.
    for precision, limit in (("exact", 1e-6), ("display", 0.23)):
        one, other = (
            night_table(stars, instants, observer, COLUMNS, precision, work=Work(way))  # type: ignore[arg-type]
            for way in ("numpy", "compiled")
        )
        assert other.altitude_deg.dtype == one.altitude_deg.dtype
        assert all(v < limit for v in apart_arcsec(one, other).values()), precision
        assert other.azimuth_deg.min() >= 0.0
        assert other.azimuth_deg.max() <= 360.0
        assert other.hour_angle_h.max() <= 12.0
        assert other.hour_angle_h.min() > -12.0 - 1e-6


def test_low_down_where_the_air_comes_from_a_table() -> None:
    # Across the join of both refractions (5 degrees) and below the horizon, in small steps.
    observer = Observer(38.57, -7.91, 300.0)
    instants = Instants.grid(EVENING, count=2000, step_s=3.0)
    stars = whole_sky(3000)
    seen = night_table(stars, instants[:1], observer, ("altitude",)).altitude_deg[:, 0]
    stars = stars.take(np.abs(seen) < 6.0)
    one, other = (
        night_table(stars, instants, observer, ("altitude",), work=Work(way)).altitude_deg
        for way in ("numpy", "compiled")
    )
    assert ((one > -1.0) & (one < 5.5)).mean() > 0.25
    assert np.abs(one - other).max() * 3600.0 < 1e-6


def test_one_column_alone_is_the_column_among_others() -> None:
    observer, stars = Observer(-44.0, 170.0), whole_sky(50)
    instants = Instants.grid(EVENING, count=90, step_s=300.0)
    for precision in ("exact", "display"):
        whole = night_table(stars, instants, observer, COLUMNS, precision, work=Work("compiled"))  # type: ignore[arg-type]
        for column, field in zip(COLUMNS, FIELDS, strict=True):
            alone = night_table(
                stars, instants, observer, (column,), precision, work=Work("compiled")
            )  # type: ignore[arg-type]
            assert np.array_equal(getattr(alone, field), getattr(whole, field))
            assert sum(getattr(alone, f).size for f in FIELDS) == whole.altitude_deg.size


@pytest.mark.filterwarnings("ignore:invalid value")
def test_rows_with_a_place_unknown_stay_unknown() -> None:
    stars = Stars.of([10.0, np.nan, 20.0], [5.0, 5.0, np.nan])
    instants = Instants.grid(EVENING, count=100)
    table = night_table(stars, instants, Observer(38.0, -8.0), work=Work("compiled"))
    for field in FIELDS:
        assert np.isfinite(getattr(table, field)[0]).all()
        assert np.isnan(getattr(table, field)[1:]).all()


@pytest.mark.parametrize(("kind", "arcsec"), [(np.float64, 5e-7), (np.float32, 0.01)])
def test_the_arc_is_as_good_as_told(kind: type, arcsec: float) -> None:
    # Against numpy's own arcs; the terms are summed without rounding.
    terms = [Fraction(float(t)) for t in arc_terms(kind)]
    for tangent in np.linspace(0.0, 1.0, 101):
        x = Fraction(float(tangent))
        arc = x * sum(t * x ** (2 * k) for k, t in enumerate(terms))
        assert float(arc) * 3600 == pytest.approx(np.degrees(np.arctan(tangent)) * 3600, abs=arcsec)
