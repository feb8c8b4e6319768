"""Which objects are worth a stop: ranked with reasons, pinned, excluded, by theme, none twice."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, date, datetime

import numpy as np
import pytest

from axletree.evening.objects.choosing import (
    Chosen,
    Selection,
    choose_candidates,
)
from axletree.evening.objects.not_offered import NotShown, Omission
from axletree.evening.objects.varied_again import varied_again
from axletree.evening.offered.candidates import THEME_OF_KIND
from axletree.evening.seeing.eyepiece import views_of
from axletree.evening.seeing.sky_brightness import sky_state
from axletree.evening.sheet.plan import EveningRequest, plan_evening, prepare
from axletree.kit.errors import AxletreeError
from axletree.kit.kit import Kit, demo_kit
from axletree.sky.arrays import Mask
from axletree.sky.catalogue.objects import SkyObject
from axletree.sky.directions import separation_deg
from axletree.sky.observer import observer_of
from axletree.sky.time.instants import Instants
from axletree.tell.seeing.text import why_words

KIT = demo_kit("courtyard")
DUSK = datetime(2026, 12, 5, 18, tzinfo=KIT.site.zone)


UNDER_TOWN = KIT.model_copy(
    update={"site": KIT.site.model_copy(update={"sky_brightness_mag_arcsec2": 18.8})}
)


def changed(**habits: object) -> Kit:
    return KIT.model_copy(update={"habits": KIT.habits.model_copy(update=habits)})


def chosen(kit: Kit = KIT, *, at: datetime = DUSK, moonlight: bool = True, **options) -> Chosen:
    observer = observer_of(kit.site)
    instants = Instants.grid(at, count=9, step_s=1200.0)
    sky = sky_state(kit, observer, instants)
    if not moonlight:
        sky = replace(sky, moon_altitude_deg=np.full(9, -30.0))
    return choose_candidates(kit, observer, instants, sky, **options)


def test_every_candidate_has_its_reason_and_an_eyepiece_of_the_kit() -> None:
    found = chosen()
    labels = set(views_of(KIT).labels)
    assert len(found.candidates) == 40
    for candidate in found.candidates:
        assert candidate.eyepiece in labels
        why = why_words(candidate)
        assert why.endswith(".")
        assert len(why) > 8
        assert 0.0 < candidate.value <= 100.0
    values = [c.value for c in found.candidates]
    assert values == sorted(values, reverse=True)
    assert found.shows.shape == (40, 9)
    assert found.shows.any(axis=1).all()


def test_themes_lift_what_the_person_asked_for() -> None:
    plain = [c.thing.kind for c in chosen().candidates[:15]]
    themed = [c.thing.kind for c in chosen(changed(themes=("doubles",))).candidates[:15]]
    assert themed.count("double star") > 10 > plain.count("double star")


def test_pins_exclusions_and_what_was_seen_lately() -> None:
    names = [c.thing.name for c in chosen().candidates]
    assert names[0] != "M33"
    kit = changed(must_see=("M33",), exclude=(names[0], "M45"))
    found = chosen(kit)
    again = [c.thing.name for c in found.candidates]
    assert again[0] == "M33"
    assert found.candidates[0].must
    assert not {names[0], "M45"} & set(again)
    assert Omission("M45", NotShown.EXCLUDED) in found.left_out
    seen = chosen(
        selection=Selection(seen_ids=frozenset([chosen().candidates[0].thing.catalogue_id]))
    )
    assert seen.candidates[0].thing.name != names[0]
    for key, words in (("must_see", "Nowhere"), ("exclude", "Nothing")):
        with pytest.raises(AxletreeError, match=key):
            chosen(changed(**{key: (words,)}))
    with pytest.raises(AxletreeError, match="Sun is no stop"):
        chosen(changed(must_see=("Sun",)))


def test_nothing_is_offered_twice() -> None:
    things = [
        c.thing
        for c in chosen(selection=Selection(most=40)).candidates
        if c.thing.ra_deg is not None
    ]
    ra = np.array([t.ra_deg for t in things])
    dec = np.array([t.dec_deg for t in things])
    apart = separation_deg(ra[:, None], dec[:, None], ra[None], dec[None])
    np.fill_diagonal(apart, 90.0)
    assert apart.min() > 0.015


FULL_MOON = datetime(2027, 1, 22, 19, 30, tzinfo=KIT.site.zone)


def test_people_who_come_once_get_the_full_moon() -> None:
    """Everybody asks for the Moon; whoever is out alone leaves a full one aside (common practice,
    no source)."""
    places = {}
    for audience in ("family", "public", "alone"):
        found = chosen(changed(audience=audience), at=FULL_MOON).candidates
        places[audience] = [c.thing.catalogue_id for c in found].index("moon")
    assert max(places["family"], places["public"]) < 8
    assert places["alone"] > 12


def test_the_moon_is_blamed_where_it_hides_an_object_and_only_there() -> None:
    def faint(**when) -> dict[str, bool]:
        omitted = chosen(**when).left_out
        return {o.name: o.by_moon for o in omitted if o.why is NotShown.TOO_FAINT}

    under, without = faint(at=FULL_MOON), faint(at=FULL_MOON, moonlight=False)
    assert any(under.values())
    assert {name for name, by_moon in under.items() if not by_moon} == set(without)
    thin = faint(at=datetime(2027, 4, 7, 20, 30, tzinfo=KIT.site.zone), kit=UNDER_TOWN)
    assert thin
    assert not any(thin.values())  # 1 % lit, and down at 20:55


def test_the_skyline_hides_what_it_hides() -> None:
    """With a wall of 60 degrees all around only what stands higher is left."""
    found = chosen(skyline=lambda azimuth: np.full(np.shape(azimuth), 60.0))
    assert (found.places.altitude_deg.max(axis=1) > 60.0).all()


def test_own_object_becomes_a_stop() -> None:
    own = SkyObject("Our comet", "comet", 10.0, 41.0, magnitude_v=5.0, size_major_arcmin=10.0,
                    size_minor_arcmin=10.0, catalogue_id="own:Our comet")  # fmt: skip
    kit = changed(must_see=("Our comet",))
    made = plan_evening(
        kit,
        observer_of(kit.site),
        EveningRequest(DUSK.date(), made_at=DUSK, own=(own,), effort="thorough"),
    )
    stop = next(s for s in made.stops if s.name == "Our comet")
    assert stop.promised
    # The slow way proves the evening's order or says how far it may be from the best.
    assert made.order.method in ("bounded", "exact")
    assert made.order.gap_percent is not None
    assert 0.0 <= made.order.gap_percent < 3.0
    assert made.order.proven_best == (made.order.gap_percent == 0.0)


def test_what_the_mount_does_not_reach_makes_no_neighbour_dull() -> None:
    """The best cluster loses nothing and the next ones do; without the best the next is it."""
    kit = demo_kit()
    asked = EveningRequest(date(2026, 12, 5), datetime(2026, 1, 1, tzinfo=UTC))
    chosen = prepare(kit, observer_of(kit.site), asked).chosen
    assert chosen is not None
    of_theme = {
        k for k, c in enumerate(chosen.candidates)
        if THEME_OF_KIND.get(c.thing.kind) == "clusters" and not c.must
    }  # fmt: skip

    def ranked(opens: Mask) -> list[int]:
        found = varied_again(kit, chosen.candidates, opens)
        return sorted(of_theme, key=lambda k: (not opens[k], -found[k].worth.differs))

    opens = np.ones(len(chosen.candidates), dtype=np.bool_)
    best, second, third = ranked(opens)[:3]
    found = varied_again(kit, chosen.candidates, opens)
    assert [found[k].worth.differs for k in (best, second, third)] == [100.0, 75.0, 55.0]
    opens[best] = False
    assert ranked(opens)[:2] == [second, third]
    assert varied_again(kit, chosen.candidates, opens)[second].worth.differs == 100.0
