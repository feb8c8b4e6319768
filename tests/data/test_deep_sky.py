"""Is the deep-sky list whole, and are the known slips of its source mended?"""

from __future__ import annotations

import numpy as np
import pytest

from axletree.sky.catalogue.objects import deep_sky, deep_sky_object, find


def test_all_110_messier_objects_are_there_once() -> None:
    """Messier's list with its later additions has 110 numbers (common practice, no source)."""
    found = [find(f"M{number}") for number in range(1, 111)]
    assert [one.messier for one in found] == [f"M{number}" for number in range(1, 111)]
    assert len({one.catalogue_id for one in found}) == 110
    assert all(one.magnitude_v is not None for one in found)
    assert sum(deep_sky().messier != "") == 110


def test_messier_kinds_as_counted() -> None:
    """40 galaxies, 29 globular clusters, 4 planetary nebulae, 1 supernova remnant (common
    practice, no source)."""
    table = deep_sky()
    kinds = table.kind[table.messier != ""].tolist()
    assert kinds.count("galaxy") == 40
    assert kinds.count("globular cluster") == 29
    assert kinds.count("planetary nebula") == 4
    assert kinds.count("supernova remnant") == 1


@pytest.mark.parametrize(
    ("name", "hours", "degrees", "v"),
    [
        ("M1", 5 + 34.5 / 60, 22.02, 8.4),
        ("M13", 16 + 41.7 / 60, 36.46, 5.8),
        ("M31", 0 + 42.7 / 60, 41.27, 3.4),
        ("M33", 1 + 33.9 / 60, 30.66, 5.7),
        ("M42", 5 + 35.3 / 60, -5.39, 4.0),
        ("M44", 8 + 40.4 / 60, 19.67, 3.1),
        ("M45", 3 + 47.0 / 60, 24.12, 1.2),
        ("M51", 13 + 29.9 / 60, 47.20, 8.4),
        ("M57", 18 + 53.6 / 60, 33.03, 8.8),
        ("M83", 13 + 37.0 / 60, -29.87, 7.5),
        ("M104", 12 + 40.0 / 60, -11.62, 8.6),
        ("NGC 104", 0 + 24.1 / 60, -72.08, 4.0),
        ("NGC 5139", 13 + 26.8 / 60, -47.48, 3.7),
        ("NGC 3372", 10 + 45.1 / 60, -59.87, 3.0),
        ("NGC 7000", 20 + 58.8 / 60, 44.33, 4.0),
        ("NGC 4755", 12 + 53.6 / 60, -60.35, 4.2),
        ("NGC 869", 2 + 19.0 / 60, 57.13, 5.3),
        ("NGC 7293", 22 + 29.6 / 60, -20.84, 7.3),
    ],
)
def test_positions_and_magnitudes_as_handbooks_have_them(
    name: str, hours: float, degrees: float, v: float
) -> None:
    """J2000 positions and V in observing handbooks (from memory): 0.25 degree for large objects
    whose middle is a matter of taste, 0.5 mag."""
    one = find(name)
    assert one.ra_deg is not None
    assert one.dec_deg is not None
    assert one.magnitude_v is not None
    off = np.hypot((one.ra_deg - hours * 15) * np.cos(np.radians(degrees)), one.dec_deg - degrees)
    assert off < 0.25
    assert one.magnitude_v == pytest.approx(v, abs=0.5)


def test_m102_is_no_twin_of_m101() -> None:
    table = deep_sky()
    m101, m102 = find("M101"), find("M102")
    assert (m101.catalogue_id, m102.catalogue_id) == ("NGC 5457", "NGC 5866")
    near = np.hypot(table.ra_deg - m101.ra_deg, table.dec_deg - m101.dec_deg) < 1 / 60
    assert table.catalogue_id[near].tolist() == ["NGC 5457"]
    assert not np.any(table.catalogue_id == "M 102")


def test_the_flame_nebula_is_ngc_2024_and_not_ic_434() -> None:
    assert find("Flame Nebula").catalogue_id == "NGC 2024"
    assert find("NGC 2024").common_names[0] == "Flame Nebula"
    assert not any("Flame" in name for name in find("IC 434").common_names)


def test_serpens_is_one_constellation() -> None:
    table = deep_sky()
    assert find("M16").constellation == "Ser"
    assert find("M5").constellation == "Ser"
    short = set(table.constellation.tolist())
    assert len(short) == 88
    assert not {"Se1", "Se2", ""} & short


def test_a_duplicate_number_leads_to_the_object() -> None:
    """NGC 2244 and 2239, IC 11 and NGC 281, IC 4725 and M25 (the source's own identifications)."""
    assert find("NGC 2244").catalogue_id == "NGC 2239"
    assert find("IC 11").catalogue_id == "NGC 281"
    assert find("M25").catalogue_id == "IC 4725"
    table = deep_sky()
    assert not {"duplicate", "nonexistent", "Dup", "NonEx"} & set(table.kind.tolist())


def test_numbers_of_a_list_that_people_say_are_found_and_never_told() -> None:
    """'C14' is said for the double cluster, 'C80' for Omega Centauri (common practice)."""
    table = deep_sky()
    assert not [word for word in table.catalogue_id if word[:2] in ("C ", "C0", "C1")]
    for said, meant in (("C14", "Double Cluster"), ("c 80", "NGC 5139"), ("C106", "NGC 104")):
        thing = find(said)
        assert thing.catalogue_id == meant
        assert not [name for name in (thing.name, *thing.common_names) if name.startswith("C ")]


@pytest.mark.parametrize(
    ("name", "identifier"),
    [
        ("andromeda galaxy", "NGC 224"),
        ("RING NEBULA", "NGC 6720"),
        ("Dumbbell Nebula", "NGC 6853"),
        ("whirlpool galaxy", "NGC 5194"),
        ("Omega Centauri", "NGC 5139"),
        ("47 Tucanae", "NGC 104"),
        ("Jewel Box", "NGC 4755"),
        ("Tarantula Nebula", "NGC 2070"),
        ("Double Cluster", "Double Cluster"),
        ("Beehive Cluster", "NGC 2632"),
        ("Lagoon Nebula", "NGC 6523"),
        ("Sombrero Galaxy", "NGC 4594"),
        ("Horsehead Nebula", "B 33"),
        ("Large Magellanic Cloud", "ESO 56-115"),
    ],
)
def test_everyday_names(name: str, identifier: str) -> None:
    """Names in common use (common practice, no source)."""
    assert find(name).catalogue_id == identifier


def test_of_two_objects_with_one_name_the_brighter_is_meant() -> None:
    """NGC 4435 and 4438 are both called The Eyes; 4438 is the brighter (the source's own V)."""
    table = deep_sky()
    named = np.array(["The Eyes" in names for names in table.names])
    brightest = table.catalogue_id[named][np.argmin(table.magnitude_v[named])]
    assert len(table.catalogue_id[named]) == 2
    assert find("The Eyes").catalogue_id == brightest == "NGC 4438"


def test_guessed_magnitudes_are_marked_and_near() -> None:
    """Held against the objects of which both are known: half within 0.3 mag."""
    table = deep_sky()
    galaxies = table.kind == "galaxy"
    both = galaxies & np.isfinite(table.magnitude_b) & np.isfinite(table.magnitude_v)
    typical = np.median((table.magnitude_b - table.magnitude_v)[both])
    off = np.abs(table.magnitude_b - typical - table.magnitude_v)[both]
    assert np.median(off) < 0.3
    guessed = galaxies & np.isnan(table.magnitude_v) & np.isfinite(table.magnitude_b)
    np.testing.assert_allclose(
        table.magnitude_v_guess[guessed], table.magnitude_b[guessed] - typical, atol=0.011
    )
    one = deep_sky_object(int(np.flatnonzero(guessed)[0]))
    assert one.magnitude_guessed
    assert not find("M31").magnitude_guessed


def test_figures_are_in_range() -> None:
    table = deep_sky()
    assert len(table) == 13371
    assert np.all((table.ra_deg >= 0) & (table.ra_deg < 360))
    assert np.all(np.abs(table.dec_deg) <= 90)
    # Seven in ten sizes; a minor axis is never the longer one but for rounding.
    sized = np.isfinite(table.size_minor_arcmin)
    assert np.all(table.size_minor_arcmin[sized] <= table.size_major_arcmin[sized] * 1.01)
    angles = table.position_angle_deg[np.isfinite(table.position_angle_deg)]
    assert np.all((angles >= 0) & (angles <= 180))
