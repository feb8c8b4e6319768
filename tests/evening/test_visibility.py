"""How well things show: gaps stay unknown, the words fit, the eyepiece suits, and it is quick."""

from __future__ import annotations

import time

import numpy as np
import pytest

from axletree.evening.offered.catalogues import catalogue_magnitudes
from axletree.evening.seeing.eyepiece import Extents, best_view, views_of
from axletree.evening.seeing.grades import Visibility, visibility_of
from axletree.evening.seeing.trusted import trusted_magnitude
from axletree.evening.seeing.visibility import (
    BODY,
    CLUSTER,
    EXTENDED,
    GALAXY,
    GLOBULAR,
    LIT,
    PAIR,
    POINT,
    SURE,
    Looks,
    margins,
    sort_of_kinds,
    suiting_view,
)
from axletree.kit.kit import Kit, demo_kit
from axletree.sky.catalogue.deep_sky import deep_sky
from axletree.tell.objects.text import view_words
from axletree.tell.seeing.text import visibility_words

KIT = demo_kit("courtyard")
VIEWS = views_of(KIT)


def looks(*rows: tuple[int, float, float, float, float, float]) -> Looks:
    """Rows of (sort, V, major, minor, separation, companion)."""
    columns = list(zip(*rows, strict=True))
    numbers = [np.array(column, dtype=np.float64) for column in columns[1:]]
    unknown = [np.full(len(rows), NAN)] * 6
    return Looks(np.array(columns[0], dtype=np.int8), *numbers, *unknown)


def margin_of(
    row: tuple[int, float, float, float, float, float], sky: float = 20.5, air: float = 1.2,
    kit: Kit = KIT,
) -> float:  # fmt: skip
    """The best margin over the eyepieces."""
    found = margins(kit, looks(row), views_of(kit), np.array([[sky]]), np.array([[air]]))
    return float(found[:, 0, 0].max())


NAN = float("nan")


def observed_by(who: str) -> Kit:
    habits = KIT.habits.model_copy(update={"observer": who})
    return KIT.model_copy(update={"habits": habits})


# ---------------------------------------------------------------- gaps of the catalogue


def test_what_is_not_known_stays_unknown() -> None:
    for row in (
        (EXTENDED, NAN, 10.0, 10.0, NAN, NAN),
        (EXTENDED, 8.0, NAN, NAN, NAN, NAN),
        (POINT, NAN, NAN, NAN, NAN, NAN),
        (PAIR, 3.0, NAN, NAN, 10.0, NAN),
        (PAIR, 3.0, NAN, NAN, NAN, 5.0),
    ):
        assert np.isnan(margin_of(row)), row
    assert visibility_of(NAN) is Visibility.UNKNOWN
    # A cluster without a size still has its stars; a missing shorter size is a round object.
    assert np.isfinite(margin_of((CLUSTER, 6.0, NAN, NAN, NAN, NAN)))
    assert margin_of((GLOBULAR, 6.0, 10.0, NAN, NAN, NAN)) == margin_of(
        (GLOBULAR, 6.0, 10.0, 10.0, NAN, NAN)
    )


def test_b_stands_for_v_only_where_that_is_sound() -> None:
    kinds = np.array(
        ["galaxy", "open cluster", "planetary nebula", "reflection nebula", "emission nebula",
         "globular cluster", "galaxy pair"],
        dtype=object,
    )  # fmt: skip
    n = np.full(7, NAN)
    v = trusted_magnitude(kinds, n, np.full(7, 9.2), np.full(7, 10.0))
    assert v[:2].tolist() == [9.2, 9.2]
    assert np.isnan(v[[2, 3, 5, 6]]).all()
    assert v[4] == 10.0  # lines in V: no fainter than B


def test_catalogue_slips_are_caught() -> None:
    """Facts of the sky: NGC 253 is an eighth-magnitude galaxy, IC 127 a fourteenth-magnitude one;
    the catalogue's V says 11.1 and 9.2, its own surface brightness and B say otherwise."""
    table, v = deep_sky(), catalogue_magnitudes()
    at = {str(name): k for k, name in enumerate(table.catalogue_id)}
    assert 6.5 < v[at["NGC 253"]] < 8.5
    assert v[at["IC 127"]] > 13.0
    assert v[at["NGC 224"]] == pytest.approx(3.44)
    galaxies = (table.kind == "galaxy") & np.isfinite(table.magnitude_v)
    changed = galaxies & ~(np.abs(v - table.magnitude_v) < 1e-9)
    assert 0.02 < changed.sum() / galaxies.sum() < 0.15  # most by their colour
    # Most galaxies without V have a fair guess; nebulae without one have none.
    bare = (table.kind == "galaxy") & np.isnan(table.magnitude_v)
    assert np.isfinite(v[bare]).mean() > 0.95
    by_hand = ["NGC 1788", "IC 2177"]
    dark = (table.kind == "reflection nebula") & np.isnan(table.magnitude_v)
    assert np.isnan(v[dark & ~np.isin(table.catalogue_id, by_hand)]).all()


def test_kinds() -> None:
    kinds = ["galaxy", "globular cluster", "nebula", "planetary nebula", "moon", "star"]
    assert sort_of_kinds(kinds).tolist() == [GALAXY, GLOBULAR, LIT, EXTENDED, BODY, POINT]


# ---------------------------------------------------------------- margins


def test_a_point_s_margin_is_the_limit_less_its_light() -> None:
    """One magnitude fainter is one magnitude less; one airmass more takes the extinction."""
    a, b = (margin_of((POINT, V, NAN, NAN, NAN, NAN)) for V in (8.0, 9.0))
    assert a - b == pytest.approx(1.0, abs=1e-9)
    c = margin_of((POINT, 8.0, NAN, NAN, NAN, NAN), air=2.2)
    assert a - c == pytest.approx(0.25, abs=0.02)  # 292 m, clear air


def test_moonlight_and_town_take_glows_more_than_stars() -> None:
    """Common practice: a bright sky spoils galaxies, not double stars."""
    glow = [margin_of((GALAXY, 8.4, 11.0, 7.0, NAN, NAN), sky=s) for s in (21.5, 18.0)]
    star = [margin_of((POINT, 8.4, NAN, NAN, NAN, NAN), sky=s) for s in (21.5, 18.0)]
    assert glow[0] - glow[1] > 1.7
    assert star[0] - star[1] < 1.7


def test_experience_counts() -> None:
    """A factor of 1.5 in the field factor either way is 0.44 magnitudes."""
    row = (EXTENDED, 9.0, 5.0, 5.0, NAN, NAN)
    found = [margin_of(row, kit=observed_by(who)) for who in ("newcomer", "practised", "expert")]
    assert np.diff(found) == pytest.approx([0.44, 0.44], abs=0.01)


def test_concentrated_light_shows_better() -> None:
    """M31's light in one even sheet would be lost in a suburb; gathered, it is plain there."""
    even = margin_of((EXTENDED, 3.44, 178.0, 70.0, NAN, NAN), sky=19.5)
    real = margin_of((GALAXY, 3.44, 178.0, 70.0, NAN, NAN), sky=19.5)
    assert even < 0.0 < 1.0 < real


def test_acrux_and_izar_are_split() -> None:
    """Common practice, no source: 130 mm split Acrux (4 arcseconds, equal stars), 150 mm Izar
    (2.9 arcseconds, two magnitudes apart) on an ordinary night; 60 mm do not split Izar."""
    acrux, izar = (1.3, 4.0, 1.6), (2.6, 2.9, 4.8)
    for (a, apart, b), aperture, splits in (
        (acrux, 130.0, True),
        (izar, 150.0, True),
        (izar, 60.0, False),
    ):
        tube = KIT.tube.model_copy(update={"aperture_mm": aperture, "obstruction_mm": 0.0})
        kit = KIT.model_copy(update={"tube": tube})
        assert (margin_of((PAIR, a, NAN, NAN, apart, b), kit=kit) > 0.0) is splits


def test_pairs() -> None:
    """Common practice: 150 mm in 2.5 arcseconds of seeing parts Almach (10 arcseconds), not
    Sirius (11 arcseconds, 10 magnitudes); one as wide as Mizar shows even to a newcomer."""
    almach = margin_of((PAIR, 2.1, NAN, NAN, 9.6, 4.9))
    sirius = margin_of((PAIR, -1.4, NAN, NAN, 11.0, 8.5))
    mizar = margin_of((PAIR, 2.2, NAN, NAN, 14.4, 3.9))
    assert mizar > almach > 1.0
    assert sirius < almach
    assert margin_of((PAIR, 5.0, NAN, NAN, 1.0, 5.0)) < 0.0  # the seeing
    # The companion has to show at all.
    assert margin_of((PAIR, 5.0, NAN, NAN, 30.0, 14.5)) < 0.0


def test_moon_and_planets_always_show() -> None:
    assert margin_of((BODY, NAN, NAN, NAN, NAN, NAN), sky=15.0) == SURE


def test_below_the_horizon_nothing_shows() -> None:
    found = margins(KIT, looks((POINT, 3.0, NAN, NAN, NAN, NAN)), VIEWS,
                    np.array([[20.0]]), np.array([[np.inf]]))  # fmt: skip
    assert (found < 3.0).all()


def test_twelve_thousand_objects_in_under_a_second() -> None:
    """The requirement: 12,000 objects on a coarse grid, every eyepiece, under 1 s."""
    random = np.random.default_rng(4)
    n, m = 12_000, 13
    sort = random.choice([EXTENDED, CLUSTER, POINT, PAIR, GALAXY, LIT, GLOBULAR], n)
    many = Looks(
        sort.astype(np.int8), random.uniform(3, 15, n), random.uniform(0.5, 60, n),
        random.uniform(0.5, 30, n), random.uniform(1, 60, n), random.uniform(3, 12, n),
        *random.uniform(0.5, 1.0, (4, n)), np.full(n, NAN), np.full(n, NAN),
    )  # fmt: skip
    sky, air = random.uniform(18, 21.5, (n, m)), random.uniform(1, 3, (n, m))
    began = time.process_time()
    found = margins(KIT, many, VIEWS, sky, air)
    assert time.process_time() - began < 1.0
    assert found.shape == (3, n, m)


# ---------------------------------------------------------------- words and eyepieces


def test_words_change_where_they_should() -> None:
    words = [
        visibility_words(visibility_of(m)) for m in (2.0, 1.99, 1.0, 0.99, 0.4, 0.39, 0.0, -0.01)
    ]
    assert [words[i] == words[i + 1] for i in range(7)] == [
        False, True, False, True, False, True, False,
    ]  # fmt: skip


def view_for(row: tuple[int, float, float, float, float, float], kit: Kit = KIT) -> str:
    found = looks(row)
    at = suiting_view(kit, found, VIEWS)
    return VIEWS.labels[int(at[0])]


def test_eyepieces_as_a_practitioner_chooses_them() -> None:
    """Common practice, no source: 150 mm f/5 with 25, 10 and 6 mm."""
    assert view_for((GALAXY, 3.44, 178.0, 70.0, NAN, NAN)) == "25 mm"  # M31: all the field there is
    assert view_for((CLUSTER, 1.2, 110.0, 110.0, NAN, NAN)) == "25 mm"  # M45
    assert view_for((EXTENDED, 8.8, 1.3, 1.3, NAN, NAN)) == "6 mm"  # M57: small and bright
    assert view_for((GLOBULAR, 6.2, 11.0, NAN, NAN, NAN)) == "10 mm"  # M15
    # A planet in 2.5" of seeing: some 120 to 180 times, 20 to 30 an inch of aperture.
    assert view_for((BODY, NAN, 0.3, 0.3, NAN, NAN)) == "6 mm"
    assert view_for((PAIR, 3.0, NAN, NAN, 35.0, 5.1)) == "25 mm"  # Albireo
    assert view_for((PAIR, 5.0, NAN, NAN, 2.4, 5.2)) == "6 mm"  # an arm of epsilon Lyrae
    assert view_for((POINT, 7.0, NAN, NAN, NAN, NAN)) == "25 mm"


def test_the_whole_moon_stays_in_the_field() -> None:
    """In steady air a planet takes the shortest eyepiece; the Moon would not fit into it."""
    steady = KIT.model_copy(update={"site": KIT.site.model_copy(update={"seeing_arcsec": 1.0})})
    assert view_for((BODY, NAN, NAN, NAN, NAN, NAN), kit=steady) == "6 mm"
    assert view_for((BODY, NAN, 31.0, 31.0, NAN, NAN), kit=steady) == "10 mm"


def test_views_with_a_barlow() -> None:
    """O1, O7: power F/f, exit pupil D/M; a Barlow multiplies the power."""
    from axletree.kit.parts.tube import Barlow

    kit = KIT.model_copy(update={"barlows": (Barlow(factor=2.0),)})
    views = views_of(kit)
    assert views.labels == (
        "25 mm", "25 mm with 2x Barlow", "10 mm", "6 mm", "10 mm with 2x Barlow",
        "6 mm with 2x Barlow",
    )  # fmt: skip
    assert views.magnification.tolist() == [30.0, 60.0, 75.0, 125.0, 150.0, 250.0]
    assert views.exit_pupil_mm[0] == 5.0
    # 250 times in 2.5" of seeing is too much, even for a planet.
    margin = np.full((6, 1), SURE)
    size = np.array([0.3])
    at = best_view(
        kit, views, margin,
        Extents(size, size, np.array([NAN]), glow=np.array([False]), body=np.array([True])),
    )  # fmt: skip
    assert 120.0 <= views.magnification[int(at[0])] <= 180.0


def test_view_words() -> None:
    def words(power: int, size_arcmin: float) -> str:
        pupil, field = float(VIEWS.exit_pupil_mm[power]), float(VIEWS.true_field_deg[power])
        return view_words(float(VIEWS.magnification[power]), pupil, field, size_arcmin)

    assert words(0, 178.0) == "30 times, exit pupil 5.0 mm, a field of 104′ for 178′: sweep over it"
    assert words(1, 11.0) == "75 times, exit pupil 2.0 mm, fills 26 % of the field"
    assert words(1, NAN) == "75 times, exit pupil 2.0 mm"
