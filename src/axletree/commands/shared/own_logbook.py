"""Which logbook does a command read: the person's own, a named one, none?"""

from __future__ import annotations

import argparse
from pathlib import Path
from typing import TYPE_CHECKING

from axletree.commands.shared.common import kit_folder
from axletree.kit.errors import AxletreeError

if TYPE_CHECKING:
    from axletree.find.practice.learned import LearnedFinding
    from axletree.kit.kit import Kit

NONE = "none"


def logbook_option(parser: argparse.ArgumentParser) -> None:
    """The option --logbook."""
    parser.add_argument(
        "--logbook", metavar="FILE", help="the logbook to learn from (your own; 'none': none)"
    )


def logbook_path(options: argparse.Namespace) -> Path | None:
    """The logbook to read, or None where there is none; a named one has to exist."""
    from axletree.logbook.own import own_logbook

    named = getattr(options, "logbook", None)
    if named == NONE:
        return None
    if named is not None:
        if not Path(named).is_file():
            raise AxletreeError(f"--logbook {named}: no such file")
        return Path(named)
    return own_logbook()


def learning_path(options: argparse.Namespace) -> Path | None:
    """The logbook to learn from: the one that was named or, but for a demo kit, the own one."""
    from axletree.logbook.own import logbook_to_learn_from

    if getattr(options, "logbook", None) is not None:
        return logbook_path(options)
    return logbook_to_learn_from(demo=kit_folder(options) is None)


def finding_learned(options: argparse.Namespace, kit: Kit) -> LearnedFinding | None:
    """What the logbook taught of how this person finds with this kit; a demo kit learns nothing,
    nor does whoever asks --as-kit."""
    from axletree.logbook.found import learned_finding

    if getattr(options, "as_kit", False) or kit_folder(options) is None:
        return None
    return learned_finding(kit, learning_path(options))
