"""Streams and files as a shell can hand them over: closed, endless, of other letters, no files.

Each was met once, as a traceback or as a command that never came back.
"""

from __future__ import annotations

import contextlib
import io
import os
import subprocess
import sys
import zoneinfo
from collections.abc import Sequence
from pathlib import Path

import pytest

from axletree import cli
from axletree.kit.errors import AxletreeError
from axletree.kit.kit import check_text, demo_text
from axletree.kit.parts import site
from axletree.tell.shared.files import write_set

WHERE = ("where", "Vega", "--at", "2026-12-05T20:30")


@pytest.fixture(autouse=True)
def own_folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path / "data"))
    return tmp_path


def made(words: Sequence[str], closing: str = "", **environment: str) -> tuple[int, str, str]:
    """A command in a shell that closes streams before it begins."""
    line = f'exec "$@" {closing}'
    run = subprocess.run(
        ["sh", "-c", line, "sh", sys.executable, "-m", "axletree.cli", *words],
        env={**os.environ, **environment}, capture_output=True, check=False, timeout=60,
    )  # fmt: skip
    return run.returncode, run.stdout.decode("ascii", "replace"), run.stderr.decode()


def refused(words: Sequence[str], capsys: pytest.CaptureFixture[str]) -> str:
    """The one line with which a command refuses."""
    assert cli.main(list(words)) == 2
    out, err = capsys.readouterr()
    assert out == ""
    assert len(err.splitlines()) == 1
    return err


@pytest.mark.parametrize(
    ("words", "closing", "said"),
    [
        (WHERE, ">&-", "standard output: closed"),
        (WHERE, "<&- >&- 2>&-", ""),
        (("check", "drift", "-"), "<&-", "standard input: closed"),
        (("where", "nothing-like-it"), "2>&-", ""),
    ],
)
def test_closed_streams(words: tuple[str, ...], closing: str, said: str) -> None:
    status, out, err = made(words, closing)
    assert (status, out, len(err.splitlines())) == (2, "", 1 if said else 0), (out, err)
    assert said in err


def test_a_locale_of_ascii_alone() -> None:
    """PYTHONUTF8=0 keeps Python from taking the locale C for UTF-8 (PEP 538, PEP 540)."""
    ascii_alone = {"LC_ALL": "C", "PYTHONUTF8": "0", "PYTHONCOERCECLOCALE": "0"}
    status, out, err = made(WHERE, **ascii_alone)
    assert (status, err) == (0, "")
    assert out.isascii()
    assert "Vega" in out
    status, out, err = made(("kit", "new", "Évora.toml"), **ascii_alone)
    assert (status, err) == (0, "")
    assert Path("Évora.toml").exists()


def test_json_stays_whole_where_letters_are_few(monkeypatch: pytest.MonkeyPatch, capsys) -> None:
    import json

    assert cli.main(["point", "M45", "--json", *WHERE[2:]]) == 0
    known = json.loads(capsys.readouterr().out)
    narrow = io.TextIOWrapper(io.BytesIO(), encoding="ascii", errors="surrogateescape")
    monkeypatch.setattr(sys, "stdout", narrow)
    assert cli.main(["point", "M45", "--json", *WHERE[2:]]) == 0
    assert json.loads(narrow.buffer.getvalue()) == known  # type: ignore[attr-defined]


def test_words_that_are_no_letters(capsys) -> None:
    """Bytes that are no letters reach Python as half-letters, which UTF-8 has not."""
    assert cli.main(["log", "begin"]) == 0
    capsys.readouterr()
    for words in (["log", "add", "note", "a\udcff"], ["where", "a\udcff"]):
        assert "\udcff" not in refused(words, capsys)


def test_letters_of_another_code_on_standard_input(monkeypatch: pytest.MonkeyPatch, capsys) -> None:
    for data, words in ((b"\xff\xfe\x80", "UTF-8"), (b"#" * 2_000_001, "larger than 2 MB")):
        given = io.TextIOWrapper(io.BytesIO(data), encoding="utf-8", errors="surrogateescape")
        monkeypatch.setattr(sys, "stdin", given)
        said = refused(["check", "drift", "-"], capsys)
        assert "standard input" in said
        assert words in said


@pytest.mark.parametrize(
    ("trouble", "words"),
    [
        (MemoryError(), "not enough free memory"),
        (SystemError("error return without exception set"), "not enough free memory"),
        (ImportError("Advice.\n\nlibopenblas.so: failed to map segment"), "failed to map segment"),
    ],
    ids=["memory", "interpreter", "library"],
)
def test_little_memory(
    trouble: Exception, words: str, monkeypatch: pytest.MonkeyPatch, capsys
) -> None:
    """What came out under 'ulimit -v 60000' to 200000, wherever it was that memory ended."""

    def ends(options: object) -> None:
        raise trouble

    monkeypatch.setattr("axletree.commands.target.where.answer", ends)
    assert words in refused(WHERE, capsys)


READERS = [
    ("point", "M45", "--kit"), ("kit", "check"), ("check", "drift"), ("check", "readings"),
    ("check", "frames"), ("check", "--notes"), ("log", "--logbook"), ("log", "import"),
    ("evening", "--go-on"), ("evening", "--own"),
]  # fmt: skip


@pytest.mark.parametrize("words", READERS, ids=" ".join)
def test_a_pipe_or_a_device_is_no_file(words: tuple[str, ...], own_folder: Path, capsys) -> None:
    os.mkfifo("pipe.csv")
    Path("endless.csv").symlink_to("/dev/zero")
    for name in ("pipe.csv", "endless.csv"):
        assert "a pipe or a device, not a file" in refused([*words, name], capsys)


def test_nothing_takes_the_place_of_a_pipe(own_folder: Path, capsys) -> None:
    os.mkfifo("view.svg")
    assert "not a file" in refused(["pole", "--draw", "view.svg"], capsys)
    assert Path("view.svg").is_fifo()


def test_an_import_names_its_file_and_takes_a_byte_order_mark(capsys) -> None:
    assert cli.main(["log", "export", "all.json"]) == 0
    text = Path("all.json").read_text(encoding="utf-8")
    Path("marked.json").write_text(text, encoding="utf-8-sig")
    assert cli.main(["log", "import", "marked.json"]) == 0
    capsys.readouterr()
    Path("torn.json").write_text(text[:-5], encoding="utf-8")
    assert "torn.json: " in refused(["log", "import", "torn.json"], capsys)


def test_a_tab_in_a_files_name_stays_out_of_the_terminal(capsys) -> None:
    assert cli.main(["kit", "new", "a\tb.toml"]) == 0
    assert cli.main(["log", "export", "a\tb.json"]) == 0
    assert "\t" not in capsys.readouterr().out
    assert "\t" not in refused(["kit", "check", "no\tsuch.toml"], capsys)


def test_files_that_belong_together_are_replaced_together(tmp_path: Path) -> None:
    one, two = tmp_path / "one", tmp_path / "two"
    write_set({one: b"old", two: b"old"})
    two.unlink()
    two.mkdir()  # what can't be replaced by a file
    (two / "kept").touch()
    with pytest.raises(AxletreeError, match="two: cannot be written"):
        write_set({one: b"new", two: b"new"})
    assert one.read_bytes() == b"old"
    assert sorted(p.name for p in tmp_path.iterdir()) == ["one", "two"]


def test_a_link_leads_to_the_file_that_is_written(tmp_path: Path) -> None:
    (tmp_path / "link").symlink_to("real")
    write_set({tmp_path / "link": b"words"})
    assert (tmp_path / "link").is_symlink()
    assert (tmp_path / "real").read_bytes() == b"words"


@pytest.mark.parametrize(
    ("way", "head", "row", "most"),
    [
        ("readings", "hour_angle_h;declination_deg;tube_side;hour_circle_h;declination_circle_deg",
         "1;40;east;1;40", 500),
        ("drift", "hour_angle_h;declination_deg;watched_s;drift_arcsec;tube_side",
         "1;40;300;2;east", 5000),
    ],
)  # fmt: skip
def test_a_list_longer_than_can_be_answered_for_is_refused(
    way: str, head: str, row: str, most: int, capsys
) -> None:
    """1,600 readings took 26 s, 3,000 over nine minutes."""
    Path("long.csv").write_text("\n".join([head, *[row] * (most + 1)]), encoding="utf-8")
    assert f"more than {most} rows" in refused(["check", way, "long.csv"], capsys)


def test_a_terminal_of_forty_columns_gets_forty(monkeypatch: pytest.MonkeyPatch, capsys) -> None:
    assert cli.main(["point", "M45", *WHERE[2:]]) == 0
    wide = capsys.readouterr().out
    monkeypatch.setenv("COLUMNS", "40")
    monkeypatch.setattr(sys.stdout, "isatty", lambda: True)
    assert cli.main(["point", "M45", *WHERE[2:]]) == 0
    narrow = capsys.readouterr().out
    assert max(map(len, wide.splitlines())) > 40 >= max(map(len, narrow.splitlines()))
    assert "".join(narrow.split()) == "".join(wide.split())
    for words in (["--help"], ["point", "--help"], ["log", "add", "--help"]):
        with contextlib.suppress(SystemExit):
            cli.main(words)
        helped = capsys.readouterr().out.splitlines()
        assert len(helped) > 10
        assert max(map(len, helped)) <= 40, max(helped, key=len)


def test_missing_zone_data_are_said_to_be_missing(monkeypatch: pytest.MonkeyPatch) -> None:
    def none_there(name: str) -> None:
        raise zoneinfo.ZoneInfoNotFoundError(name)

    monkeypatch.setattr(site, "ZoneInfo", none_there)
    monkeypatch.setattr(site, "available_timezones", set)
    _, problems = check_text(demo_text())
    assert any("has no time zone data" in str(problem) for problem in problems)


def test_nothing_is_left_open() -> None:
    """Python's own development mode names what nobody closed (`-X dev`)."""
    words = ["calendar", "--from", "2026-12-01", "--to", "2026-12-01"]
    looking = ["-X", "dev", "-W", "always::ResourceWarning"]
    run = subprocess.run(
        [sys.executable, *looking, "-m", "axletree.cli", *words],
        capture_output=True, check=False, timeout=60,
    )  # fmt: skip
    assert (run.returncode, run.stderr.decode()) == (0, "")
