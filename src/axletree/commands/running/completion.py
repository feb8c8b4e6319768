"""Print a script that lets the shell finish commands and options with the Tab key.

bash: put this line into ~/.bashrc:
    eval "$(axletree completion bash)"
zsh: put this line into ~/.zshrc, after compinit:
    eval "$(axletree completion zsh)"
fish: write it once:
    axletree completion fish > ~/.config/fish/completions/axletree.fish

The script is made from the commands' own options, so make it again after an update.
"""

from __future__ import annotations

import argparse

from axletree.commands import available
from axletree.commands.shared.common import Answer

EXAMPLE = "axletree completion bash"


def options(parser: argparse.ArgumentParser) -> None:
    """Arguments."""
    from axletree.commands.shared.shells import SHELLS

    parser.add_argument("shell", choices=tuple(SHELLS), help="the shell that you type in")
    parser.add_argument("--json", action="store_true", help="print the script as JSON")


def answer(options: argparse.Namespace) -> Answer:
    """The script."""
    from axletree.commands.shared.parsers import parser_of
    from axletree.commands.shared.shells import SHELLS, typed

    commands = available()
    lines = [typed(name, words, parser_of(name)) for name, words in commands.items()]
    script = SHELLS[options.shell](lines)
    return Answer(script, {"shell": options.shell, "script": script})
