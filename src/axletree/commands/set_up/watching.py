"""While the bolts are turned: where does the axis point after each new picture in a folder?"""

from __future__ import annotations

import argparse
import time
from collections.abc import Callable, Iterator
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

from axletree.commands.shared.common import Answer
from axletree.commands.shared.pictures import facts_of
from axletree.commands.shared.written import write_drawing
from axletree.kit.errors import AxletreeError, harmless, one_line

if TYPE_CHECKING:
    from axletree.kit.kit import Kit
    from axletree.pole.picture_files.shots import PictureFacts
    from axletree.stages.set_up.check import CheckAnswer, CheckRequest

EVERY_S = 0.5
# So long without a picture, and the watch is over.
PATIENCE_S = 900.0
_ENDINGS = frozenset((".jpg", ".jpeg", ".png", ".tif", ".tiff", ".fits", ".fit", ".fts", ".heic"))


def new_pictures(
    folder: Path, wait: Callable[[float], None] = time.sleep, patience_s: float = PATIENCE_S
) -> Iterator[Path]:
    """Pictures that come into a folder from now on, each once it grows no more."""
    if not folder.is_dir():
        raise AxletreeError(f"--watch {folder}: no such folder")
    known = set(folder.iterdir())
    sizes: dict[Path, int] = {}
    idle = 0.0
    while idle < patience_s:
        wait(EVERY_S)
        idle += EVERY_S
        for file in sorted(set(folder.iterdir()) - known):
            if file.suffix.lower() not in _ENDINGS or not file.is_file():
                known.add(file)
                continue
            size = file.stat().st_size
            if size and sizes.get(file) == size:
                known.add(file)
                idle = 0.0
                yield file
            sizes[file] = size


def followed(
    answer: CheckAnswer, request: CheckRequest, kit: Kit, files: Iterator[Path],
    facts: PictureFacts,
) -> Iterator[CheckAnswer | str]:  # fmt: skip
    """After each picture the answer that it makes alone, or the sentence why it makes none."""
    from axletree.pole.picture_files.reading import read_picture
    from axletree.pole.picture_files.shots import shots_of
    from axletree.stages.set_up.check import after_bolts

    for file in files:
        try:
            (shot,) = shots_of([read_picture(file)], facts, kit)
            now = after_bolts(kit, answer, request, shot)
        except AxletreeError as error:
            yield one_line(str(error))
            continue
        yield now


def watched(
    options: argparse.Namespace, first: CheckAnswer, request: CheckRequest, kit: Kit, said: str
) -> Answer:
    """Print the run's answer `said`, then a paragraph after each new picture, until Ctrl-C."""
    from axletree.tell.check.data import check_data
    from axletree.tell.check.drawing import check_drawing
    from axletree.tell.check.pictures.watch_text import begun_words, ended_words, now_words

    folder, last, count = Path(options.watch), first, 0
    files = new_pictures(folder)
    # What was said of the run's own exposures doesn't hold for those that come.
    facts = replace(facts_of(options), taken=(), still_s=None)
    print(f"{harmless(said)}\n\n{harmless(begun_words(str(folder)))}", flush=True)
    try:
        for now in followed(first, request, kit, files, facts):
            if isinstance(now, str):
                print(harmless(now), flush=True)
                continue
            last, count = now, count + 1
            print(f"\n{harmless(now_words(now))}", flush=True)
            if options.draw:
                write_drawing(options.draw, check_drawing(now))
    except KeyboardInterrupt:
        pass
    return Answer(ended_words(count), check_data(last), lambda: check_drawing(last))
