"""What does a file look like after an accident? Seeded changes of kits, lists, headers, records.

A change is one of those that happen: a letter lost, a line twice, a number that is none, a cut, a
wrong key, a bit flipped, a page of nonsense in the middle. Mutant k of a kind is always the same.
"""

from __future__ import annotations

import copy
import json
import random
import re
from collections.abc import Callable
from functools import cache
from typing import Any

NUMBERS = (
    "nan", "inf", "-inf", "1e400", "-1", "0", "", "1e308", "-1e308", "9" * 400, "true", "0x10",
    "1_000", "1e-320", "12,5", "'7'", '"7"', "[]", "{}", "[1, 2]", "90.0000001", "-90", "360",
    "361", "1e6", "½", "٣", "2026-12-05", "12:30", "1979-05-27T07:32:00Z", "--", "-0.0", "NaN",
)  # fmt: skip
WORDS = (
    "", " ", "../../etc/passwd", "/etc/passwd", "C:\\windows\\x", "https://example.org/x.csv",
    "file:///etc/passwd", "\\u0000", "é" * 300, "💥", "'; DROP TABLE evening; --", "{{7*7}}",
    "%s%n", "$(touch x)", "`touch x`", "None", "nan", "a\\nb", "\u202egnp", "-" * 90, "=1+1",
    "north", "east", "hour", "newtonian", "Sun", "M31", "UTC", "Mars/Olympus", "..", "con",
)  # fmt: skip
NOISE = "\x00\x01\x07\x1b[31m\x7f\x85\u2028\ufeff\ud7ff￿\"'\\[]{}=#,;:\t\r\n\x0b\x0c√"
NUMBER = re.compile(r"(?<![\w.])-?\d+(?:\.\d+)?(?:e[+-]?\d+)?")
QUOTED = re.compile(r'"[^"\n]*"')
KEY = re.compile(r"^[ \t]*[\w-]+(?=\s*=)", re.M)

Mutation = Callable[[random.Random, str], str]


def _at(rng: random.Random, text: str) -> int:
    return rng.randrange(len(text) + 1)


def _one_of(rng: random.Random, text: str, pattern: re.Pattern[str], other: str) -> str:
    found = list(pattern.finditer(text))
    if not found:
        return text + other
    m = rng.choice(found)
    return text[: m.start()] + other + text[m.end() :]


def drop_letter(rng: random.Random, text: str) -> str:
    k = _at(rng, text)
    return text[:k] + text[k + 1 :]


def drop_piece(rng: random.Random, text: str) -> str:
    k = _at(rng, text)
    return text[:k] + text[k + rng.randrange(1, 200) :]


def cut(rng: random.Random, text: str) -> str:
    return text[: _at(rng, text)]


def put_noise(rng: random.Random, text: str) -> str:
    k = _at(rng, text)
    return text[:k] + "".join(rng.choice(NOISE) for _ in range(rng.randrange(1, 6))) + text[k:]


def other_number(rng: random.Random, text: str) -> str:
    return _one_of(rng, text, NUMBER, rng.choice(NUMBERS))


def scaled_number(rng: random.Random, text: str) -> str:
    found = list(NUMBER.finditer(text))
    if not found:
        return text
    m = rng.choice(found)
    factor = rng.choice((-1.0, 0.001, 0.1, 0.5, 2.0, 10.0, 1000.0, 25.4))
    return f"{text[: m.start()]}{float(m[0]) * factor:g}{text[m.end() :]}"


def other_word(rng: random.Random, text: str) -> str:
    return _one_of(rng, text, QUOTED, '"' + rng.choice(WORDS).replace('"', "") + '"')


def other_key(rng: random.Random, text: str) -> str:
    found = list(KEY.finditer(text))
    if not found:
        return text
    m = rng.choice(found)
    key = m[0]
    kinds = (key[:-1], key.upper(), key + "_mm", key[::-1], rng.choice(found)[0], f'"{key}"',
             f"site.{key.strip()}", "file", "own_objects_file", "__class__")  # fmt: skip
    return text[: m.start()] + rng.choice(kinds) + text[m.end() :]


def drop_line(rng: random.Random, text: str) -> str:
    lines = text.splitlines(keepends=True)
    if lines:
        del lines[rng.randrange(len(lines))]
    return "".join(lines)


def double_line(rng: random.Random, text: str) -> str:
    lines = text.splitlines(keepends=True)
    if lines:
        lines.insert(rng.randrange(len(lines)), rng.choice(lines))
    return "".join(lines)


def swap_lines(rng: random.Random, text: str) -> str:
    lines = text.splitlines(keepends=True)
    if len(lines) > 1:
        a, b = rng.randrange(len(lines)), rng.randrange(len(lines))
        lines[a], lines[b] = lines[b], lines[a]
    return "".join(lines)


def line_ends(rng: random.Random, text: str) -> str:
    return text.replace("\n", rng.choice(("\r\n", "\r", "\n\n", "")))


def repeat(rng: random.Random, text: str) -> str:
    k = _at(rng, text)
    return text[:k] + text[k : k + rng.randrange(1, 9)] * rng.choice((3, 50, 3000)) + text[k:]


def nest(rng: random.Random, text: str) -> str:
    deep = rng.choice((3, 90, 5000))
    return _one_of(rng, text, NUMBER, "[" * deep + "1" + "]" * deep)


def other_marks(rng: random.Random, text: str) -> str:
    return text.replace(rng.choice(",;\"'=[]#.:"), rng.choice(",;\t|\"'=[]#. "))


TEXT: tuple[Mutation, ...] = (
    drop_letter, drop_piece, cut, put_noise, other_number, other_number, other_number,
    scaled_number, scaled_number, other_word, other_word, other_key, other_key, drop_line,
    double_line, swap_lines, line_ends, repeat, nest, other_marks,
)  # fmt: skip


def text_mutant(rng: random.Random, text: str) -> bytes:
    """A text after one to three accidents, sometimes in another coding or with bits flipped."""
    for _ in range(rng.choice((1, 1, 1, 2, 3))):
        text = rng.choice(TEXT)(rng, text)
    coding = rng.choices(("utf-8", "utf-8-sig", "latin-1", "utf-16"), (40, 2, 2, 1))[0]
    data = text.encode(coding, errors="replace")
    return flipped(rng, data) if rng.random() < 0.05 else data


def flipped(rng: random.Random, data: bytes) -> bytes:
    """Bytes with a few bits flipped."""
    out = bytearray(data)
    for _ in range(rng.randrange(1, 9)):
        if out:
            out[rng.randrange(len(out))] ^= 1 << rng.randrange(8)
    return bytes(out)


def json_mutant(rng: random.Random, data: Any) -> bytes:
    """Plain data with values of another kind put somewhere within, or a mutant of its text."""
    text = json.dumps(data, ensure_ascii=False, indent=1)
    if rng.random() < 0.4:
        return text_mutant(rng, text)
    spoilt = json.loads(text)
    for _ in range(rng.choice((1, 1, 2, 4))):
        _spoil(rng, spoilt)
    return json.dumps(spoilt, ensure_ascii=False).encode("utf-8", errors="replace")


ODD_VALUES: tuple[Any, ...] = (
    None, True, False, 0, -1, 1e308, float("nan"), float("inf"), 10**30, 2**63, "", "x", "2026",
    "2026-13-45", "\x00", "\ud800", [], {}, [1], {"a": 1}, "done", -0.0, "1" * 5000, 1.5,
)  # fmt: skip


def _spoil(rng: random.Random, data: Any) -> None:
    while True:
        if isinstance(data, dict) and data:
            key: Any = rng.choice(list(data))
        elif isinstance(data, list) and data:
            key = rng.randrange(len(data))
        else:
            return
        inner = data[key]
        if isinstance(inner, (dict, list)) and inner and rng.random() < 0.8:
            data = inner
            continue
        what = rng.randrange(5)
        if what == 0 and isinstance(data, dict):
            del data[key]
        elif what == 1 and isinstance(data, dict):
            other = rng.choice(("id", "uid", "surprise", "at", ""))
            data[other] = copy.deepcopy(rng.choice(ODD_VALUES))
        elif what == 2 and isinstance(data, list):
            data.append(copy.deepcopy(inner))
        else:
            data[key] = copy.deepcopy(rng.choice(ODD_VALUES))
        return


def card(word: str, value: str) -> str:
    """One card of a FITS header (FITS Standard 4.0, section 4.1)."""
    return f"{word:<8}= {value:>20}"[:80].ljust(80)


CARDS = {
    "SIMPLE": "T", "BITPIX": "8", "NAXIS": "2", "NAXIS1": "40", "NAXIS2": "30",
    "DATE-OBS": "'2026-12-05T20:25:00'", "EXPTIME": "10.0", "CTYPE1": "'RA---TAN'",
    "CTYPE2": "'DEC--TAN'", "CRVAL1": "41.0", "CRVAL2": "70.0", "CRPIX1": "20.5",
    "CRPIX2": "15.5", "CD1_1": "-0.0008", "CD1_2": "0.0001", "CD2_1": "0.0001",
    "CD2_2": "0.0008", "CUNIT1": "'deg'", "RADESYS": "'ICRS'", "INSTRUME": "'box'",
    "A_ORDER": "2", "A_2_0": "1e-7", "B_ORDER": "2", "B_0_2": "1e-7", "TIMESYS": "'UTC'",
}  # fmt: skip
ODD_CARDS = {
    "CTYPE1": ("'RA---SIN'", "'RA---XYZ'", "'GLON-TAN'", "'RA'", "41", "'DEC--TAN'", "'RA---TPV'"),
    "CTYPE2": ("'DEC--SIN'", "'GLAT-TAN'", "'DEC--ZEA'", "'DEC--TPV'"),
    "RADESYS": ("'FK5'", "'FK4'", "'MOON'", "2000"), "EQUINOX": ("1950.0", "0", "-1e9", "'x'"),
    "DATE-OBS": ("'05/12/99'", "'2026-12-05'", "'yesterday'", "'2026-02-30T10:00:00'", "2026",
                 "'0000-01-01T00:00:00'", "'9999-12-31T23:59:59.9999'",
                 "'2026-12-05T25:00:00'"),
    "TIMESYS": ("'TT'", "'GPS'", "'MARS'", "'TAI'", "3"), "MJD-OBS": ("61379.8", "1e30", "-5"),
    "LONPOLE": ("0.0", "1e300"), "CUNIT1": ("'rad'", "''"), "PV1_1": ("1.0", "1e300"),
    "CDELT1": ("0", "-0.001"), "PC1_1": ("1e200",), "CROTA2": ("1e9",),
    "AP_ORDER": ("9", "-1"), "A_ORDER": ("9", "99", "-3", "1.5", "'x'"),
    "NAXIS": ("0", "999", "-2"),
    "BITPIX": ("-64", "7", "'x'", "1000000"), "PCOUNT": ("-99999", "999999999999"),
    "EXPTIME": ("-1", "1e9", "'long'"), "ZIMAGE": ("T",), "SIMPLE": ("F", "'T'"),
    "AMDX1": ("1.0", "1e300"), "PLTRAH": ("5",), "PPO3": ("1",), "CRDER2": ("-1", "0.001"),
}  # fmt: skip


def fits_bytes(cards: dict[str, str], end: bool = True) -> bytes:
    """A FITS file of one part with no more data than its axes say (at most 2 kB)."""
    head = "".join(card(w, v) for w, v in cards.items()) + ("END".ljust(80) if end else "")
    head = head.ljust(-(-len(head) // 2880) * 2880)
    return head.encode("latin-1", errors="replace") + bytes(2880)


def fits_mutant(rng: random.Random) -> bytes:
    """A frame's header after accidents."""
    cards = dict(CARDS)
    cards["CRVAL1"] = f"{rng.uniform(0, 360):.4f}"
    for _ in range(rng.choice((1, 1, 2, 3, 5))):
        what = rng.randrange(5)
        if what == 0:
            cards.pop(rng.choice(list(cards)), None)
        elif what == 1:
            cards[rng.choice(list(cards))] = rng.choice(NUMBERS)
        elif what == 2:
            cards[rng.choice(list(cards))] = f"'{rng.choice(WORDS)}'"
        else:
            word = rng.choice(list(ODD_CARDS))
            cards[word] = rng.choice(ODD_CARDS[word])
    data = fits_bytes(cards, end=rng.random() > 0.05)
    if rng.random() < 0.1:
        data = flipped(rng, data)
    if rng.random() < 0.1:
        data = data[: rng.randrange(len(data))]
    return data


DRIFTS = """\
star,started,watched_s,drift_arcsec,sigma_arcsec
Altair,19:20,600,-12.5,1.5
Markab,19:40,600,4.0,1.5
Menkar,20:00,600,9.0,1.5
Capella,20:20:30,600,11.5,1.5
"""
SEEN_DRIFTS = """\
hour_angle_h;declination_deg;watched_s;divisions;division_arcsec;towards;west_is;view;tube_side
0,25;10:30;300;3,0;2,5;up;right;straight;east
-5:10;20,5;300;1,0;2,5;down;right;straight;west
"""
SERIES = """\
star,read_at,offset_arcsec,sigma_arcsec
Altair,19:20,0,1
Altair,19:25,-3,1
Altair,19:30,-6.5,1
,19:35,-9,1
Menkar,20:00,0,1
Menkar,20:10,4,1
"""
READINGS = """\
star,read_at,tube_side,hour_circle_h,declination_circle_deg
Altair,19:20,east,3:05,8.7
Markab,19:40,east,0:41,15.0
Menkar,20:00,west,20.5,4.0
Capella,20:20,west,18:40,46.2
"""
RA_READINGS = """\
star,read_at,tube_side,ra_circle_h,declination_circle_deg
Altair,19:20,east,19:52,8.7
Menkar,20:00,west,3:02,4.0
Capella,20:20,west,5:18,46.2
"""
SKYLINE = """\
azimuth;altitude
0; 12,5
45; 20  # the oak
90; 8
135;?
180; 18
270; 14
"""
OWN = """\
name,ra_h,dec_deg,magnitude,size_arcmin,kind,at,note
My comet,5.5,-5.4,6.5,4,comet,2026-12-05T20:00,faint
My comet,5.6,-5.2,6.5,4,comet,2026-12-06T20:00,faint
Lost cluster,3:47,24:07,4.2,60,open cluster,,two eyes
Red one,21:42:00,+35:31,7.9,,star,,
"""


@cache
def kit_texts() -> tuple[str, ...]:
    """Kits to begin with: the demo kits, a new one, and one of the random rigs."""
    import tomlkit
    from evenings import trial

    from axletree.kit.kit import demo_text
    from axletree.kit.writing.template import new_kit_text

    random_kit = tomlkit.dumps(trial(23).kit.model_dump(
        mode="json", by_alias=True, exclude_none=True, exclude={"guessed"}
    ))  # fmt: skip
    return demo_text("courtyard"), demo_text("paddock"), new_kit_text(), random_kit
