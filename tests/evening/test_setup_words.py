"""Do the set-up lines say what the kit, the balance and the tripod of the same kit say?"""

from __future__ import annotations

from axletree.evening.sheet.set_up import LegsTowards, level_set_up
from axletree.kit.kit import check_text, demo_kit
from axletree.kit.writing.template import new_kit_text
from axletree.tell.evening.data import evening_document
from axletree.tell.shared.words import mass as mass_words


def test_the_leg_line_follows_the_legs_of_the_kit() -> None:
    away, _ = check_text(new_kit_text(place="Quito"))
    assert away is not None
    assert away.mount.tripod.leg_directions_deg == (60.0, 180.0, 300.0)
    assert level_set_up(away).legs is LegsTowards.AWAY
    assert level_set_up(demo_kit("courtyard")).legs is LegsTowards.POLE


def test_masses_stand_in_the_persons_units() -> None:
    # 0.45359237 kg to the avoirdupois pound (NIST Special Publication 811, appendix B).
    assert (mass_words(5.1, "metric"), mass_words(5.1, "us")) == ("5.1 kg", "11.2 lb")


def test_the_axis_is_set_when_its_star_shows_in_the_south_too() -> None:
    # sigma Octantis is 5.4 mag: it needs a darker sky than Polaris (common practice, no source).
    from datetime import UTC, date, datetime

    from axletree.evening.sheet.plan import EveningRequest, plan_evening
    from axletree.sky.observer import observer_of
    from axletree.sky.positions.bodies import body_positions
    from axletree.sky.time.instants import Instants

    kit = demo_kit("paddock")
    observer = observer_of(kit.site)
    made = evening_document(
        plan_evening(
            kit,
            observer,
            EveningRequest(date(2026, 12, 5), made_at=datetime(2026, 12, 1, tzinfo=UTC)),
        )
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


def test_what_balance_cannot_reach_is_said_as_the_balance_itself_says_it() -> None:
    from axletree.evening.sheet.set_up import balance_answer
    from axletree.kit.kit import demo_text
    from axletree.stages.set_up.balance import BalanceRequest, balance
    from axletree.tell.balance.text import balance_text
    from axletree.tell.set_up.text import lack_words

    heavy, _ = check_text(demo_text().replace("mass_kg = 5.2", "mass_kg = 15.5", 1))
    assert heavy is not None
    words = " ".join(lack_words(balance_answer(heavy), "metric"))
    assert "the weights cannot balance this tube: too little by" in words
    assert "more than its" in words
    # A rail of a centimetre: a load in front pulls the tube back, one behind pulls it forward.
    kit = demo_kit()
    ways = set()
    for from_front in (0.0, kit.tube.length_mm):
        load = f'[[tube.accessory]]\nname = "load"\nmass_kg = 1.5\nfrom_front_mm = {from_front}\n'
        text = demo_text().replace("[tube.finder]", load + "\n[tube.finder]", 1)
        loaded, problems = check_text(text)
        assert loaded is not None, problems
        tube = loaded.tube.model_copy(update={"dovetail_length_mm": 10.0})
        loaded = loaded.model_copy(update={"tube": tube})
        (said,) = (w for w in lack_words(balance_answer(loaded), "metric") if "dovetail" in w)
        whole = " ".join(balance_text(balance(loaded, BalanceRequest())).split())
        way = said.rsplit(" ", 1)[1]
        assert f"too short to slide the tube far enough {way}:" in whole
        ways.add(way)
    assert ways == {"back", "forward"}
