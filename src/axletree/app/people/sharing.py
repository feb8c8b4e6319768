"""How does somebody else's phone come in? An address, and a code that is used up when typed."""

from __future__ import annotations

import hmac
import io
import secrets
import socket
import threading
import time
from collections.abc import Callable
from dataclasses import dataclass, field

from axletree.kit.errors import AxletreeError

CODE_DIGITS = 8
# Our figures: with eight digits this leaves a guesser one chance in a million an hour.
WRONG_PER_ADDRESS = 5
WRONG_ALTOGETHER = 12
FORGET_AFTER_S = 600.0


def new_code() -> str:
    """Eight random digits."""
    return "".join(secrets.choice("0123456789") for _ in range(CODE_DIGITS))


def spaced(code: str) -> str:
    """'47112093' as '4711 2093', for reading out."""
    return f"{code[:4]} {code[4:]}"


@dataclass
class Sharing:
    """The address that others type or scan, and the code of the moment.

    A code opens one seat. `on_new_code` is called with each new code (it prints it). `clock` gives
    seconds that only grow.
    """

    address: str
    on_new_code: Callable[[str], None] = lambda code: None
    clock: Callable[[], float] = time.monotonic
    code: str = field(default_factory=new_code)
    _wrong: list[tuple[float, str]] = field(default_factory=list)
    _lock: threading.Lock = field(default_factory=threading.Lock)

    def open(self, typed: str, address: str) -> bool:
        """True, once, for the right code. Refuses in one line when too many were wrong."""
        with self._lock:
            now = self.clock()
            self._wrong = [(t, a) for t, a in self._wrong if now - t < FORGET_AFTER_S]
            own = [t for t, a in self._wrong if a == address]
            if len(own) >= WRONG_PER_ADDRESS or len(self._wrong) >= WRONG_ALTOGETHER:
                oldest = own[0] if len(own) >= WRONG_PER_ADDRESS else self._wrong[0][0]
                minutes = max(1, round((oldest + FORGET_AFTER_S - now) / 60))
                raise AxletreeError(
                    f"too many wrong codes: wait {minutes} min, then read the code again"
                )
            digits = "".join(c for c in typed[:40] if c.isascii() and c.isdigit())
            right = hmac.compare_digest(digits, self.code)
            if right:
                self.code = new_code()
            else:
                self._wrong.append((now, address))
        if right:
            self.on_new_code(self.code)
        return right


def local_address() -> str:
    """This machine's address on the local network; refused when there is none.

    Nothing is sent: a datagram socket is only asked which address it would send from.
    """
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as probe:
        try:
            probe.connect(("192.0.2.1", 9))  # RFC 5737: an address that belongs to nobody
            found = str(probe.getsockname()[0])
        except OSError:
            found = ""
    if not found or found.startswith("127."):
        raise AxletreeError(
            "no local network found: join one (a phone's own hotspot will do), then try again; "
            "without --share the app runs for this machine alone"
        )
    return found


def qr_for_terminal(text: str) -> str:
    """A QR code as rows of half blocks, dark on light whatever the terminal's colours."""
    import segno

    out = io.StringIO()
    segno.make(text, error="m", micro=False).terminal(out, compact=True, border=2)
    return out.getvalue()


def qr_svg(text: str) -> str:
    """A QR code as SVG; its light and dark follow the page's paper and ink."""
    import segno

    out = io.BytesIO()
    segno.make(text, error="m", micro=False).save(
        out, kind="svg", xmldecl=False, svgns=True, border=2, dark="#1c1a17", light="#fbf8f1",
        omitsize=True, svgclass=None, lineclass=None,
    )  # fmt: skip
    return out.getvalue().decode()
