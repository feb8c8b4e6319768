"""What careful observers agree on: common practice, no source, written down from experience.

Practised observer, object 45 degrees high, no Moon, no filter, the best power. Of the orderings and
limits one half, drawn by a seed, was looked at while the model was made; the other half is judged.
"""

from __future__ import annotations

import numpy as np
import pytest

from axletree.evening.offered.catalogues import all_candidates
from axletree.evening.seeing.eyepiece import Views, views_of
from axletree.evening.seeing.visibility import GALAXY, Looks, margins, suiting_view
from axletree.kit.kit import Kit, demo_kit
from axletree.kit.parts.tube import LineFilter
from axletree.sky.arrays import Floats

# Easier before harder in the same telescope under the same sky.
ORDERED = (
    ("M100", "M98"), ("M101", "M74"), ("M102", "M101"), ("M106", "M109"), ("M106", "M88"),
    ("M106", "M91"), ("M106", "M95"), ("M51", "M101"), ("M61", "M74"), ("M61", "M98"),
    ("M63", "M101"), ("M63", "M95"), ("M63", "M98"), ("M65", "NGC 3628"), ("M77", "M74"),
    ("M81", "M33"), ("M82", "M58"), ("M82", "M95"), ("M83", "M101"), ("M83", "M63"), ("M94", "M51"),
    ("M96", "M95"), ("M99", "M74"), ("NGC 185", "NGC 147"), ("NGC 2403", "M74"),
    ("NGC 2403", "NGC 891"), ("NGC 253", "M33"), ("NGC 2903", "M98"), ("NGC 4449", "NGC 891"),
    ("NGC 7331", "M98"), ("NGC 7331", "NGC 891"), ("M13", "M10"), ("M13", "M4"), ("M15", "M28"),
    ("M15", "M55"), ("M22", "M28"), ("M28", "M71"), ("M2", "M28"), ("M2", "M55"), ("M30", "M71"),
    ("M3", "M28"), ("M3", "M62"), ("M80", "M71"), ("M92", "M19"), ("M92", "M28"), ("M92", "M55"),
)  # fmt: skip
APERTURES_MM, SKIES = (80.0, 150.0, 250.0), (21.7, 20.5, 19.0)
AGREES_MAG = 0.05
BARE_EYE = (7.0, 1.0)
# Aperture and power (0: the best), sky, objects, seen or not.
LIMITS = (
    (*BARE_EYE, 20.5, "M31 M45 M44 M42 M7 M6", True),
    (*BARE_EYE, 20.5, "Double_Cluster", True),
    (*BARE_EYE, 21.5, "M8 M24 NGC_3372 NGC_104 NGC_5139", True),
    (*BARE_EYE, 20.5, "M33 M101 M51", False),
    (50.0, 10.0, 20.5, "M81 M13 M3 M27 M35 M37 M41 M11 M22 M5", True),
    (80.0, 0.0, 19.0, "M57 M27 M13 M42 M11 M31", True),
    (80.0, 0.0, 19.0, "M101 M74 M33 M97 NGC_891", False),
    (150.0, 0.0, 18.0, "M42 M57 M13 M3 M11 M45 M44 M15", True),
    (150.0, 0.0, 18.0, "M101 M74 M110 M98 M91 NGC_891 M33", False),
    (150.0, 0.0, 20.5, "M106 M63 M51 M94 M64 M104 M65 M66", True),
    (250.0, 0.0, 20.5, "M101 M33 NGC_891 M74 M98", True),
)
EXIT_PUPILS_MM = np.array([7.0, 6.0, 5.0, 4.0, 3.0, 2.5, 2.0, 1.5, 1.2, 1.0])
AIRMASS = 1.41
SEED = 20261129
EVERYTHING = all_candidates(faintest_mag=np.inf)
ROWS = {
    name: row
    for row, names in reversed([*enumerate(zip(EVERYTHING.names, EVERYTHING.ids, strict=True))])
    for name in names
}


def kit_of(aperture_mm: float) -> Kit:
    kit = demo_kit("courtyard")
    tube = {"aperture_mm": aperture_mm, "obstruction_mm": 0.2 * aperture_mm}
    habits = kit.habits.model_copy(update={"observer": "practised"})
    return kit.model_copy(update={"tube": kit.tube.model_copy(update=tube), "habits": habits})


def powers_of(aperture_mm: float, power: float = 0.0) -> Views:
    powers = np.array([power]) if power else aperture_mm / EXIT_PUPILS_MM
    labels = tuple(f"{p:.0f}x" for p in powers)
    return Views(labels, powers, 60.0 / powers, aperture_mm / powers)


def looks_of_names(names: list[str]) -> Looks:
    return EVERYTHING.take(np.array([ROWS[name] for name in names])).looks


def best_margins(
    names: list[str], aperture_mm: float, sky: float, power: float = 0.0,
    filters: tuple[LineFilter, ...] = (),
) -> Floats:  # fmt: skip
    looks, kit = looks_of_names(names), kit_of(aperture_mm)
    kit = kit.model_copy(update={"tube": kit.tube.model_copy(update={"line_filters": filters})})
    found = margins(
        kit, looks, powers_of(aperture_mm, power),
        np.full((len(names), 1), sky), np.full((len(names), 1), AIRMASS),
    )  # fmt: skip
    return np.asarray(np.nanmax(found[:, :, 0], axis=0))


def right_ones() -> list[tuple[str, bool]]:
    """Every ordering at every aperture and sky, and every limit: what, and whether it is right."""
    found: list[tuple[str, bool]] = []
    for aperture in APERTURES_MM:
        for sky in SKIES:
            easier = best_margins([a for a, _ in ORDERED], aperture, sky)
            harder = best_margins([b for _, b in ORDERED], aperture, sky)
            right = easier >= harder - AGREES_MAG
            named = [f"{a} before {b}, {aperture:g} mm, {sky:g}" for a, b in ORDERED]
            found += list(zip(named, right.tolist(), strict=True))
    for aperture, power, sky, names, seen in LIMITS:
        listed = [name.replace("_", " ") for name in names.split()]
        margin = best_margins(listed, aperture, sky, power)
        named = [f"{name} seen={seen}, {aperture:g} mm, {sky:g}" for name in listed]
        found += list(zip(named, ((margin >= 0.0) == seen).tolist(), strict=True))
    return found


def test_the_half_that_was_kept_back() -> None:
    """At least 92 of 100, as careful observers would have it; before this model it was 64."""
    found = right_ones()
    assert len(found) == 46 * 9 + 64
    kept = np.random.default_rng(SEED).permutation(len(found))[len(found) // 2 :]
    wrong = [found[k][0] for k in kept if not found[k][1]]
    assert len(wrong) <= 0.08 * len(kept), wrong


@pytest.mark.parametrize("aperture", APERTURES_MM)
def test_no_margin_rises_when_the_sky_brightens(aperture: float) -> None:
    """The eyepiece is chosen first, whatever the sky; then a brighter sky shows nothing better.
    To 16.5, where a town's sky ends; beyond, the published threshold bends back by 0.01 mag."""
    kit = kit_of(aperture)
    views, looks = views_of(kit), EVERYTHING.looks
    n = len(EVERYTHING)
    chosen = suiting_view(kit, looks, views)
    air = np.full((n, 1), AIRMASS)
    at = [
        margins(kit, looks, views, np.full((n, 1), sky), air)[chosen, np.arange(n), 0]
        for sky in np.arange(22.0, 16.4, -0.5)
    ]
    steps = np.diff(np.nan_to_num(at, nan=0.0), axis=0)
    assert steps.shape[1] > 5000
    assert steps.max() <= 1e-9


def test_a_wider_tube_shows_no_less() -> None:
    """At the best power (the same beams), for whatever shows by its light."""
    names = sorted({name for pair in ORDERED for name in pair})
    at = [best_margins(names, aperture, 20.5) for aperture in (60.0, 80.0, 114.0, 150.0, 200.0)]
    assert np.diff(at, axis=0).min() > 0.0


def test_edge_on_is_not_harder() -> None:
    """A galaxy seen edge-on with the same light and length is not harder than a face-on one."""
    nan = np.full(2, np.nan)
    looks = Looks(
        np.full(2, GALAXY, dtype=np.int8), np.full(2, 9.5), np.full(2, 10.0), np.array([10.0, 2.0]),
        nan, nan, nan, nan, nan, nan, nan, nan,
    )  # fmt: skip
    for aperture in APERTURES_MM:
        found = margins(
            kit_of(aperture), looks, powers_of(aperture), np.full((2, 1), 20.5), np.ones((2, 1))
        )
        face_on, edge_on = np.nanmax(found[:, :, 0], axis=0)
        assert edge_on >= face_on


def test_a_neighbouring_hubble_type_changes_little() -> None:
    """Sb or Sbc, from one catalogue to the next: under 0.25 mag, not 1.5."""
    nan = np.full(2, np.nan)
    looks = Looks(
        np.full(2, GALAXY, dtype=np.int8), np.full(2, 9.5), np.full(2, 8.0), np.full(2, 5.0),
        nan, nan, np.full(2, 2.8), np.full(2, 0.62), np.array([2.0, 1.7]), nan, nan, nan,
    )  # fmt: skip
    found = margins(kit_of(150.0), looks, powers_of(150.0), np.full((2, 1), 20.5), np.ones((2, 1)))
    a, b = np.nanmax(found[:, :, 0], axis=0)
    assert abs(a - b) < 0.25


def test_a_line_filter_helps_clouds_of_gas_and_nothing_else() -> None:
    """Common practice, no source: planetary and emission nebulae gain, an O III filter lifts
    planetaries and the Veil most, H-beta none of these; stars and mirrored light don't gain."""
    gas = ["M27", "M57", "M97", "M76", "M8", "M17", "NGC 7000", "NGC 6992", "NGC 7293", "NGC 6888"]
    others = ["M31", "M81", "M13", "M45", "M11", "M78", "NGC 7023", "Albireo"]
    for sky in SKIES:
        bare, narrow = (
            best_margins(gas, 150.0, sky),
            best_margins(gas, 150.0, sky, filters=("narrow band",)),
        )
        assert (narrow - bare > 0.3).all()
        assert (narrow - bare < 2.5).all()
        same = best_margins(others, 150.0, sky, filters=("narrow band", "O III", "H-beta"))
        np.testing.assert_array_equal(same, best_margins(others, 150.0, sky))
    planetary = ["M27", "M57", "M97", "NGC 6992"]
    oxygen = best_margins(planetary, 150.0, 20.5, filters=("O III",))
    assert (oxygen > best_margins(planetary, 150.0, 20.5, filters=("narrow band",))).all()
    blue = best_margins(planetary, 150.0, 20.5, filters=("H-beta",))
    np.testing.assert_array_equal(blue, best_margins(planetary, 150.0, 20.5))
    # What a small telescope in the country is known for: the Owl with a filter, not without.
    assert best_margins(["M97"], 80.0, 20.5)[0] < 0.3
    assert best_margins(["M97"], 80.0, 20.5, filters=("O III",))[0] > 0.4
