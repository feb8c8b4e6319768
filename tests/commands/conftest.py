"""What tests of commands share: a command run in this process."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from axletree.cli import main


@pytest.fixture
def run(capsys: pytest.CaptureFixture[str]) -> Callable[..., tuple[int, str, str]]:
    """run(*words): the command's status, what it says, what it says of trouble."""

    def made(*words: str) -> tuple[int, str, str]:
        capsys.readouterr()
        status = main(list(words))
        return status, *capsys.readouterr()

    return made
