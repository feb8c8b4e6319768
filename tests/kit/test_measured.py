"""Measured dimensions in the kit's file: by `kit measure`, comments kept."""

from __future__ import annotations

import json
from datetime import date
from html import escape
from pathlib import Path
from xml.etree import ElementTree

import pytest

from axletree.cli import main
from axletree.kit.errors import AxletreeError
from axletree.kit.kit import check_text, demo_kit, demo_text, load_kit
from axletree.kit.writing.measured import with_measured
from axletree.kit.writing.template import new_kit_text
from axletree.mount.dimensions.of_kit import DimensionSource, dimensions_of
from axletree.mount.rig.build import build_rig
from axletree.mount.rig.kinematics import align
from axletree.stages.kit.measure import bare_balance_mm
from axletree.tell.kit.dimension_text import dimension_words, quantity_words
from axletree.tell.kit.tape_drawing import tape_view

DAY = date(2026, 11, 29)
SADDLE = "mount.head.saddle_distance_mm"


def test_a_remark_of_the_template_is_put_to_use_and_all_else_stays() -> None:
    before = new_kit_text(place="38.57, -7.9")
    after = with_measured(before, SADDLE, 152.0, 2.0, DAY)
    changed = [(a, b) for a, b in zip(before.split("\n"), after.split("\n"), strict=True) if a != b]
    assert changed == [(
        "# saddle_distance_mm = 150         # crossing of the axes to the saddle",
        "saddle_distance_mm = { value = 152, error = 2 }  # crossing of the axes to the saddle, "
        "measured 2026-11-29",
    )]  # fmt: skip
    again = with_measured(after, SADDLE, 151.5, 1.0, date(2026, 12, 1))
    assert again.count("measured") == 2 + before.count("measured") - 1
    assert (
        "{ value = 151.5, error = 1 }  # crossing of the axes to the saddle, measured 2026-12"
        in (again)
    )


@pytest.mark.parametrize(
    "name", [SADDLE, "tube.length_mm", "mount.weight[2].radius_mm", "tube.finder.offset_mm",
             "mount.tripod.turned_deg", "eyepiece[3].length_mm"]
)  # fmt: skip
def test_what_is_written_is_read_as_measured(name: str) -> None:
    text = demo_text("courtyard")
    value = float(dimensions_of(demo_kit("courtyard")).values[
        dimensions_of(demo_kit("courtyard")).index(name)]) + 1.0  # fmt: skip
    written = with_measured(text, name, value, 0.5, DAY)
    kit, problems = check_text(written)
    assert kit is not None, problems
    known = dimensions_of(kit)
    k = known.index(name)
    assert known.values[k] == pytest.approx(value)
    assert known.sigmas[k] == pytest.approx(0.5)
    assert known.sources[k] is DimensionSource.MEASURED
    for line in text.split("\n"):
        assert not line.startswith("#") or line in written


def test_a_part_that_the_file_lacks_and_one_of_several_numbers_are_refused() -> None:
    text = new_kit_text(place="38.57, -7.9")
    for name in ("mount.weight[1].radius_mm", "mount.tripod.leg_directions_deg[2]"):
        with pytest.raises(AxletreeError, match="write"):
            with_measured(text, name, 55.0, 1.0, DAY)


def test_a_blank_line_stays_between_the_parts_of_the_file() -> None:
    text = demo_text("courtyard")
    for name in ("mount.tripod.top_radius_mm", SADDLE, "mount.head.pivot_height_mm"):
        text = with_measured(text, name, 100.0, 2.0, DAY)
    lines = text.split("\n")
    heads = [k for k, line in enumerate(lines) if line.startswith("[")]
    assert lines.count("[mount.head]") == 1
    assert [lines[k - 1] for k in heads[1:]] == [""] * (len(heads) - 1)


def test_where_the_tube_lies_in_balance_gives_the_bare_tubes_own_point() -> None:
    kit = demo_kit("courtyard")
    bare = bare_balance_mm(kit, 400.0)
    tube = kit.tube.model_copy(update={"balance_from_front_mm": bare})
    rig = build_rig(kit.model_copy(update={"tube": tube}))
    assert rig.clamp_from_front_m * 1000.0 == pytest.approx(400.0, abs=0.2)
    with pytest.raises(AxletreeError, match="masses in the kit"):
        bare_balance_mm(kit, 5.0)


def test_numbers_are_taken_in_any_unit_and_written_all_or_none(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.chdir(tmp_path)
    file = Path("my.toml")
    file.write_text(demo_text("courtyard"), encoding="utf-8")
    words = ["kit", "measure", "my.toml", "--json", "--draw", "tape.svg"]
    assert main([*words, "--set", f"{SADDLE}=6 in ± 0.1", "--set", "tube.length_mm=70.5cm"]) == 0
    told = json.loads(capsys.readouterr().out)
    assert told["written"] == [SADDLE, "tube.length_mm"]
    known = dimensions_of(load_kit(file))
    k, tube = known.index(SADDLE), known.index("tube.length_mm")
    assert known.values[k] == pytest.approx(152.4)
    assert known.sigmas[k] == pytest.approx(2.54)
    assert known.values[tube] == pytest.approx(705.0)
    named = [one["first"]["key"] for one in told["dimensions"]]
    assert SADDLE not in named
    drawn = ElementTree.fromstring(Path("tape.svg").read_text(encoding="utf-8"))
    said = " ".join(t.text or "" for t in drawn.iter() if t.tag.endswith("text"))
    assert dimension_words(named[0]).split(",")[0] in said
    before = file.read_text(encoding="utf-8")
    for wrong in ("tube.length_mm=-3", "tube.length_mm=3kg", "mount.no=3", f"{SADDLE}=balanced 3"):
        assert main([*words, "--set", f"{SADDLE}=140", "--set", wrong]) == 2
        capsys.readouterr()
        assert file.read_text(encoding="utf-8") == before


def test_names_of_several_say_which() -> None:
    assert dimension_words("mount.weight[2].radius_mm") == "Second counterweight: half its width"
    assert dimension_words("tube.finder.length_mm").startswith("Finder: ")


def test_a_value_has_a_true_minus_and_none_at_zero() -> None:
    lean = "mount.tripod.lean_to_pole_deg"
    assert quantity_words(lean, -0.01, 0.25, "metric") == "0.0 ± 0.2 degrees"
    assert quantity_words(lean, -1.5, None, "metric") == "−1.5 degrees"


def test_every_length_of_the_rig_has_a_drawing_with_its_name() -> None:
    kit = demo_kit("courtyard")
    rig, axes = build_rig(kit), align(kit.site.latitude_deg)
    for name in dimensions_of(kit).names:
        svg = tape_view(kit, rig, axes, name)
        assert escape(dimension_words(name).split()[0], quote=False) in svg.replace("&#x27;", "'")
    plain = tape_view(kit, rig, axes, "mount.tripod.turned_deg").count("<line")
    assert tape_view(kit, rig, axes, SADDLE).count("<line") == plain + 5
