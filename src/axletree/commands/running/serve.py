"""The local app: the evening on a screen in the hand.

Opens pages for the kit on this machine only (http://127.0.0.1). With --share a phone on the
same local network may come in: type or scan the address that is printed, then type the code.
A code opens one browser and is then used up; the next one is printed, and shown to whoever
leads. One leads, the others look. Stop it with Control-C.
"""

from __future__ import annotations

import argparse
import sys
from pathlib import Path
from typing import TYPE_CHECKING

from axletree.commands.shared.common import (
    HERE_KIT,
    Answer,
    is_demo,
    kit_folder,
    kit_named,
    parts_chosen,
    rig_options,
)
from axletree.kit.errors import AxletreeError

if TYPE_CHECKING:
    from axletree.app.people.sharing import Sharing
    from axletree.app.state import Desk

EXAMPLE = "axletree serve --kit courtyard.toml --share"


def options(parser: argparse.ArgumentParser) -> None:
    """Arguments."""
    rig_options(parser)
    parser.add_argument(
        "--port", type=int, default=8765, metavar="N", help="where it listens (8765)"
    )  # fmt: skip
    parser.add_argument(
        "--share", action="store_true", help="let phones on the local network in, by a code"
    )


def answer(options: argparse.Namespace) -> Answer:
    """Serve until stopped."""
    from axletree.app.people.sharing import Sharing, local_address, qr_for_terminal, spaced
    from axletree.app.server import listen, make_app, own_hosts, run

    if not 1 <= options.port <= 65535:
        raise AxletreeError(f"--port {options.port}: write a number from 1024 to 65535")
    sharing: Sharing | None = None
    address = local_address() if options.share else None
    if address is not None:
        sharing = Sharing(f"http://{address}:{options.port}/", on_new_code=_print_code)
    desk = desk_of(options, sharing)
    sockets = [listen("127.0.0.1", options.port)]
    if address is not None:
        sockets.append(listen(address, options.port))
    print(f"Axletree for {desk.kit.name}: http://127.0.0.1:{options.port}/")
    if sharing is not None:
        print(qr_for_terminal(sharing.address))
        print(f"For a phone on this network: {sharing.address}")
        print(f"Code, for one person: {spaced(sharing.code)}")
        print("Plain http: whoever can listen on this network can read along.")
    print("Stop with Control-C.", flush=True)
    run(make_app(desk, own_hosts(options.port, address)), sockets)
    return Answer("", {})


def desk_of(options: argparse.Namespace, sharing: Sharing | None = None) -> Desk:
    """The desk for the kit that the options name; a demo kit is kept as a new file here."""
    from axletree.app.own_files import laid_out
    from axletree.app.state import Desk
    from axletree.kit.kit import demo_text, read_text

    named, folder = kit_named(options), kit_folder(options)
    file, text = Path(named or HERE_KIT), ""
    if is_demo(named):
        text, file = demo_text(named or "courtyard"), _free_file(named or "courtyard")
    made = laid_out(file, text or read_text(file), folder, parts_chosen(options),
                    named or "courtyard")  # fmt: skip
    return Desk(made.kit, made.text, kit_file=file, folder=folder, sharing=sharing,
                own_files=made.files)  # fmt: skip


def _free_file(demo: str) -> Path:
    """Where a demo kit is kept: axletree.toml, unless the person's own kit lies there."""
    names = (HERE_KIT, f"{demo}.toml", *(f"{demo}-{k}.toml" for k in range(2, 1000)))
    return next(Path(name) for name in names if not Path(name).exists())


def _print_code(code: str) -> None:
    from axletree.app.people.sharing import spaced

    print(f"Code, for one more person: {spaced(code)}", file=sys.stdout, flush=True)
