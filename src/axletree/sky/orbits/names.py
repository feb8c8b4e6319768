"""Which names and numbers mean a comet or a minor planet?

Public: ``BodyName``, ``comet_name``, ``minor_planet_name``, ``spoken``.
"""

from __future__ import annotations

import re

from axletree.kit.frozen import dataclass


@dataclass(frozen=True)
class BodyName:
    """How a body is called: `name` in full, `key` its designation alone, `certain` what can mean
    nothing else ('C/2023 A3', '1P', '(433)'), `short` what something else may be called too
    ('Eros', 'ATLAS', '433')."""

    name: str
    key: str
    certain: tuple[str, ...]
    short: tuple[str, ...]


def comet_name(written: str) -> BodyName | None:
    """'1P/Halley', 'C/2023 A3 (Tsuchinshan-ATLAS)', '73P-BB/Schwassmann-Wachmann', 'P/2010 H2';
    None where no designation is in it."""
    text = " ".join(written.split())
    numbered = re.fullmatch(r"(\d{1,4}[PDI](?:-[A-Z]{1,2}\d?)?)(?:/(.+))?", text)
    if numbered is not None:
        called = (numbered[2],) if numbered[2] else ()
        return BodyName(text, numbered[1], (text, numbered[1]), called)
    named = re.fullmatch(
        r"([CPDXAI]/(-?\d{1,4} [A-Z]{1,2}\d*(?:-[A-Z]{1,2}\d?)?))(?: ?\((.+)\))?", text
    )
    if named is None:
        return None
    short = (named[2], named[3]) if named[3] else (named[2],)
    return BodyName(text, named[1], (text, named[1]), short)


def minor_planet_name(number: int | None, designation: str | None, written: str) -> BodyName | None:
    """From the number or the designation that the packed letters mean, and the name as written:
    '(433) Eros', '2007 TA418'; None where nothing is said at all."""
    text = " ".join(written.split())
    match = re.fullmatch(r"\((\d+)\)(?: (.+))?", text)
    if match is not None:
        number, text = int(match[1]), match[2] or ""
    if number is not None:
        called = f"{number} {text}" if text else f"({number})"
        certain = (called, f"({number})", f"({number}) {text}".strip())
        return BodyName(called, f"({number})", certain, (str(number), *((text,) if text else ())))
    called = text or designation or ""
    return BodyName(called, called, (called,), ()) if called else None


def spoken(name: str) -> tuple[str, ...]:
    """All that people say for a body of this full name, the full one first."""
    comet = comet_name(name)
    if comet is not None:
        return (*comet.certain, *comet.short)
    numbered = re.fullmatch(r"(\d+) (.+)|\((\d+)\)", name)
    if numbered is None:
        return (name,)
    return (name, *(part for part in numbered.groups() if part))
