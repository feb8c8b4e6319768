"""Does a name, however typed, lead to its object, and a wrong one to help?"""

from __future__ import annotations

import subprocess
import sys

import pytest

from axletree.kit.errors import AxletreeError
from axletree.sky.catalogue.objects import find


@pytest.mark.parametrize(
    ("text", "identifier"),
    [
        ("Vega", "HIP 91262"),
        ("  vEGA ", "HIP 91262"),
        ("alpha Lyr", "HIP 91262"),
        ("Alpha Lyrae", "HIP 91262"),
        ("alf Lyr", None),
        ("alp lyr", "HIP 91262"),
        ("α Lyrae", "HIP 91262"),
        ("α Lyr", "HIP 91262"),
        ("3 Lyrae", "HIP 91262"),
        ("HIP 91262", "HIP 91262"),
        ("hip91262", "HIP 91262"),
        ("the Ori", "HIP 26221"),
        ("tet Ori", "HIP 26221"),
        ("omi Cet", "HIP 10826"),
        ("d Cen", "HIP 65936"),
        ("D Cen", "HIP 59654"),
        ("n car", "HIP 31407"),
        ("R Lep", "HIP 23203"),
        ("r leporis", "HIP 23203"),
        ("α² Cap", "HIP 100064"),
        ("alpha2 Cap", "HIP 100064"),
        ("Alpha Centauri", "HIP 71683"),
        ("β Cygni", "HIP 95947"),
        ("theta Ori", "HIP 26221"),
        ("61 Cyg", "HIP 104214"),
        ("TX Psc", "HIP 117245"),
        ("mu Cephei", "HIP 107259"),
        ("Deneb Algedi", "HIP 107556"),
        ("M31", "NGC 224"),
        ("m 31", "NGC 224"),
        ("Messier 31", "NGC 224"),
        ("NGC 224", "NGC 224"),
        ("ngc224", "NGC 224"),
        ("NGC 0224", "NGC 224"),
        ("NGC-224", "NGC 224"),
        ("UGC 454", "NGC 224"),
        ("IC 434", "IC 434"),
        ("Melotte 22", "Mel 22"),
        ("Cr 399", "Cr 399"),
        ("Sh2-155", "Sh2-155"),
        ("barnards galaxy", "NGC 6822"),
        ("Xi UMa", "Xi Ursae Majoris"),
        ("Jupiter", "jupiter"),
        ("SUN", "sun"),
        ("moon", "moon"),
    ],
)
def test_spellings(text: str, identifier: str | None) -> None:
    if identifier is None:
        with pytest.raises(AxletreeError):
            find(text)
    else:
        assert find(text).catalogue_id == identifier


def test_kinds_of_the_solar_system() -> None:
    assert find("Moon").kind == "moon"
    assert find("Sun").kind == "sun"
    planets = ("Mercury", "Venus", "Mars", "Jupiter", "Saturn", "Uranus", "Neptune")
    assert {find(name).kind for name in planets} == {"planet"}
    assert find("Saturn").ra_deg is None


@pytest.mark.parametrize(
    ("text", "hint"),
    [
        ("Vegga", "nearest: Vega"),
        ("Andromeda Galxy", "Andromeda Galaxy"),
        ("Betelguese", "Betelgeuse"),
        ("Satrun", "Saturn"),
        ("NGC 9999", "NGC 7000"),
        ("HIP 999999", "not in the star list"),
        ("HIP 1", "not in the star list"),
        ("U Car", "brighter stars only"),
        ("omega Lyr", "brighter stars only"),
        ("", "no object named"),
        ("  ", "no object named"),
        ("***", "no object named"),
    ],
)
def test_a_miss_says_what_would_be_right(text: str, hint: str) -> None:
    with pytest.raises(AxletreeError, match=hint) as caught:
        find(text)
    assert "\n" not in str(caught.value)


def test_a_star_by_name_reads_no_other_catalogue() -> None:
    """In a fresh process: neither deep sky nor pairs are parsed for a single star."""
    program = (
        "from axletree.sky.catalogue import deep_sky, doubles\n"
        "from axletree.sky.catalogue.objects import find\n"
        "assert find('Vega').name == 'Vega'\n"
        "print(deep_sky._raw.cache_info().currsize, doubles.doubles.cache_info().currsize)\n"
    )
    done = subprocess.run(
        [sys.executable, "-c", program], check=True, capture_output=True, text=True
    )
    assert done.stdout.split() == ["0", "0"]


@pytest.mark.parametrize(
    ("text", "ngc"),
    [("47 Tuc", "NGC 104"), ("47 Tucanae", "NGC 104"), ("ω Cen", "NGC 5139"),
     ("Omega Centauri", "NGC 5139"), ("omega Cen", "NGC 5139")],
)  # fmt: skip
def test_clusters_that_bear_a_stars_designation(text: str, ngc: str) -> None:
    """Bayer's omega Centauri and Bode's 47 Tucanae are globular clusters (common knowledge)."""
    assert find(text).catalogue_id == ngc


def test_a_star_keeps_all_its_other_names() -> None:
    """Bayer 1603 and Flamsteed 1725 (catalogue numbers of the brighter stars)."""
    assert find("Vega").common_names == ("α Lyrae", "3 Lyrae")
    assert find("Rigel").common_names == ("β Orionis", "19 Orionis")
