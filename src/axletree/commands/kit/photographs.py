"""Which lengths do pictures of the rig tell, points marked on named places?"""

from __future__ import annotations

import argparse
from datetime import datetime
from pathlib import Path

from axletree.commands.shared.common import Answer

PHOTOGRAPHS = """\
Solve the rig's lengths from pictures of it, points marked on named places.

Weights down, tube along the polar axis, in balance; one picture from the side, one from behind, one
known length on each. The marks stand in a TOML file, a [[picture]] each: width_px, height_px,
focal_35mm where the picture's file tells it, known = { from = 'tube front', to = 'tube back',
length_mm = 690, error_mm = 2 }, and [picture.marks] with 'foot 1' = [812, 2600] and so on: pixels
from the left upper corner. Places: foot 1 to 3, hinge 1 to 3, tilt bolt, crossing, saddle, shaft
end, tube front, tube back, eyepiece seat. The kit's page takes the marks on the picture itself.
"""
_LARGEST_BYTES = 200_000


def photographs_options(parser: argparse.ArgumentParser) -> None:
    """Arguments of 'kit photographs'."""
    parser.add_argument("file", help="the kit file")
    parser.add_argument("marks", help="the file with the marks")
    parser.add_argument("--write", action="store_true",
                        help="write what they tell into the kit file")  # fmt: skip
    parser.add_argument("--json", action="store_true", help="print the answer as JSON")


def told_by_photographs(options: argparse.Namespace) -> Answer:
    """Solve, tell, and write where asked."""
    from axletree.kit.errors import AxletreeError
    from axletree.kit.kit import load_kit, read_text
    from axletree.kit.reading.files import text_of_file
    from axletree.mount.photographed.marks import marks_of_text
    from axletree.stages.kit.photographs import photographs, with_photographed
    from axletree.tell.photographs.data import kit_photographs_data
    from axletree.tell.photographs.text import photographs_text
    from axletree.tell.shared.files import write_whole

    file, marks = Path(options.file), Path(options.marks)
    kit = load_kit(file)
    text = text_of_file(marks, _LARGEST_BYTES, "a file of marks")
    try:
        pictures = marks_of_text(text)
    except AxletreeError as error:
        raise AxletreeError(f"{marks}: {error}") from None
    found = photographs(kit, pictures)
    written: list[str] = []
    if options.write:
        today = datetime.now(kit.site.zone).date()
        fresh, written = with_photographed(read_text(file), found, today)
        write_whole(file, fresh.encode())
    return Answer(photographs_text(found, written), kit_photographs_data(found, written))
