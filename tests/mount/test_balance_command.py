"""`axletree balance`: one answer as text, JSON and drawings; one line for what makes no sense."""

from __future__ import annotations

import json
import re
import xml.etree.ElementTree as ET

import pytest

from axletree.cli import main
from axletree.kit.kit import check_text, demo_kit, demo_text
from axletree.kit.parts.tube import Accessory
from axletree.mount.balance.masses import tube_masses
from axletree.mount.balance.positions import STANDARD_GRAVITY_M_S2, eyepiece_named
from axletree.mount.rig.turned import turned_kit
from axletree.stages.set_up.balance import BalanceRequest, balance
from axletree.tell.balance.data import balance_data
from axletree.tell.balance.drawing import balance_drawing
from axletree.tell.balance.stand_drawing import stand_drawing
from axletree.tell.balance.text import balance_text

KITS = ("courtyard", "paddock")


def _run(capsys, *words):
    status = main(["balance", *words])
    shown = capsys.readouterr()
    return status, shown.out, shown.err


@pytest.mark.parametrize("name", KITS)
def test_json_balances_by_the_law_of_the_lever(capsys, name):
    # The weights' moments about the crossing against those of tube and head: statics of the lever.
    status, out, _ = _run(capsys, "--kit", name, "--json")
    assert status == 0
    data = json.loads(out)
    kit = demo_kit(name)
    head = kit.mount.head
    labels = {e.label: e.mass_kg for e in kit.eyepieces}
    tube = tube_masses(kit, labels[data["eyepiece"]], data["tube_balance_from_front_mm"])
    hangs = sum(w["mass_kg"] * w["position_mm"] for w in data["weights"])
    shaft = head.shaft_mass_kg * (head.shaft_start_mm + head.shaft_length_mm / 2)
    moving = head.moving_mass_kg * (head.saddle_distance_mm - head.shaft_start_mm) / 2
    carried = float(tube.moment_kg_m[2]) * 1000
    assert hangs + shaft == pytest.approx(carried + moving, rel=1e-9)
    assert data["balanced"] is True
    for w in data["weights"]:
        face = w["position_mm"] - w["thickness_mm"] / 2 - head.shaft_start_mm
        assert w["gap_mm"] == pytest.approx(face)
    tipping = data["tipping"]
    assert tipping["too_easy"] == (tipping["push_n"] < 50)
    assert {r["kind"] for r in tipping["remedies"]} == {"tray", "wider", "lower", "shorter"}
    assert data["order_of_work"]
    assert data["cautions"]


@pytest.mark.parametrize("name", KITS)
def test_text_fits_the_page_and_says_the_main_things(capsys, name):
    status, out, _ = _run(capsys, "--kit", name)
    assert status == 0
    assert max(len(line) for line in out.splitlines()) <= 80
    assert re.match(r"Weights: [\d.]+ kg \d+ mm from the start of the shaft; tube: clamped", out)
    for words in ("Weights on before the tube, tube off before the weights", "Locks held",
                  "safety screw", "leaning child", "organiser's", "our own figure"):  # fmt: skip
        assert words in out.replace("\n    ", " ").replace("\n", " "), words


def test_scale_reading_is_answered_first(capsys):
    _, out, _ = _run(
        capsys, "--kit", "paddock", "--scale", "hour", "tube", "0.8kg", "300mm",
        "--on-shaft", "3.4@100", "--scale", "declination", "front", "5N", "250mm",
    )  # fmt: skip
    # 0.8 kg at 300 mm over 3.4 kg is 71 mm; 5 N at 250 mm over 3.58 kg is 36 mm (the lever).
    words = " ".join(out.split())
    assert "move all weights 71 mm out" in words
    assert "slide the tube 36 mm back" in words
    assert out.startswith("From what the scale says")


@pytest.mark.parametrize(
    "words",
    [
        ("--kit", "paddock", "--now", "5000"),
        ("--kit", "paddock", "--now", "nan"),
        ("--kit", "paddock", "--tray", "-1"),
        ("--kit", "paddock", "--tray", "nan"),
        ("--kit", "paddock", "--ring-turn", "inf"),
        ("--kit", "paddock", "--eyepiece", "99"),
        ("--kit", "paddock", "--scale", "hour", "up", "1kg", "300mm"),
        ("--kit", "paddock", "--scale", "hour", "tube", "1", "300mm"),
        ("--kit", "paddock", "--scale", "hour", "tube", "1kg", "0mm"),
        ("--kit", "paddock", "--scale", "hour", "tube", "1kg", "300mm", "--on-shaft", "9@1"),
        ("--kit", "nowhere.toml"),
    ],
)
def test_bad_input_is_one_line_and_status_two(capsys, words):
    status, out, err = _run(capsys, *words)
    assert status == 2
    assert out == ""
    assert err.count("\n") == 1
    assert "Traceback" not in err


def test_a_kit_with_no_weights_gives_one_line(capsys, tmp_path):
    text = demo_text("paddock")
    first = text.index("[[mount.weight]]")
    text = text[:first] + text[text.index("[tube]") :]
    file = tmp_path / "bare.toml"
    file.write_text(text.replace('motion = "motor"', 'motion = "motor"\nweight = []', 1))
    status, out, err = _run(capsys, "--kit", str(file))
    assert (status, out) == (2, "")
    assert "no counterweights" in err
    assert err.count("\n") == 1


def _edited(old, new, name="courtyard"):
    text = demo_text(name)
    assert old in text
    kit, problems = check_text(text.replace(old, new, 1))
    assert kit is not None, problems
    return kit


def test_not_enough_weight_is_said_with_what_is_missing():
    kit = _edited("mass_kg = 5.2", "mass_kg = 15.5")
    report = balance(kit, BalanceRequest())
    words = " ".join(balance_text(report).split())
    assert "That is not enough" in words
    assert "more at the shaft's end would do" in words
    assert "MORE than it is rated for" in words
    data = balance_data(report)
    assert data["balanced"] is False
    end_m = (kit.mount.head.shaft_start_mm + kit.mount.head.shaft_length_mm) / 1000
    # Hung at the end, that mass closes the gap (the lever).
    closes = data["missing_at_end_kg"] * end_m * STANDARD_GRAVITY_M_S2
    assert closes == pytest.approx(data["weights_short_by_nm"])
    assert "do not balance" in balance_drawing(report)


def test_too_much_weight_is_said():
    kit = _edited("mass_kg = 3.1", "mass_kg = 0.35", "paddock")
    report = balance(kit, BalanceRequest())
    assert report.balance.loading.leftover_kg_m < 0 or not report.balance.loading.mass_kg
    words = " ".join(balance_text(report).split())
    assert "too much" in words or "too heavy" in words or "not enough" in words


def test_a_turned_newtonian_turns_all_that_rides_on_it():
    kit = demo_kit("courtyard")
    turned = turned_kit(kit, 40.0)
    assert turned.tube.finder.angle_deg == kit.tube.finder.angle_deg + 40
    lens = turned_kit(demo_kit("paddock"), 40.0)
    assert lens.tube.finder.angle_deg == demo_kit("paddock").tube.finder.angle_deg
    assert lens.tube.ring_turn_deg == 40.0


def test_eyepieces_by_name():
    kit = demo_kit("paddock")
    assert eyepiece_named(kit, "9") == eyepiece_named(kit, "9 mm") == ("9 mm", 0.18)
    assert eyepiece_named(kit, "camera")[1] == 0.5


@pytest.mark.parametrize("name", KITS)
@pytest.mark.parametrize("draw", [balance_drawing, stand_drawing])
def test_drawings_are_whole_and_escaped(name, draw):
    kit = demo_kit(name).model_copy(update={"name": "<b>& 'x'"})
    svg = draw(balance(kit, BalanceRequest()))
    root = ET.fromstring(svg)
    words = [t.text or "" for t in root.iter("{http://www.w3.org/2000/svg}text")]
    assert "<b>& 'x'" in words
    assert "nan" not in svg
    assert "inf" not in re.sub(r"[a-z-]*-info|font-[a-z-]+", "", svg).replace("infinite", "")


def test_drawing_holds_the_same_figures_as_the_text():
    report = balance(demo_kit("courtyard"), BalanceRequest())
    words = [t.text for t in ET.fromstring(balance_drawing(report)).iter() if t.text]
    assert f"{report.balance.loading.gap_mm[0]:.0f} mm" in words
    assert f"{report.balance.over_saddle_mm:.0f} mm" in words
    stand = [t.text for t in ET.fromstring(stand_drawing(report)).iter() if t.text]
    assert f"{report.standing.push_n:.0f} N" in stand
    assert f"{report.standing.margin_mm:.0f} mm" in stand


def test_drawing_is_written(capsys, tmp_path):
    file = tmp_path / "stand.svg"
    status, _, _ = _run(capsys, "--kit", "paddock", "--stand", "--draw", str(file))
    assert status == 0
    assert "Stand, seen from above" in file.read_text(encoding="utf-8")


def test_us_customary_units():
    kit = demo_kit("courtyard")
    kit = kit.model_copy(update={"habits": kit.habits.model_copy(update={"units": "us"})})
    text = balance_text(balance(kit, BalanceRequest()))
    assert "lb" in text
    assert re.search(r"\d in ", text)


def test_odd_rigs_still_draw():
    kit = demo_kit("courtyard")
    bare = kit.model_copy(update={"tube": kit.tube.model_copy(
        update={"finder": None, "ring_turn_deg": 90.0, "accessories": (
            Accessory(name="battery", mass_kg=1.0, from_front_mm=500, offset_mm=110, angle_deg=270),
        )})})  # fmt: skip
    for draw in (balance_drawing, stand_drawing):
        ET.fromstring(draw(balance(bare, BalanceRequest(tray_kg=60.0))))
