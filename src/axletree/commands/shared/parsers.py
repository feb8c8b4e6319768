"""Which argument parser has each command, and how does it refuse?"""

from __future__ import annotations

import argparse
import importlib

from axletree.commands import module_of
from axletree.commands.shared.help_pages import HelpPage
from axletree.kit.errors import one_line


class OneLineParser(argparse.ArgumentParser):
    """An argument parser that says what is wrong in one line and exits with 2."""

    def error(self, message: str) -> None:  # type: ignore[override]
        """Print one line on standard error and exit with 2."""
        first = one_line(message)
        self.exit(2, f"{self.prog}: {first}; '{self.prog} --help' shows how\n")


def parser_of(name: str) -> OneLineParser:
    """The argument parser of one command."""
    module = importlib.import_module(module_of(name))
    parser = OneLineParser(
        prog=f"axletree {name}",
        description=module.__doc__,
        epilog=f"example: {module.EXAMPLE}",
        formatter_class=HelpPage,
    )
    module.options(parser)
    return parser
