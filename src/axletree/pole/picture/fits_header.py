"""What does the header of a FITS file say?

Reads the headers of all parts of a file and skips the data. Files may be packed with gzip.
Source: FITS Standard 4.0 (IAU FITS Working Group 2018), sections 3.3, 4.1, 4.2 and 4.2.1.2.
"""

from __future__ import annotations

import gzip
import re
import zlib
from pathlib import Path
from typing import IO, cast

from axletree.kit.errors import AxletreeError
from axletree.kit.reading.files import opened, told

Value = str | int | float | bool | None
Header = dict[str, Value]

BLOCK_BYTES = 2880
CARD_BYTES = 80
_MOST_BLOCKS = 2000  # of one header: 72,000 cards
_MOST_PARTS = 200
_MOST_DATA_BYTES = 1 << 50
_LARGEST_NUMBER = 1e30
_NUMBER = re.compile(r"[+-]?(\d+\.?\d*|\.\d+)([EeDd][+-]?\d+)?$")


def read_headers(path: Path | str) -> list[Header]:
    """The headers of a FITS file in order, keywords in capitals, values as Python's own types.

    Refuses in one line a file that isn't FITS, is cut off in a header, or cannot be read.
    Commentary is left out; of a keyword that is given twice the first counts.
    """
    file = Path(path)
    with told(file), open_file(file) as stream:
        try:
            return [header for header, _ in parts_of(stream)]
        except AxletreeError as error:
            raise AxletreeError(f"{file}: {error}") from None


def open_file(file: Path) -> IO[bytes]:
    """The bytes of a file, unpacked where it is packed with gzip."""
    with opened(file) as plain:
        packed = plain.read(2) == b"\x1f\x8b"
    return cast(IO[bytes], gzip.open(file, "rb")) if packed else opened(file)


def parts_of(stream: IO[bytes]) -> list[tuple[Header, int]]:
    """The headers in a file from `open_file`, each with the byte at which its data begin.

    Refusals don't name the file.
    """
    try:
        return _headers(stream)
    except (EOFError, gzip.BadGzipFile, zlib.error):
        raise AxletreeError("the packed file is cut off or damaged") from None


def _headers(stream: IO[bytes]) -> list[tuple[Header, int]]:
    found: list[tuple[Header, int]] = []
    for _ in range(_MOST_PARTS):
        cards = _cards(stream, first=not found)
        if cards is None:
            break
        header = _header(cards)
        found.append((header, stream.tell()))
        length = data_bytes(header)
        if not 0 <= length <= _MOST_DATA_BYTES:
            raise AxletreeError("NAXIS, PCOUNT and GCOUNT make an impossible size")
        if length:
            stream.seek(-(-length // BLOCK_BYTES) * BLOCK_BYTES, 1)
    return found


def _cards(stream: IO[bytes], first: bool) -> list[str] | None:
    cards: list[str] = []
    for _ in range(_MOST_BLOCKS):
        block = stream.read(BLOCK_BYTES)
        start = (b"SIMPLE  =",) if first else (b"XTENSION=",)
        if not cards and not block.startswith(start):
            if first:
                raise AxletreeError("not a FITS file (it does not begin with SIMPLE)")
            return None  # the end, or the free bytes that may follow the last part
        for at in range(0, len(block) - CARD_BYTES + 1, CARD_BYTES):
            card = block[at : at + CARD_BYTES].decode("ascii", errors="replace")
            if card[:8].rstrip() == "END":
                return cards
            cards.append(card)
        if len(block) < BLOCK_BYTES:
            break
    raise AxletreeError("the FITS header has no END; the file is cut off")


def _header(cards: list[str]) -> Header:
    header: Header = {}
    last = ""
    for card in cards:
        keyword = card[:8].rstrip().upper()
        if keyword == "CONTINUE":
            held = header.get(last)
            more = _value(card[8:])
            if isinstance(held, str) and held.endswith("&") and isinstance(more, str):
                header[last] = held[:-1] + more
            continue
        if not keyword or card[8:10] != "= ":
            continue
        last = keyword
        header.setdefault(keyword, _value(card[10:]))
    return header


def _value(text: str) -> Value:
    text = text.strip()
    if text.startswith("'"):
        at = 1
        while at < len(text):
            if text[at] == "'":
                if text[at + 1 : at + 2] != "'":
                    break
                at += 1
            at += 1
        return text[1:at].replace("''", "'").rstrip()
    word = text.split("/", 1)[0].strip()
    if word in ("T", "F"):
        return word == "T"
    if _NUMBER.match(word):
        if re.fullmatch(r"[+-]?\d+", word):
            return int(word)
        return float(word.replace("D", "E").replace("d", "e"))
    return word or None


def data_bytes(header: Header) -> int:
    """Length in bytes of the data that follow a header, without the filling of the last block."""
    axes = whole(header, "NAXIS") or 0
    if axes <= 0:
        return 0
    sizes = [whole(header, f"NAXIS{k}") or 0 for k in range(1, min(axes, 999) + 1)]
    if header.get("GROUPS") is True and sizes[0] == 0:
        sizes = sizes[1:]
    count = 1
    for size in sizes:
        count *= max(0, size)
    extra = whole(header, "PCOUNT") or 0
    groups = whole(header, "GCOUNT")
    bits = abs(whole(header, "BITPIX") or 0)
    return bits // 8 * (1 if groups is None else groups) * (extra + count)


def whole(header: Header, keyword: str) -> int | None:
    """A keyword's value as a whole number, None if it is missing or something else."""
    value = header.get(keyword)
    if isinstance(value, bool) or not isinstance(value, (int, float)):
        return None
    return int(value) if float(value).is_integer() else None


def number(header: Header, keyword: str) -> float | None:
    """A keyword's value as a number; numbers in quotes count too. None if there is none.

    Refuses one beyond 1e30, which nothing in a frame's header can be.
    """
    value = header.get(keyword)
    if isinstance(value, bool) or value is None:
        return None
    if isinstance(value, str):
        if not _NUMBER.match(value.strip()):
            return None
        value = float(value.strip().replace("D", "E").replace("d", "e"))
    if not abs(value) <= _LARGEST_NUMBER:
        raise AxletreeError(f"{keyword} is {str(value)[:24]}: no frame can have that")
    return float(value)


def words(header: Header, keyword: str) -> str:
    """A keyword's value as text without blanks around it, '' if it is missing."""
    value = header.get(keyword)
    return value.strip() if isinstance(value, str) else ""
