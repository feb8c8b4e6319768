"""What lies on the desk while the app runs: the kit, what the pages are set to, who is here?

One `Desk` a running app. It is the only thing here that changes; every change goes through its
methods, which tell the open pages (see `events`).
"""

from __future__ import annotations

import json
import threading
from collections.abc import Callable, Mapping
from pathlib import Path
from typing import Any

from axletree.app.events import Hub
from axletree.app.held_pictures import HeldPictures
from axletree.app.own_files import OwnFiles, chosen_files, laid_out, own_text
from axletree.app.people.seats import Seats
from axletree.app.people.sharing import Sharing
from axletree.app.people.withheld import coarse_kit
from axletree.kit.errors import AxletreeError
from axletree.kit.kit import Kit, check_text
from axletree.kit.reading.composed import OwnPart
from axletree.kit.reading.problems import Problem

LARGEST_SETTINGS_BYTES = 16_000
MOST_CACHED = 1000  # never reached: what is kept for a kit has names of ours


class Cache:
    """The last few things that were made, each made once however many ask at the same time."""

    def __init__(self, most: int) -> None:
        self.most = most
        self._made: dict[str, Any] = {}
        self._making: dict[str, threading.Lock] = {}
        self._lock = threading.Lock()

    def get(self, key: str, make: Callable[[], Any]) -> Any:
        """What `make()` gave or gives; the oldest goes when there are too many."""
        with self._lock:
            if key in self._made:
                return self._made[key]
            making = self._making.setdefault(key, threading.Lock())
        with making:
            with self._lock:
                if key in self._made:
                    return self._made[key]
            try:
                made = make()
            except BaseException:
                with self._lock:
                    self._making.pop(key, None)
                raise
            with self._lock:
                self._made[key] = made
                self._making.pop(key, None)
                for old in list(self._made)[: -self.most]:
                    del self._made[old]
            return made


class Desk:
    """The kit with its text and file, the pages' settings, the seats and the open links.

    `kit_file` is where 'keep' writes; without it changes last while the app runs. `own_files`:
    where the site (or tube) has a file of its own. `folder` is where the kit's other files lie;
    None for a demo kit, until it is kept. `revision` grows with every change of the kit.
    `looking`: this is the desk as those see it who don't lead (see `for_onlookers`).
    """

    def __init__(
        self,
        kit: Kit,
        text: str,
        *,
        kit_file: Path | None = None,
        folder: Path | None = None,
        sharing: Sharing | None = None,
        own_files: OwnFiles | None = None,
    ) -> None:
        self.kit, self.text = kit, text
        self.kit_file, self.folder = kit_file, folder
        self.sharing, self.own_files = sharing, own_files
        self.looking = False
        self.revision = 1
        self.pictures = HeldPictures()
        self.hub = Hub()
        self.seats = Seats()
        self._settings: dict[str, dict[str, Any]] = {}
        self._lock = threading.Lock()
        self._cache = Cache(MOST_CACHED)

    @property
    def demo(self) -> bool:
        """Whether a demo kit lies here: nobody's, so it learns from no logbook and no notes."""
        return self.folder is None

    def for_onlookers(self) -> Desk:
        """The desk without the kit's text, at a coarse place (see `withheld`); nothing is changed
        through it."""

        def make() -> Desk:
            other = Desk(coarse_kit(self.kit), "", kit_file=self.kit_file, folder=self.folder)
            other.looking, other.revision = True, self.revision
            other.hub, other.seats, other._settings = self.hub, self.seats, self._settings
            return other

        seen: Desk = self.cached("for onlookers", make)
        return seen

    def settings(self, page: str) -> dict[str, Any]:
        """What the leader has set a page to; {} before anything was."""
        return dict(self._settings.get(page, {}))

    def all_settings(self) -> dict[str, dict[str, Any]]:
        """Every page's settings."""
        return {page: dict(values) for page, values in self._settings.items()}

    def set_page(self, page: str, values: Mapping[str, Any], by: str = "") -> None:
        """Change some of a page's settings and tell the open pages; None takes one away.

        Refuses more than a page can need.
        """
        with self._lock:
            merged = {**self._settings.get(page, {}), **values}
            merged = {k: v for k, v in merged.items() if v is not None}
            if len(json.dumps(merged)) > LARGEST_SETTINGS_BYTES:
                raise AxletreeError(f"too much to remember for the page '{page}'")
            self._settings[page] = merged
        self.hub.tell("settings", {"page": page, "values": merged, "by": by})

    def keep_kit(self, text: str, revision: int) -> list[Problem]:
        """Take a new kit text if it is right, write it to its file; else what is wrong with it.

        Refuses a text that was made from an older revision than the one that lies here.
        """
        from axletree.tell.shared.files import write_whole

        kit, problems = check_text(text)
        if kit is None:
            return problems
        with self._lock:
            self._refuse_stale(revision)
            files = self.own_files
            if files is not None:
                kit, pages = files.grounded(kit, self.folder), files.pages(text)
                for file, words in pages.items():
                    write_whole(file, words.encode())
                files = files.after(pages)
            elif self.kit_file is not None:
                write_whole(self.kit_file, text.encode())
            if self.kit_file is not None:
                self.folder = self.kit_file.parent
            self._lay(kit, text, files)
        self.hub.tell("kit", self.kit_now())
        return []

    def choose_parts(self, named: Mapping[OwnPart, str], revision: int) -> None:
        """Lay another site (or tube) beside the kit on the desk, by its name; '' the kit's own.

        Refuses names that no file beside the kit goes by, files that aren't right, and a choice
        that was made from an older revision than the one that lies here.
        """
        with self._lock:
            self._refuse_stale(revision)
            if self.kit_file is None:
                raise AxletreeError("this kit lies in no folder that could hold others")
            parts = chosen_files(self.kit_file, self.own_files, named)
            text = own_text(self.text, self.own_files)
            made = laid_out(self.kit_file, text, self.folder, parts)
            self._lay(made.kit, made.text, made.files)
        self.hub.tell("kit", self.kit_now())

    def kit_now(self) -> dict[str, Any]:
        """What every open page has to know of the kit: its revision and the site's time zone."""
        return {"revision": self.revision, "zone": self.kit.site.time_zone}

    def _refuse_stale(self, revision: int) -> None:
        if revision != self.revision:
            raise AxletreeError(
                "the kit was changed elsewhere in the meantime: your text is kept in this "
                "page; copy what you need, then 'throw away' loads the new one"
            )

    def _lay(self, kit: Kit, text: str, files: OwnFiles | None) -> None:
        self.kit, self.text, self.own_files = kit, text, files
        self.revision += 1
        # What is still being made for the kit before goes nowhere.
        self._cache = Cache(MOST_CACHED)

    def cached(self, key: str, make: Callable[[], Any]) -> Any:
        """What `make()` gives, made once for each kit (a rig, a room table, an evening).

        For things whose number is small by nature; `Cache` is for those that words can ask for.
        """
        return self._cache.get(key, make)
