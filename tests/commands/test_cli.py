"""The commands as a person types them: help, errors in one line, exit status."""

from __future__ import annotations

import json
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

from axletree.commands import available
from axletree.commands.shared.parsers import parser_of
from axletree.kit.kit import demo_text

Run = Callable[..., tuple[int, str, str]]


def started(*words: str) -> tuple[int, str, str]:
    """A command as a process of its own; `run` of the folder runs it in this one."""
    made = subprocess.run(
        [sys.executable, "-m", "axletree.cli", *words],
        capture_output=True, text=True, timeout=120, check=False,
    )  # fmt: skip
    return made.returncode, made.stdout, made.stderr


def test_overview_names_every_command() -> None:
    status, out, _ = started("--help")
    assert status == 0
    for name in available():
        assert f"  {name}" in out
    assert max(len(line) for line in out.splitlines()) <= 80


@pytest.mark.parametrize("name", available())
def test_every_command_has_help_and_an_example_within_80_columns(
    name: str, capsys: pytest.CaptureFixture[str]
) -> None:
    parser = parser_of(name)
    text = parser.format_help()
    assert "example: axletree" in text
    assert text.splitlines()[0].startswith("usage:")


@pytest.mark.parametrize(
    "words",
    [
        ("wher", "Vega"),
        ("where", "Nosuchstar"),
        ("where", "Vega", "--lat", "95", "--lon", "0"),
        ("where", "Vega", "--lat", "38"),
        ("where", "Vega", "--at", "yesterday"),
        ("where", "Saturn", "--at", "1850-01-01T00:00"),
        ("where", "Saturn", "--at", "2090-01-01T00:00"),
        ("where", "Vega", "--kit", "no-such-kit.toml"),
        ("kit", "check", "no-such-kit.toml"),
        ("kit", "new", "/proc/axletree/x.toml"),
        ("place", "Nowhereville-on-Sea"),
        ("evening", "--date", "31.12.2026"),
        ("evening", "--date", "2090-01-01"),
    ],
)
def test_bad_input_is_one_line_and_status_2(words: tuple[str, ...], run: Run) -> None:
    one_line_and_status_2(run(*words))


@pytest.mark.parametrize("words", [("wher", "Vega"), ("where",), ("place", "Nowhereville")])
def test_so_it_is_of_a_process(words: tuple[str, ...]) -> None:
    one_line_and_status_2(started(*words))


def one_line_and_status_2(made: tuple[int, str, str]) -> None:
    status, out, err = made
    assert status == 2, (out, err)
    assert out == ""
    assert len(err.strip().splitlines()) == 1, err
    assert "Traceback" not in err


def test_a_kit_with_mistakes_gives_status_1_and_their_lines(tmp_path: Path, run: Run) -> None:
    file = tmp_path / "kit.toml"
    file.write_text(demo_text().replace("latitude_deg = 38.5712", "latitude_deg = 95"))
    status, out, err = run("kit", "check", str(file))
    assert (status, err) == (1, "")
    assert "line 7, site.latitude_deg" in out
    status, out, _ = run("kit", "check", str(file), "--json")
    assert status == 1
    assert json.loads(out)["problems"][0]["line"] == 7
    status, _, err = run("where", "Vega", "--kit", str(file))
    assert status == 2
    assert "site.latitude_deg" in err


def test_a_new_kit_works_at_once(tmp_path: Path, run: Run) -> None:
    file = tmp_path / "my.toml"
    assert run("kit", "new", str(file), "--place", "geo:48.2,16.37,190")[0] == 0
    assert run("kit", "check", str(file))[0] == 0
    status, _, err = run("kit", "new", str(file))
    assert status == 2
    assert "exists" in err
    status, out, _ = run("where", "Vega", "--kit", str(file), "--json")
    assert status == 0
    assert json.loads(out)["object"] == "Vega"


def test_where_names_its_units(run: Run) -> None:
    status, out, _ = run(
        "where", "Vega", "--lat", "40.4168", "--lon", "-3.7038", "--elevation", "650",
        "--at", "2026-08-12T22:00:00Z", "--json",
    )  # fmt: skip
    data = json.loads(out)
    assert status == 0
    # astropy 8.0.2 with IERS table and DE440, computed; tolerance for the UT1 prediction.
    assert data["altitude_true_deg"] == pytest.approx(83.48818, abs=0.002)
    assert data["azimuth_deg"] == pytest.approx(258.37155, abs=0.02)
    assert {"right_ascension_h", "declination_deg", "hour_angle_h", "altitude_deg", "airmass"} <= (
        data.keys()
    )


def test_the_sun_is_never_shown_without_its_caution(run: Run) -> None:
    status, out, _ = run("where", "Sun", "--at", "2026-06-21T12:00")
    assert status == 0
    assert "never" in out.lower()
