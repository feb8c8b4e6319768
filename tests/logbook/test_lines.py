"""The append-only file: whole lines, on the disk, whatever happens to the last one."""

from __future__ import annotations

import json
import os
import signal
import subprocess
import sys

import pytest

from axletree.kit.errors import AxletreeError
from axletree.logbook.lines import append_line, read_lines


def test_lines_come_back_in_order(tmp_path):
    file = tmp_path / "deep" / "notes.jsonl"
    assert read_lines(file) == []
    for k in range(5):
        append_line(file, {"k": k, "words": "Évora ″"})
    assert [r["k"] for r in read_lines(file)] == [0, 1, 2, 3, 4]
    assert read_lines(file)[0]["words"] == "Évora ″"


def test_a_torn_last_line_is_passed_over_and_the_next_one_kept(tmp_path):
    file = tmp_path / "notes.jsonl"
    whole = json.dumps({"a": {"b": 1}, "c": "é"}, ensure_ascii=False).encode()
    for cut in range(1, len(whole)):
        file.write_bytes(b'{"k": 0}\n' + whole[:cut])
        assert read_lines(file) == [{"k": 0}]
        append_line(file, {"k": 1})
        assert read_lines(file) == [{"k": 0}, {"k": 1}]


def test_a_line_that_is_no_record_is_refused_by_its_number(tmp_path):
    file = tmp_path / "notes.jsonl"
    file.write_text('{"k": 0}\nhello\n')
    with pytest.raises(AxletreeError, match="line 2"):
        read_lines(file)
    file.write_text("[1, 2]\n")
    with pytest.raises(AxletreeError, match="line 1"):
        read_lines(file)


def test_what_was_confirmed_survives_a_kill(tmp_path):
    file = tmp_path / "notes.jsonl"
    code = (
        "import sys\nfrom pathlib import Path\nfrom axletree.logbook.lines import append_line\n"
        "k = 0\n"
        "while True:\n"
        "    append_line(Path(sys.argv[1]), {'k': k, 'pad': 'x' * 3000})\n"
        "    print(k, flush=True)\n"
        "    k += 1\n"
    )
    for _ in range(3):
        before = len(read_lines(file))
        writer = subprocess.Popen(
            [sys.executable, "-c", code, str(file)], stdout=subprocess.PIPE, text=True
        )
        assert writer.stdout is not None
        confirmed = [writer.stdout.readline() for _ in range(5)]
        os.kill(writer.pid, signal.SIGKILL)
        confirmed += writer.stdout.readlines()
        writer.wait()
        writer.stdout.close()
        told = max(int(line) for line in confirmed if line.strip())
        assert len(read_lines(file)) - before >= told + 1


def test_refusals(tmp_path):
    with pytest.raises(AxletreeError):
        append_line(tmp_path, {"k": 1})
    with pytest.raises(ValueError):
        append_line(tmp_path / "x.jsonl", {"k": float("inf")})
    assert not (tmp_path / "x.jsonl").exists()


def test_a_file_too_large_and_a_folder_are_refused_by_name(tmp_path):
    big = tmp_path / "big.jsonl"
    with big.open("wb") as file:
        file.truncate(20_000_001)
    with pytest.raises(AxletreeError, match=r"big\.jsonl: larger than 20 MB"):
        read_lines(big)
    with pytest.raises(AxletreeError, match="cannot be read"):
        read_lines(tmp_path)
