"""How does an answer reach the desk, the moment and the commands?"""

from __future__ import annotations

import argparse
import importlib
import math
from collections.abc import Iterable, Mapping
from datetime import datetime
from typing import Annotated, Any, NoReturn

from fastapi import Depends, Request

from axletree.app.people.seats import seat_of
from axletree.app.state import Desk
from axletree.commands import module_of
from axletree.commands.shared.common import Answer
from axletree.kit.errors import AxletreeError
from axletree.sky.time.parse import moment_from


def _whole_desk(request: Request) -> Desk:
    desk: Desk = request.app.state.desk
    return desk


def _desk(request: Request) -> Desk:
    desk = _whole_desk(request)
    return desk if desk.seats.leads(seat_of(request)) else desk.for_lookers()


# The desk as far as the one who asks may know it; and all of it, for answers that take care
# themselves of what they tell those who only look (`desk.looking`).
OnDesk = Annotated[Desk, Depends(_desk)]
WholeDesk = Annotated[Desk, Depends(_whole_desk)]


class _Refusing(argparse.ArgumentParser):
    def error(self, message: str) -> NoReturn:
        raise AxletreeError(message)


def ask(desk: Desk, command: str, words: Iterable[object] = (), **held: Any) -> Answer:
    """What a command answers for the kit on the desk; `words` as on the command line.

    `held` are things that the app keeps for the command, such as a room table.
    """
    module = importlib.import_module(module_of(command))
    parser = _Refusing(prog=command, add_help=False)
    module.options(parser)
    options = parser.parse_args([str(word) for word in words])
    options.kit, options.kit_folder = desk.kit, desk.folder
    for name, value in held.items():
        setattr(options, name, value)
    answer: Answer = module.answer(options)
    return answer


def moment_of(desk: Desk, at: str | None) -> datetime:
    """The moment that a page asks about; None is now."""
    zone = desk.kit.site.zone
    return datetime.now(zone).replace(microsecond=0) if at is None else moment_from(at, zone)


def plain(value: Any) -> Any:
    """The same without infinities and not-a-numbers, which JSON doesn't know: they become None."""
    if isinstance(value, Mapping):
        return {str(k): plain(v) for k, v in value.items()}
    if isinstance(value, list | tuple):
        return [plain(v) for v in value]
    if isinstance(value, float):
        return value if math.isfinite(value) else None
    return value


def lead_words(answer: Answer, part: int = 0) -> str:
    """One part of a command's text (parts stand apart by an empty line) as one line of words."""
    parts = [p for p in answer.text.split("\n\n") if p.strip()]
    return " ".join(parts[part].split()) if part < len(parts) else ""
