"""With which letters is everything written?  The typeface, cut to the signs that are used.

Libertinus Serif as the typesetter of the paper carries it (package `typst`), so that paper, pages,
field sheet and drawings have one face. Each style becomes a TrueType file (from which a drawing
takes its own letters), the same as WOFF2 for browsers, and a table of widths for who has neither.

Ligatures are left out, so that the width of words is the sum of their letters and kernings; the
figures are lining and of one width as they are.
"""

from __future__ import annotations

import io
import json
import struct
import sys
from collections.abc import Iterator
from importlib.util import find_spec
from pathlib import Path
from typing import Any

from fontTools import subset
from fontTools.pens.cu2quPen import Cu2QuPen
from fontTools.pens.ttGlyphPen import TTGlyphPen
from fontTools.ttLib import TTFont, newTable
from fontTools.unicodedata import script

ASCII = "".join(map(chr, range(0x20, 0x7F)))
LATIN_1 = "".join(map(chr, range(0xA0, 0x100))).replace("\u00ad", "")  # no soft hyphen
LATIN_A = "".join(map(chr, range(0x100, 0x180)))
GREEK = "".join(map(chr, range(0x3B1, 0x3CA)))
SIGNS = "–—‘’“”…′″−≤≥·⁰⁴⁵⁶⁷⁸⁹"
# Of the whole face's styles those that the pages use. The names of places may need any letter of
# the first; in the others they borrow it, thickened or slanted, from the first.
STYLES = {
    "regular": ("Regular", ASCII + LATIN_1 + LATIN_A + GREEK + SIGNS),
    "semibold": ("Semibold", ASCII + LATIN_1 + LATIN_A + GREEK + SIGNS),
    "italic": ("Italic", ASCII + "\u00a0°±²³µ·×" + "ÅÄÉÖØÜßàáâãäåæçèéêëíîñóôõöøúü" + GREEK + SIGNS),
}
MOST_APART = 1.0  # thousandths of the type's size between a cubic outline and its quadratic one
FAMILY = "Libertinus Serif"


def carried(package: str) -> Iterator[TTFont]:
    """Every font in OpenType's compact form that lies as it is in one of a package's files."""
    spec = find_spec(package)
    assert spec is not None
    assert spec.origin is not None
    for file in sorted(Path(spec.origin).parent.iterdir()):
        content = file.read_bytes() if file.is_file() else b""
        at = content.find(b"OTTO")
        while at >= 0:
            tables = struct.unpack(">H", content[at + 4 : at + 6])[0]
            if 8 <= tables <= 40:  # else four letters of something else
                rows = [struct.unpack(">4sLLL", content[at + 12 + 16 * k : at + 28 + 16 * k])
                        for k in range(tables)]  # fmt: skip
                if all(tag.isascii() and length < 10**7 for tag, _, _, length in rows):
                    end = max(offset + length for _, _, offset, length in rows)
                    yield TTFont(io.BytesIO(content[at : at + end]), recalcTimestamp=False)
            at = content.find(b"OTTO", at + 4)


def whole_faces() -> dict[str, TTFont]:
    """The uncut styles by name, 'Regular', 'Semibold'..."""
    found: dict[str, TTFont] = {}
    for font in carried("typst"):
        name = font["name"].getDebugName(4) or ""
        if name.startswith(FAMILY):
            found.setdefault(name.removeprefix(FAMILY).strip(), font)
    return found


def letters_of_names(data: Path) -> str:
    """Every letter of the names of places, regions and countries."""
    rows = (data / "places.txt").read_text(encoding="utf-8").split("\n")
    return "".join(rows[:2]) + "".join(row.split("|")[0] for row in rows[3:])


def cut(font: TTFont, letters: str) -> TTFont:
    """The font with these letters alone and their kerning, as TrueType."""
    options = subset.Options()
    options.layout_features = ["kern"]
    options.hinting = False
    options.desubroutinize = True
    options.notdef_outline = True
    options.name_IDs = [0, 1, 2, 3, 4, 5, 6, 13, 14]
    options.drop_tables += ["GDEF", "FFTM", "VORG"]
    cutter = subset.Subsetter(options)
    cutter.populate(text=letters)
    cutter.subset(font)
    _words_apart(font)
    return quadratic(font)


def _words_apart(font: TTFont) -> None:
    """Take the kerning with spaces away: browsers measure word by word and would miss it."""
    spaces = {font.getBestCmap()[code] for code in (0x20, 0xA0)}
    for lookup in font["GPOS"].table.LookupList.Lookup:
        for part in (getattr(s, "ExtSubTable", s) for s in lookup.SubTable):
            before = part.Coverage.glyphs
            part.Coverage.glyphs = [name for name in before if name not in spaces]
            if part.Format == 2:
                for name in spaces:
                    part.ClassDef1.classDefs.pop(name, None)
                    part.ClassDef2.classDefs.pop(name, None)
                continue
            part.PairSet = [row for name, row in zip(before, part.PairSet, strict=True)
                            if name not in spaces]  # fmt: skip
            part.PairSetCount = len(part.PairSet)
            for row in part.PairSet:
                row.PairValueRecord = [p for p in row.PairValueRecord
                                       if p.SecondGlyph not in spaces]  # fmt: skip
                row.PairValueCount = len(row.PairValueRecord)


def quadratic(font: TTFont) -> TTFont:
    """The font with its cubic outlines as quadratic ones."""
    drawn, order = font.getGlyphSet(), font.getGlyphOrder()
    font["loca"], font["glyf"] = newTable("loca"), newTable("glyf")
    outlines = font["glyf"]
    outlines.glyphOrder, outlines.glyphs = order, {}
    for name in order:
        pen = TTGlyphPen(drawn)
        drawn[name].draw(Cu2QuPen(pen, MOST_APART, reverse_direction=True))
        outlines.glyphs[name] = pen.glyph()
        outlines.glyphs[name].recalcBounds(outlines)
    most = font["maxp"]
    most.tableVersion, most.maxZones = 0x00010000, 1
    for name in ("TwilightPoints", "Storage", "FunctionDefs", "InstructionDefs", "StackElements",
                 "SizeOfInstructions", "ComponentElements", "ComponentDepth", "Points",
                 "Contours", "CompositePoints", "CompositeContours"):  # fmt: skip
        setattr(most, f"max{name}", 0)
    font["post"].formatType = 3.0
    del font["CFF "]
    font.sfntVersion = "\0\1\0\0"
    again = io.BytesIO()
    font.save(again)
    return TTFont(io.BytesIO(again.getvalue()), recalcTimestamp=False)


def kerning(font: TTFont, letters: list[int]) -> list[list[int]]:
    """How much nearer (negative) or farther the second of each pair stands, in font units."""
    table, named = font["GPOS"].table, font.getBestCmap()
    used = {i for r in table.FeatureList.FeatureRecord for i in r.Feature.LookupListIndex}
    lookups = [
        [getattr(s, "ExtSubTable", s) for s in table.LookupList.Lookup[i].SubTable]
        for i in sorted(used)
    ]
    return [
        [sum(_pair(look, named[a], named[b]) for look in lookups) if _joined(a, b) else 0
         for b in letters]
        for a in letters
    ]  # fmt: skip


def _joined(a: int, b: int) -> bool:
    """Whether two letters are set in one go: those of two scripts are set apart, unkerned."""
    scripts = {script(chr(a)), script(chr(b))} - {"Zyyy", "Zinh"}
    return len(scripts) < 2


def _pair(subtables: list[Any], a: str, b: str) -> int:
    """One lookup's value: that of the first subtable that knows the pair."""
    for part in subtables:
        if a not in part.Coverage.glyphs:
            continue
        if part.Format == 1:
            for row in part.PairSet[part.Coverage.glyphs.index(a)].PairValueRecord:
                if row.SecondGlyph == b:
                    return _advance(row.Value1)
            continue
        first = part.ClassDef1.classDefs.get(a, 0)
        second = part.ClassDef2.classDefs.get(b, 0)
        return _advance(part.Class1Record[first].Class2Record[second].Value1)
    return 0


def _advance(value: Any) -> int:
    return int(getattr(value, "XAdvance", 0) or 0) if value is not None else 0


def classes(rows: list[list[int]]) -> tuple[list[int], list[list[int]]]:
    """Which of the different rows each one is, and these."""
    different: list[list[int]] = []
    return [_place(row, different) for row in rows], different


def _place(row: list[int], among: list[list[int]]) -> int:
    if row not in among:
        among.append(row)
    return among.index(row)


def widths(font: TTFont) -> dict[str, Any]:
    """Letters, glyphs, advances, and kerning by classes of letters: values[left[i]][right[j]]."""
    named = font.getBestCmap()
    letters = sorted(named)
    pairs = kerning(font, letters)
    left, rows = classes(pairs)
    right, columns = classes([list(c) for c in zip(*rows, strict=True)])
    return {
        "letters": "".join(map(chr, letters)),
        "glyphs": [font.getGlyphID(named[c]) for c in letters],
        "advances": [font["hmtx"][named[c]][0] for c in letters],
        "left": left, "right": right, "values": [list(r) for r in zip(*columns, strict=True)],
    }  # fmt: skip


def main(out: Path) -> None:
    faces, table = whole_faces(), {}
    (out / "typeface").mkdir(exist_ok=True)
    names = letters_of_names(out)
    for style, (whole, letters) in STYLES.items():
        font = cut(faces[whole], letters + (names if style == "regular" else ""))
        font.save(out / "typeface" / f"{style}.ttf", reorderTables=True)
        table[style] = widths(font)
        font.flavor = "woff2"
        font.save(out / "typeface" / f"{style}.woff2")
    assert font["head"].unitsPerEm == 1000
    text = json.dumps({"units_per_em": 1000, "styles": table}, ensure_ascii=False,
                      separators=(",", ":"))  # fmt: skip
    (out / "typeface" / "widths.json").write_text(text + "\n", encoding="utf-8")


if __name__ == "__main__":
    main(Path(sys.argv[1]))
