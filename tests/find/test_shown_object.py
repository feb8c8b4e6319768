"""How objects lie and how large they are, and pairs, against what is printed about them."""

from __future__ import annotations

from datetime import UTC, datetime

import numpy as np
import pytest

from axletree.find.instruments import Instrument, InstrumentKind
from axletree.find.patch import patch_around
from axletree.find.shown_object import ShownObject, shown_object
from axletree.find.view import SkyTurn, field_view
from axletree.sky.catalogue.objects import find
from axletree.sky.observer import Observer
from axletree.sky.positions.objects import object_positions
from axletree.sky.time.instants import Instants

AT = Instants.from_datetime(datetime(2026, 8, 12, 21, 30, tzinfo=UTC))
AIRLESS = Observer(10.0, 0.0, 0.0, pressure_hpa=0.0)


def shown(name: str, observer: Observer = AIRLESS) -> ShownObject:
    places = object_positions([find(name)], AT, observer)
    azimuth, altitude = float(places.azimuth_deg[0, 0]), float(places.altitude_deg[0, 0])
    patch = patch_around(azimuth, altitude, 2.0, AT, observer, 8.0)
    return shown_object(find(name), patch, AT, observer)


# Position angle of the long axis (degrees from north through east) and its length (arcminutes) to
# the isophote of 25 mag: G. de Vaucouleurs and others 1991, Third Reference Catalogue of Bright
# Galaxies, and for M31 P. Hodge's handbook; from memory. Catalogues differ by a few degrees, and
# by a third in what they call the edge.
GALAXIES = [
    ("M31", 35, 190), ("M81", 157, 26.9), ("M82", 65, 11.2), ("M104", 89, 8.7), ("M33", 23, 70.8),
    ("M65", 174, 9.8), ("M66", 173, 9.1), ("NGC 4565", 136, 15.9), ("NGC 253", 52, 27.5),
    ("NGC 891", 22, 13.5), ("M63", 105, 12.6), ("M64", 115, 10.0), ("M110", 170, 21.9),
]  # fmt: skip


@pytest.mark.parametrize(("name", "turn", "size"), GALAXIES)
def test_galaxies_lie_as_printed(name: str, turn: float, size: float) -> None:
    outline = shown(name).outline_deg
    assert outline is not None
    east, north = outline[:, 0]
    found = np.degrees(np.arctan2(east, north))
    assert abs((found - turn + 90) % 180 - 90) < 7
    assert 120 * np.hypot(east, north) == pytest.approx(size, rel=0.35)
    assert np.hypot(*outline[:, 0]) > np.hypot(*outline[:, 1])


# Position angle and separation (arcseconds) of wide pairs that hardly move: C. E. Worley and G. G.
# Douglass, Washington Double Star Catalog, recent measures, from memory.
PAIRS = [
    ("Albireo", 54, 34.6), ("Mizar", 153, 14.4), ("iota Cnc", 308, 30.6), ("delta Cep", 191, 40.9),
    ("Cor Caroli", 229, 19.3), ("beta Sco", 20, 13.6), ("theta Ser", 104, 22.3),
]  # fmt: skip


@pytest.mark.parametrize(("name", "angle", "apart"), PAIRS)
def test_pairs_stand_as_printed(name: str, angle: float, apart: float) -> None:
    companion = shown(name).companion_deg
    assert companion is not None
    found = np.degrees(np.arctan2(companion[0], companion[1])) % 360
    assert abs((found - angle + 180) % 360 - 180) < 1.5
    assert 3600 * np.hypot(*companion) == pytest.approx(apart, rel=0.03)


def test_low_down_the_air_flattens_an_outline() -> None:
    """A circle is lower than wide by what the air lifts less a degree higher (G. G. Bennett 1982,
    J. Inst. Navigation 35, 255; his air is not quite this site's: 15 %)."""
    observer = Observer(48.2, 16.4, 200.0)
    for hour in range(24):
        at = Instants.from_datetime(datetime(2026, 8, 12, hour, 30, tzinfo=UTC))
        places = object_positions([find("M13")], at, observer)
        altitude = float(places.altitude_deg[0, 0])
        if not 3.0 < altitude < 20.0:
            continue
        azimuth = float(places.azimuth_deg[0, 0])
        patch = patch_around(azimuth, altitude, 2.0, at, observer, 8.0)
        outline = shown_object(find("M13"), patch, at, observer).outline_deg
        assert outline is not None
        long, short = np.linalg.svd(outline, compute_uv=False)
        low, high = (
            1 / np.tan(np.radians(h + 7.31 / (h + 4.4))) / 60
            for h in (altitude - 0.5, altitude + 0.5)
        )
        assert 1 - short / long == pytest.approx(low - high, rel=0.15)
        return
    pytest.fail("M13 was never low")


def test_what_lies_nobody_knows_how_is_a_circle() -> None:
    """M42 is 90 by 60 arcminutes, and no catalogue says how it lies."""
    orion = shown("M42")
    assert not orion.turn_known
    assert orion.outline_deg is not None
    long, short = np.linalg.svd(orion.outline_deg, compute_uv=False)
    assert long == pytest.approx(short, rel=1e-3)
    assert 120 * long == pytest.approx(90, rel=0.01)


def test_a_pair_is_turned_and_mirrored_like_its_view() -> None:
    """With north at 3 o'clock east lies at 12, in a mirrored view at 6."""
    places = object_positions([find("Albireo")], AT, AIRLESS)
    middle = float(places.azimuth_deg[0, 0]), float(places.altitude_deg[0, 0])
    patch = patch_around(*middle, 2.0, AT, AIRLESS, 8.0)
    pair = shown_object(find("Albireo"), patch, AT, AIRLESS)
    eyepiece = Instrument(InstrumentKind.EYEPIECE, "x", 30, 150, 1.0, look=None, eyepiece_index=0)
    for mirrored, drift in ((False, 180.0), (True, 0.0)):
        view = field_view(patch, eyepiece, SkyTurn(90.0, drift, 0.0, mirrored), 8.0, pair)
        assert view.companion_deg is not None
        # 54 degrees from north through east.
        expected = 90.0 + 54.0 if mirrored else 90.0 - 54.0
        assert view.companion_deg == pytest.approx(expected, abs=1.5)
        assert view.companion_apart == pytest.approx(34.6 / 1800, rel=0.03)


def test_a_moving_disc_is_as_wide_as_it_was_told() -> None:
    """Half a degree of Jupiter, say: a circle of a quarter about where it stands."""
    jupiter = find("Jupiter")
    patch = patch_around(100.0, 30.0, 2.0, AT, AIRLESS, 8.0)
    told = shown_object(jupiter, patch, AT, AIRLESS, 0.5).outline_deg
    np.testing.assert_allclose(told, [[0.25, 0.0], [0.0, 0.25]])
    assert shown_object(jupiter, patch, AT, AIRLESS).outline_deg is None
