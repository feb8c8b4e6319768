"""Do the set-up lines say what the kit, the balance and the tripod of the same kit say?"""

from __future__ import annotations

from axletree.evening.setup import _level_words as level_words
from axletree.evening.setup import _mass as mass_words
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
