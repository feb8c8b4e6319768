"""Firefox without a screen, driven over its own remote protocol (Marionette: length, then JSON).

Debian's firefox-esr speaks it as it is; nothing needs to be installed beside it.
"""

from __future__ import annotations

import base64
import json
import os
import shutil
import socket
import subprocess
import time
from pathlib import Path
from types import TracebackType
from typing import Any, Self

# A proxy that nobody listens at, and no updates, so that nothing can leave the machine.
PREFERENCES = {
    "network.proxy.type": 1,
    "network.proxy.http": "127.0.0.1",
    "network.proxy.http_port": 9,
    "network.proxy.ssl": "127.0.0.1",
    "network.proxy.ssl_port": 9,
    "network.captive-portal-service.enabled": False,
    "network.connectivity-service.enabled": False,
    "app.update.auto": False,
    "browser.shell.checkDefaultBrowser": False,
    "browser.startup.homepage_override.mstone": "ignore",
    "datareporting.policy.dataSubmissionEnabled": False,
    "toolkit.telemetry.reportingpolicy.firstRun": False,
    "browser.aboutwelcome.enabled": False,
    "termsofuse.bypassNotification": True,
}


def firefox_path() -> str | None:
    """Firefox of this machine. On Debian as root it is installed when it is missing."""
    found = shutil.which("firefox-esr") or shutil.which("firefox")
    if found is None and os.geteuid() == 0 and shutil.which("apt-get"):
        for words in (["update"], ["install", "-y", "--no-install-recommends", "firefox-esr"]):
            subprocess.run(["apt-get", "-qq", *words], check=False, timeout=300,
                           capture_output=True)  # fmt: skip
        found = shutil.which("firefox-esr")
    return found


class Firefox:
    """One window of the size of a phone."""

    def __init__(self, path: str, profile: Path, width: int = 390, height: int = 844) -> None:
        with socket.socket() as free:
            free.bind(("127.0.0.1", 0))
            port = free.getsockname()[1]
        prefs = {**PREFERENCES, "marionette.port": port}
        lines = [f'user_pref("{name}", {json.dumps(value)});' for name, value in prefs.items()]
        profile.mkdir(parents=True, exist_ok=True)
        (profile / "user.js").write_text("\n".join(lines), encoding="utf-8")
        # With access to the browser itself, for what it notes of a page, and for narrow pages.
        words = [path, "--headless", "--marionette", "--remote-allow-system-access", "--no-remote",
                 "--profile", str(profile)]  # fmt: skip
        size = {"MOZ_HEADLESS_WIDTH": str(width), "MOZ_HEADLESS_HEIGHT": str(height + 200)}
        self._process = subprocess.Popen(
            words, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL,
            env={**os.environ, **size, "HOME": str(profile)},
        )  # fmt: skip
        self._number = 0
        self._socket = self._connected(port)
        self._read()
        self("WebDriver:NewSession", {"capabilities": {"alwaysMatch": {}}})

    def _connected(self, port: int) -> socket.socket:
        until = time.monotonic() + 60
        while time.monotonic() < until:
            try:
                return socket.create_connection(("127.0.0.1", port), timeout=60)
            except OSError:
                if self._process.poll() is not None:
                    break
                time.sleep(0.1)
        self.close()
        raise RuntimeError("Firefox did not begin to listen")

    def _read(self) -> Any:
        size = b""
        while (byte := self._socket.recv(1)) != b":":
            assert byte, "Firefox hung up"
            size += byte
        text = b""
        while len(text) < int(size):
            text += self._socket.recv(int(size) - len(text))
        return json.loads(text)

    def __call__(self, command: str, given: dict[str, Any]) -> Any:
        self._number += 1
        text = json.dumps([0, self._number, command, given]).encode()
        self._socket.sendall(f"{len(text)}:".encode() + text)
        _, _, error, result = self._read()
        assert error is None, error
        return result

    def open(self, address: str) -> None:
        self("WebDriver:Navigate", {"url": address})

    def run(self, script: str, *given: Any) -> Any:
        """The value of a script's `return`."""
        found = self("WebDriver:ExecuteScript",
                     {"script": script, "args": list(given), "sandbox": None})  # fmt: skip
        return found["value"]

    def within(self, script: str, *given: Any) -> Any:
        """The value of a script's `return` in the browser itself, not in the page."""
        self("Marionette:SetContext", {"value": "chrome"})
        try:
            return self.run(script, *given)
        finally:
            self("Marionette:SetContext", {"value": "content"})

    def width(self, pixels: int) -> None:
        """The page so wide: a window is never narrower than 450 pixels, the page in it may be."""
        self.within(
            """const page = gBrowser.selectedBrowser;
            page.style.minWidth = page.style.maxWidth = arguments[0] + "px";""",
            pixels,
        )

    def errors(self) -> list[str]:
        """What was noted as an error since this was asked last, of pages alone; warnings aside."""
        found: list[str] = self.within(
            """const all = Services.console.getMessageArray();
            Services.console.reset();
            return all.filter((m) => m instanceof Ci.nsIScriptError && !(m.flags & 1)
              && /^http/.test(m.sourceName)).map((m) => m.sourceName + ": " + m.errorMessage);"""
        )
        return found

    def picture(self) -> bytes:
        """What is in the window, as PNG."""
        found = self("WebDriver:TakeScreenshot", {"full": False, "hash": False})
        return base64.b64decode(found["value"])

    def close(self) -> None:
        """End the process that this object began."""
        self._process.terminate()
        try:
            self._process.wait(15)
        except subprocess.TimeoutExpired:
            self._process.kill()

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        self._socket.close()
        self.close()
