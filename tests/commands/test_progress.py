"""The bar that says that work goes on: on a terminal and for slow work only."""

from __future__ import annotations

import io

import pytest

from axletree.commands.shared import progress


class Terminal(io.StringIO):
    """Standard error as a terminal."""

    def isatty(self) -> bool:
        return True


def worked(monkeypatch: pytest.MonkeyPatch, stderr: io.StringIO, patience_s: float) -> str:
    monkeypatch.setattr("sys.stderr", stderr)
    monkeypatch.setattr(progress, "PATIENCE_S", patience_s)
    with progress.Bar(2) as bar:
        bar("the order")
        bar("run sheets")
    return stderr.getvalue()


def test_only_slow_work_on_a_terminal_shows_a_bar(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("TERM", "xterm")
    assert worked(monkeypatch, Terminal(), 60.0) == ""
    assert worked(monkeypatch, io.StringIO(), -1.0) == ""
    shown = worked(monkeypatch, Terminal(), -1.0)
    assert "run sheets" in shown
    assert "100%" in shown
