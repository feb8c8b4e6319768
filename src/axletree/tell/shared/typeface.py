"""How does the typeface go along with a file that leaves the house alone?

A drawing carries the letters that it uses, as a small font (WOFF, W3C Recommendation 2012, around
tables after the OpenType specification) with the kerning of their pairs; words stay words, to be
searched, copied and read aloud. The field sheet carries the whole cut of every style.
"""

from __future__ import annotations

import base64
import re
import struct
import zlib
from collections import defaultdict
from collections.abc import Mapping
from functools import cache
from html import unescape
from xml.etree import ElementTree

from axletree.data import data_path
from axletree.tell.shared.measure import SEMIBOLD, Style, style_of, width_of, widths
from axletree.tell.shared.sheet import FAMILY, number, plain_colours

# CSS's words for each style; the heaviest also stands for what is asked heavier than it is.
FACES: Mapping[Style, str] = {
    "regular": "font-weight:400",
    "semibold": f"font-weight:{SEMIBOLD} 900",
    "italic": "font-style:italic;font-weight:400",
}
_TEXT = re.compile(r"<text ([^>]*)>([^<]*)</text>")
_TRUETYPE = 0x00010000
_HEAD_LOCA_AT, _MAXP_GLYPHS_AT, _HHEA_METRICS_AT = 50, 4, 34


def by_itself(svg: str) -> str:
    """A drawing that needs nothing from elsewhere: the day's colours and its own letters in it.

    Every row of words says how long it is (SVG 2, 'textLength'), so that a viewer that doesn't take
    the letters along fits its own into the same room.
    """
    plain = _TEXT.sub(_with_length, plain_colours(svg))
    letters: dict[Style, set[str]] = defaultdict(set)
    # The drawing is one of ours, made a moment ago: no reader of strangers' XML is needed.
    _gather(ElementTree.fromstring(plain), 400, False, letters)
    rules = "".join(
        _rule(style, "woff", font_of(style, "".join(sorted(letters[style]))))
        for style in FACES
        if letters[style]
    )
    at = plain.index(">") + 1
    return f"{plain[:at]}<style>{rules}</style>{plain[at:]}" if rules else plain


def _with_length(found: re.Match[str]) -> str:
    """A text element with the length of its words; what the typeface lacks is left as it comes."""
    pen, words = found[1], unescape(found[2])
    style = style_of(int(_value(pen, "font-weight", "400")), 'font-style="italic"' in pen)
    known = {*widths(style).advances, *widths("regular").advances}
    if not words.strip() or not known.issuperset(words):
        return found[0]
    size, weight = float(_value(pen, "font-size", "14")), SEMIBOLD if style == "semibold" else 400
    long = width_of(words, size, weight, style == "italic")
    fitted = f'textLength="{number(long)}" lengthAdjust="spacingAndGlyphs"'
    return f"<text {pen} {fitted}>{found[2]}</text>"


def _value(pen: str, name: str, default: str) -> str:
    given = re.search(rf'\b{name}="([^"]*)"', pen)
    return given[1] if given else default


def whole_faces() -> str:
    """The rules that name every style, with the whole cut of it inside."""
    return "\n".join(
        _rule(style, "woff2", data_path(f"typeface/{style}.woff2").read_bytes()) for style in FACES
    )


def _rule(style: Style, form: str, content: bytes) -> str:
    packed = base64.b64encode(content).decode()
    return (
        f"@font-face{{font-family:'{FAMILY}';{FACES[style]};"
        f'src:url("data:font/{form};base64,{packed}")}}'
    )


def _gather(
    element: ElementTree.Element, weight: int, italic: bool, letters: dict[Style, set[str]]
) -> None:
    """The letters of an element and all in it, by the style that they are set in."""
    tag = element.tag.rpartition("}")[2]
    if tag in ("title", "desc", "style"):
        return
    weight = int(element.get("font-weight", weight))
    italic = {"italic": True, "normal": False}.get(element.get("font-style", ""), italic)
    style = style_of(weight, italic)
    letters[style] |= set(element.text or "")
    for inner in element:
        _gather(inner, weight, italic, letters)
        letters[style] |= set(inner.tail or "")


@cache
def _tables(style: Style) -> dict[bytes, bytes]:
    """The tables of a style's TrueType file."""
    content = data_path(f"typeface/{style}.ttf").read_bytes()
    count = struct.unpack_from(">H", content, 4)[0]
    rows = (struct.unpack_from(">4sLLL", content, 12 + 16 * k) for k in range(count))
    return {tag: content[offset : offset + length] for tag, _, offset, length in rows}


def font_of(style: Style, letters: str) -> bytes:
    """A WOFF font of these letters; those that the style lacks are left out."""
    table, known = _tables(style), widths(style)
    own = [c for c in letters if c in known.glyphs]
    glyphs = [0, *(known.glyphs[c] for c in own)]  # the first is what stands for a missing letter
    outlines = [_padded(_outline(table, g)) for g in glyphs]
    starts = [sum(map(len, outlines[:k])) for k in range(len(outlines) + 1)]
    changed = {
        b"cmap": _letters_to_glyphs(own),
        b"glyf": b"".join(outlines),
        b"head": _with(_with(table[b"head"], ">h", _HEAD_LOCA_AT, 1), ">L", 8, 0),
        b"hhea": _with(table[b"hhea"], ">H", _HHEA_METRICS_AT, len(glyphs)),
        b"hmtx": b"".join(_metric(table, g) for g in glyphs),
        b"kern": _pairs(style, own),
        b"loca": struct.pack(f">{len(starts)}L", *starts),
        b"maxp": _with(table[b"maxp"], ">H", _MAXP_GLYPHS_AT, len(glyphs)),
    }
    kept = {tag: table[tag] for tag in (b"OS/2", b"name", b"post")}
    return _woff({tag: content for tag, content in {**kept, **changed}.items() if content})


def _with(table: bytes, form: str, at: int, value: int) -> bytes:
    changed = bytearray(table)
    struct.pack_into(form, changed, at, value)
    return bytes(changed)


def _padded(content: bytes) -> bytes:
    return content + bytes(-len(content) % 4)


def _outline(table: Mapping[bytes, bytes], glyph: int) -> bytes:
    if struct.unpack_from(">h", table[b"head"], _HEAD_LOCA_AT)[0]:
        start, end = struct.unpack_from(">2L", table[b"loca"], 4 * glyph)
    else:
        start, end = (2 * n for n in struct.unpack_from(">2H", table[b"loca"], 2 * glyph))
    return table[b"glyf"][start:end]


def _metric(table: Mapping[bytes, bytes], glyph: int) -> bytes:
    """Advance and left side bearing; behind the last advance only bearings are listed."""
    listed = struct.unpack_from(">H", table[b"hhea"], _HHEA_METRICS_AT)[0]
    if glyph < listed:
        return table[b"hmtx"][4 * glyph : 4 * glyph + 4]
    at = 4 * listed + 2 * (glyph - listed)
    return table[b"hmtx"][4 * listed - 4 : 4 * listed - 2] + table[b"hmtx"][at : at + 2]


def _letters_to_glyphs(letters: list[str]) -> bytes:
    """A table 'cmap' of format 12, a group a letter."""
    groups = sorted((ord(c), k + 1) for k, c in enumerate(letters))
    rows = b"".join(struct.pack(">3L", code, code, glyph) for code, glyph in groups)
    head = struct.pack(">2H2HL", 0, 1, 3, 10, 12)
    return head + struct.pack(">2H3L", 12, 0, 16 + len(rows), 0, len(groups)) + rows


def _pairs(style: Style, letters: list[str]) -> bytes:
    """A table 'kern' of format 0, or nothing where no pair is kerned."""
    known = widths(style)
    found = [
        (i + 1, j + 1, known.kerning(a, b))
        for i, a in enumerate(letters)
        for j, b in enumerate(letters)
        if known.kerning(a, b)
    ]
    if not found:
        return b""
    log = len(found).bit_length() - 1
    search = 6 << log
    rows = b"".join(struct.pack(">2Hh", *row) for row in found)
    return (
        struct.pack(">2H", 0, 1)
        + struct.pack(">3H", 0, 14 + len(rows), 1)
        + struct.pack(">4H", len(found), search, log, 6 * len(found) - search)
        + rows
    )


def _woff(tables: Mapping[bytes, bytes]) -> bytes:
    at = 44 + 20 * len(tables)
    rows, body, whole = b"", b"", 12 + 16 * len(tables)
    for tag in sorted(tables):
        content = tables[tag]
        small = min(content, zlib.compress(content, 9), key=len)
        numbers = struct.unpack(f">{len(_padded(content)) // 4}L", _padded(content))
        rows += struct.pack(">4s4L", tag, at + len(body), len(small), len(content),
                            sum(numbers) & 0xFFFFFFFF)  # fmt: skip
        body += _padded(small)
        whole += len(_padded(content))
    return (
        struct.pack(">4s2L2HL2H5L", b"wOFF", _TRUETYPE, at + len(body), len(tables), 0, whole,
                    1, 0, 0, 0, 0, 0, 0)
        + rows + body
    )  # fmt: skip
