"""Are figures read as people and standards write them, and nonsense refused?"""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from axletree.kit.errors import AxletreeError
from axletree.kit.place.coordinates import parse_location

EVORA = (38 + 34 / 60 + 15 / 3600, -(7 + 54 / 60 + 36 / 3600))


@pytest.mark.parametrize(
    ("text", "latitude", "longitude", "elevation"),
    [
        # RFC 5870, sections 1, 6.2, 6.3 and 9.4
        ("geo:13.4125,103.8667", 13.4125, 103.8667, None),
        ("geo:48.2010,16.3695,183", 48.2010, 16.3695, 183.0),
        ("geo:48.198634,16.371648;crs=wgs84;u=40", 48.198634, 16.371648, None),
        ("geo:90,-22.43;crs=WGS84", 90.0, 0.0, None),
        ("geo:90,46", 90.0, 0.0, None),
        ("geo:22.300,-118.44", 22.3, -118.44, None),
        ("geo:22.3,-118.4400", 22.3, -118.44, None),
        ("geo:66,30;u=6.500;FOo=this%2dthat", 66.0, 30.0, None),
        ("geo:66.0,30;u=6.5;foo=this-that", 66.0, 30.0, None),
        ("geo:70,20;foo=1.00;bar=white", 70.0, 20.0, None),
        ("geo:47,11;foo=blue;bar=white", 47.0, 11.0, None),
        ("geo:22,0;bar=Blue", 22.0, 0.0, None),
        ("GEO:-44.0047,170.4771,-3.5", -44.0047, 170.4771, -3.5),
        ("geo:0,-180", 0.0, 180.0, None),
    ],
)
def test_geo_uris_of_rfc_5870(
    text: str, latitude: float, longitude: float, elevation: float | None
) -> None:
    """Mayrhofer & Spanring, A Uniform Resource Identifier for Geographic Locations, RFC 5870."""
    assert parse_location(text) == (latitude, longitude, elevation)


@pytest.mark.parametrize(
    ("text", "hint"),
    [
        ("geo:48,16;crs=epsg:4326", "only crs=wgs84"),
        ("geo:48,16;crs=moon-2011", "only crs=wgs84"),
        ("geo:48,16;u=40;crs=wgs84", "first of the parameters"),
        ("geo:48,16;u=-3", "number of metres"),
        ("geo:48,16;u=", "number of metres"),
        ("geo:48,16;=3", "no parameter"),
        ("geo:95,0", "latitude 95"),
        ("geo:0,180.5", "longitude 180.5"),
        ("geo:48", "no geo URI"),
        ("geo:48,16,1,2", "no geo URI"),
        ("geo:+48,16", "no geo URI"),
        ("geo:4.8e1,16", "no geo URI"),
        ("geo:48.,16", "no geo URI"),
        ("geo:48, 16", "no geo URI"),
        ("geo:", "no geo URI"),
    ],
)
def test_geo_uris_that_the_standard_does_not_know(text: str, hint: str) -> None:
    with pytest.raises(AxletreeError, match=hint) as caught:
        parse_location(text)
    assert "\n" not in str(caught.value)


@pytest.mark.parametrize(
    "text",
    [
        "38°34′15″N 7°54′36″W",
        "38°34'15\"N, 7°54'36\"W",
        "38° 34′ 15″ N, 7° 54′ 36″ W",
        "38°34'15''N 7°54'36''W",
        "38 34 15 N 7 54 36 W",
        "38 34 15 n, 7 54 36 w",
        "N38 34 15 W7 54 36",
        "N 38° 34.25′, W 7° 54.6′",
        "7°54′36″W 38°34′15″N",
        "38:34:15N 7:54:36W",
        "38:34:15, -7:54:36",
        "38 34 15 -7 54 36",
        "+38 34.25 -7 54.6",
        "38d34m15s N 7d54m36s W",
        "38 deg 34 min 15 sec N 7 deg 54 min 36 sec W",
        "38.5708333333 -7.91",
        "38.5708333333,-7.91",
        "38.5708333333; -7.91",
        "38.5708333333°, −7.91°",
        "38.5708333333N 7.91W",
    ],
)
def test_writings_of_one_place(text: str) -> None:
    latitude, longitude, elevation = parse_location(text)
    assert latitude == pytest.approx(EVORA[0], abs=1e-9)
    assert longitude == pytest.approx(EVORA[1], abs=1e-9)
    assert elevation is None


@pytest.mark.parametrize(
    ("text", "elevation"),
    [
        ("38.57, -7.91, 300", 300.0),
        ("38.57 -7.91 300", 300.0),
        ("38.57 -7.91 300 m", 300.0),
        ("38.57, -7.91, 1000 ft", 304.8),
        ("38°34′12″N 7°54′36″W 300 m", 300.0),
        ("38°34′12″N, 7°54′36″W, -5 m", -5.0),
        ("N 38.57 W 7.91, 300 metres", 300.0),
    ],
)
def test_an_elevation_may_follow(text: str, elevation: float) -> None:
    latitude, longitude, found = parse_location(text)
    assert (latitude, longitude) == pytest.approx((38.57, -7.91))
    assert found == pytest.approx(elevation)


def test_the_southern_and_western_sides_and_minus_zero() -> None:
    assert parse_location("44 0 17 S 170 28 38 E")[0] == pytest.approx(-44.0047, abs=1e-4)
    assert parse_location("-0 30 0, -0 15 0") == (-0.5, -0.25, None)
    assert parse_location("33.9 s, 18.4 e")[:2] == (-33.9, 18.4)


@pytest.mark.parametrize(
    ("text", "hint"),
    [
        ("95, 0", "latitude 95"),
        ("-90.0001, 0", "latitude"),
        ("0, 181", "longitude 181"),
        ("91 N 0 E", "latitude 91"),
        ("38 60 0 N 7 0 0 W", "less than 60"),
        ("38 0 60 N 7 0 0 W", "less than 60"),
        ("10 N 20 N", "one of N, S and one of E, W"),
        ("-38 N 7 W", "both a sign and a letter"),
        ("38.5 30 N 7 W", "only the last figure"),
        ("38,57 -7,91", "no angle"),
        ("38.57", "can't be read"),
        ("", "can't be read"),
        ("Évora", "can't be read"),
        ("nan, nan", "can't be read"),
        ("10, 20, high", "no elevation"),
        ("1, 2, 3, 4", "can't be read"),
        ("1e1, 2", "can't be read"),
    ],
)
def test_what_is_refused(text: str, hint: str) -> None:
    with pytest.raises(AxletreeError, match=hint) as caught:
        parse_location(text)
    assert "\n" not in str(caught.value)


@given(st.floats(-90, 90), st.floats(-180, 180))
def test_decimal_figures_come_back(latitude: float, longitude: float) -> None:
    found = parse_location(f"{latitude:.9f}, {longitude:.9f}")
    assert found[0] == pytest.approx(latitude, abs=1e-9)
    assert found[1] == pytest.approx(longitude, abs=1e-9)


@given(st.text(max_size=40))
def test_no_text_breaks_it(text: str) -> None:
    try:
        latitude, longitude, _ = parse_location(text)
    except AxletreeError:
        return
    assert abs(latitude) <= 90
    assert abs(longitude) <= 180
