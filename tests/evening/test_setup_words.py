"""Do the set-up lines say what the kit, the balance and the tripod of the same kit say?"""

from __future__ import annotations

from axletree.evening.setup_words import _level_words as level_words
from axletree.evening.setup_words import _mass as mass_words
from axletree.kit.kit import check_text, demo_kit
from axletree.kit.new import new_kit_text


def test_the_leg_line_follows_the_legs_of_the_kit() -> None:
    away, _ = check_text(new_kit_text(place="Quito"))
    assert away is not None
    assert away.mount.tripod.leg_directions_deg == (60.0, 180.0, 300.0)
    assert level_words(away)[0].startswith("One leg away from the pole;")
    assert level_words(demo_kit("courtyard"))[0].startswith("One leg towards the pole;")


def test_masses_stand_in_the_persons_units() -> None:
    kit = demo_kit("courtyard")
    us = kit.model_copy(update={"habits": kit.habits.model_copy(update={"units": "us"})})
    # 0.45359237 kg to the avoirdupois pound (NIST Special Publication 811, appendix B).
    assert (mass_words(kit, 5.1), mass_words(us, 5.1)) == ("5.1 kg", "11.2 lb")


def test_the_axis_is_set_when_its_star_shows_in_the_south_too() -> None:
    # sigma Octantis is 5.4 mag: it needs a darker sky than Polaris (common practice, no source).
    from datetime import UTC, date, datetime

    from axletree.commands.common import observer_of
    from axletree.evening.plan import plan_evening
    from axletree.sky.bodies import body_positions
    from axletree.sky.time import Instants

    kit = demo_kit("paddock")
    observer = observer_of(kit.site)
    made = plan_evening(
        kit, observer, date(2026, 12, 5), made_at=datetime(2026, 12, 1, tzinfo=UTC)
    )
    pole = next(stage for stage in made.stages if stage.name == "pole")
    shows = made.darkness.pole_star_visible
    assert shows is not None
    assert abs((pole.begin - shows).total_seconds()) <= 1
    sun = body_positions("sun", Instants.from_datetime(pole.begin), observer)
    assert sun.altitude_true_deg[0, 0] < -11.9
    # The push that tips the courtyard's rig stands in the balance stage, under a child's 50 N.
    assert made.balance.push_to_tip_n < 50
    balance = next(stage for stage in made.stages if stage.name == "balance")
    assert any("leaning child" in caution for caution in balance.cautions)
