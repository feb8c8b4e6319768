"""Skyline files: what is understood, and that a stranger's kit reads nothing but its own folder."""

from __future__ import annotations

import math
from datetime import UTC, datetime
from pathlib import Path

import pytest

from axletree.ground.skyline.of_site import horizon_of, inside, points_of, site_horizon
from axletree.kit.errors import AxletreeError
from axletree.kit.parts.site import Site, Skyline
from axletree.tell.skyline.text import skyline_words

WHEN = datetime(2026, 12, 5, 20, tzinfo=UTC)


@pytest.mark.parametrize(
    "text",
    [
        "azimuth,altitude\n10,2.5\n200,3\n",
        "10;2,5\n200;3\n",
        "10\t2.5\n\n200\t3\n",
        "# walked on Sunday\n10 2,5   # the barn\n200 3\n",
        "10, 2.5\n200, 3\n",
        "azimuth_deg;altitude_deg\r\n10;2.5\r\n200;3\r\n",
        "\ufeffBearing, Incline\n10, 2.5\n200, 3\n",
        "altitude,azimuth\n2.5,10\n3,200\n",
        "azimuth altitude  # degrees\n10 2.5\n200 3\n",
        "10°,2.5°\n200°,3°\n",
    ],
)
def test_columns_that_are_understood(text: str) -> None:
    assert points_of(text) == ([10.0, 200.0], [2.5, 3.0])


def test_an_empty_altitude_is_not_known() -> None:
    azimuths, altitudes = points_of("10,2\n20,\n30,?\n40,−1\n")
    assert azimuths == [10, 20, 30, 40]
    assert math.isnan(altitudes[1])
    assert math.isnan(altitudes[2])
    assert altitudes[3] == -1.0


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("10,2\nhere,3\n", "skyline line 2, azimuth: 'here' is not a number"),
        ("10,2,3\n", "line 1: 3 cells, but there are 2 columns"),
        ("10,91\n", "line 1, altitude: 91 must lie between -90 and 90"),
        ("400,3\n", "line 1, azimuth: 400 must lie between -360 and 360"),
        ("# walked\n\nnan,3\n1,2\n", "line 3: no column 'nan'"),
        ("x,height\n1,2\n", "line 1: no column 'x'; known: azimuth,"),
        ("altitude\n3\n", "line 2, azimuth: is missing"),
        ("10,inf\n", "line 1, altitude: 'inf' is not a number"),
        ("azimuth,altitude\n", "column names but no rows"),
        ("", "empty, no rows; .* such as azimuth,altitude"),
    ],
)
def test_what_is_refused_names_the_line(text: str, words: str) -> None:
    with pytest.raises(AxletreeError, match=words):
        points_of(text)


def test_points_and_file_together(tmp_path: Path) -> None:
    (tmp_path / "walk.csv").write_text("90,5\n180,6\n")
    skyline = Skyline(points=((0, 1), (270, 2)), file="walk.csv")
    line = horizon_of(skyline, tmp_path)
    assert line.altitude_at([0, 90, 180, 270]).tolist() == pytest.approx([1, 5, 6, 2])


@pytest.mark.parametrize(
    "name",
    ["/etc/passwd", "../secret.csv", "sub/../../secret.csv", "C:\\secret.csv", "\\secret.csv",
     "..\\secret.csv", "", "  ", "a\0b", "//host/share/x.csv"],
)  # fmt: skip
def test_no_file_outside_the_kits_folder(tmp_path: Path, name: str) -> None:
    home = tmp_path / "kit"
    (home / "sub").mkdir(parents=True)
    (tmp_path / "secret.csv").write_text("1,2\n")
    with pytest.raises(AxletreeError):
        inside(name, home)


def test_a_link_that_leads_out_is_refused(tmp_path: Path) -> None:
    home = tmp_path / "kit"
    home.mkdir()
    (tmp_path / "secret.csv").write_text("1,2\n")
    (home / "walk.csv").symlink_to(tmp_path / "secret.csv")
    with pytest.raises(AxletreeError, match="leads out"):
        inside("walk.csv", home)


def test_other_refusals(tmp_path: Path) -> None:
    with pytest.raises(AxletreeError, match="no folder"):
        inside("walk.csv", None)
    with pytest.raises(AxletreeError, match="no such file"):
        inside("walk.csv", tmp_path)
    (tmp_path / "dir").mkdir()
    with pytest.raises(AxletreeError, match="not a file"):
        inside("dir", tmp_path)
    (tmp_path / "large.csv").write_bytes(b"1,2\n" * 60_000)
    with pytest.raises(
        AxletreeError, match=r"^skyline file 'large\.csv': larger than 200 kB, not a skyline$"
    ):
        horizon_of(Skyline(file="large.csv"), tmp_path)
    (tmp_path / "binary.csv").write_bytes(b"\xff\xfe\x00\x80")
    with pytest.raises(AxletreeError, match="UTF-8"):
        horizon_of(Skyline(file="binary.csv"), tmp_path)


def test_magnetic_points_of_a_kit_follow_the_local_field() -> None:
    """Lake Tekapo, 2026.9: the needle points about 24.8 degrees east (WMM2025, row M29's kind)."""
    site = Site(
        latitude_deg=-44.0, longitude_deg=170.5, time_zone="Pacific/Auckland",
        skyline=Skyline(points=((0, 1), (90, 2), (180, 30), (270, 4)), bearings="magnetic"),
    )  # fmt: skip
    line = site_horizon(site, None, WHEN)
    assert float(line.altitude_at(180 + 24.76)) == pytest.approx(30.0, abs=0.05)
    with pytest.raises(AxletreeError, match="declination"):
        horizon_of(site.skyline, None)


def test_a_compass_walk_in_a_blackout_zone_is_not_trusted() -> None:
    site = Site(
        latitude_deg=86.5, longitude_deg=165.0, time_zone="UTC",
        skyline=Skyline(points=((0, 1), (90, 2)), bearings="magnetic"),
    )  # fmt: skip
    horizon = site_horizon(site, None, WHEN)
    assert horizon.compass_zone == "blackout"
    assert any("blackout zone" in words for words in skyline_words(horizon))
