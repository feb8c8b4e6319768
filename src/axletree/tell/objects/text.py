"""How is the list of objects, and the year of one object, put into words?"""

from __future__ import annotations

import math
from collections.abc import Sequence
from datetime import date, datetime
from itertools import groupby

from axletree.evening.objects.listing import Listed
from axletree.evening.seeing.grades import visibility_of
from axletree.evening.seeing.visibility import SURE
from axletree.evening.year.best_nights import NightOf
from axletree.kit.kit import Kit
from axletree.sky.catalogue.constellations import constellation_name
from axletree.sky.catalogue.objects import SkyObject
from axletree.stages.night.best_nights import BestNightsAnswer
from axletree.stages.night.objects import ObjectsAnswer
from axletree.tell.orbit.text import orbit_words
from axletree.tell.seeing.text import facts_words, sky_words, visibility_words
from axletree.tell.shared.paragraphs import paragraph, sections
from axletree.tell.shared.text import rotation_words
from axletree.tell.shared.words import clock, compass_point, degrees, weekday_words
from axletree.tell.side.text import side_reason_words
from axletree.tell.special.on_object_text import on_object_words

MONTHS = ("January", "February", "March", "April", "May", "June", "July", "August", "September",
          "October", "November", "December")  # fmt: skip


def titled(target: SkyObject) -> str:
    """'M13 (Hercules Cluster), globular cluster in Hercules'."""
    called = f" ({', '.join(target.common_names[:2])})" if target.common_names else ""
    where = constellation_name(target.constellation)
    kind = "" if target.kind == target.name.casefold() else f", {target.kind}"
    return f"{target.name}{called}{kind}" + (f" in {where}" if where else "")


def reason_words(row: Listed, times: Sequence[datetime], kit: Kit) -> str:
    """Why it is worth a look, or why not: how well, when, where, in which eyepiece."""
    margin = row.margin_mag
    sight = visibility_words(visibility_of(margin))
    seen = [k for k, shown in enumerate(row.shows) if shown]
    place = f"{row.altitude_deg:.0f}° high in the {compass_point(row.azimuth_deg)}"
    zone = kit.site.zone
    if len(times) == 1:
        when = place
    elif seen:
        span = f"{clock(times[seen[0]], zone)} to {clock(times[seen[-1]], zone)}"
        when = f"{span}, best at {clock(times[row.best], zone)}, {place}"
    else:
        when = f"at its best {place} at {clock(times[row.best], zone)}"
    facts = facts_words(row.facts)
    if math.isfinite(margin) and margin < SURE and row.target.separation_arcsec is None:
        word = "above" if margin >= 0 else "below"
        facts += f"{'; ' if facts else ''}{abs(margin):.1f} mag {word} what the eye needs"
    view = view_words(row.magnification, row.exit_pupil_mm, row.true_field_deg, row.size_arcmin)
    text = f"{sight[:1].upper()}{sight[1:]}: {when}. {row.eyepiece}: {view}."
    if row.choice is not None:
        better = row.choice.better
        text += (
            f" Tube {better}." if better else f" {side_reason_words(row.choice, kit.habits.units)}"
        )
    return f"{text} {facts[:1].upper()}{facts[1:]}." if facts else text


def happens_words(row: Listed, times: Sequence[datetime], kit: Kit) -> str:
    """What happens on it in these hours, without a full stop; '' where nothing does."""
    return on_object_words(row.on_it, times[0], times[-1], kit.site.zone)


def side_words(row: Listed, kit: Kit) -> str | None:
    """Why one tube side is the better one; None where nobody looked."""
    return None if row.choice is None else side_reason_words(row.choice, kit.habits.units)


def view_words(
    power: float, exit_pupil_mm: float, true_field_deg: float, size_arcmin: float
) -> str:
    """What the eyepiece does for an object of this size (nan: unknown), in a few words."""
    text = f"{power:.0f} times, exit pupil {exit_pupil_mm:.1f} mm"
    field = true_field_deg * 60.0
    if math.isfinite(size_arcmin) and size_arcmin > 0:
        if field < size_arcmin:
            text += f", a field of {field:.0f}′ for {size_arcmin:.0f}′: sweep over it"
        elif field < 4.0 * size_arcmin:
            text += f", fills {size_arcmin / field * 100:.0f} % of the field"
    return text


def notes_words(answer: ObjectsAnswer) -> list[str]:
    """Rows of one's own list that were left out, and doubts about the Earth's rotation."""
    doubts = rotation_words(answer.doubts)
    return [*(str(row.refusal) for row in answer.broken_rows), *([doubts] if doubts else [])]


def objects_text(answer: ObjectsAnswer) -> str:
    """The list as text of at most 80 columns."""
    kit, listing, times, sky = answer.kit, answer.listing, answer.times, answer.sky
    notes = notes_words(answer)
    zone = kit.site.zone
    first, last = times[0].astimezone(zone), times[-1].astimezone(zone)
    span = f"{clock(first, zone)}" + (f" to {clock(last, zone)}" if len(times) > 1 else "")
    head = paragraph(
        f"{kit.site.name}, {weekday_words(first)}, {span}: {len(listing.rows)} of {listing.seen} "
        f"that show, with stars overhead down to {listing.limit_mag:.1f} mag"
    )
    if not listing.rows:
        head = paragraph(
            f"{kit.site.name}, {weekday_words(first)}, {span}: nothing of what you asked for shows."
        )
    rows = []
    for number, row in enumerate(listing.rows, start=1):
        pin = "must see; " if row.must else ""
        rows.append(paragraph(f"{number:2d}. {titled(row.target)}", hang="    "))
        rows.append(paragraph(pin + reason_words(row, times, kit), "    "))
        rows += [paragraph(f"Mind: {words}.", "    ") for words in orbit_words(row.target)]
        if happens := happens_words(row, times, kit):
            rows.append(paragraph(f"Tonight: {happens}.", "    "))
        if row.target.note:
            rows.append(paragraph(f"Note: {row.target.note}.", "    "))
    tail = [
        f"{listing.up} of {listing.matching} objects of these kinds clear the skyline and "
        f"{kit.habits.lowest_altitude_deg:.0f}°; {listing.seen} of them show."
    ]
    if listing.unknown:
        tail.append(
            f"{listing.unknown} more have no known brightness or size in the catalogue: unknown, "
            "so left out."
        )
    tail += [f"Assumed: {words}." for words in map(sky_words, sky.assumed)]
    tail += [f"Left out: {words}." for words in notes]
    return sections(head, "\n".join(rows), "\n".join(paragraph(t, hang="  ") for t in tail))


def best_nights_text(answer: BestNightsAnswer, count: int) -> str:
    """When in the year an object is best here, the months, and the best nights."""
    kit, year = answer.kit, answer.year
    first, last = year.nights[0].date, year.nights[-1].date
    best = year.best(min(count, 12))
    name = year.target.name
    if best:
        seasons = " and ".join(_span(a, b, first, last) for a, b in year.seasons)
        head = f"{name} shows here in the evening {seasons}; best on {_day(best[0].date)}."
    elif any(night.night_h for night in year.nights):
        head = f"{name} shows here only after the evening is over, later in the night."
    else:
        head = (
            f"{name} doesn't show here between {_day(first)} and {_day(last)}: too low, behind the "
            "skyline, or too faint for this telescope under this sky."
        )
    months = ["month       evening  night  highest  nights"]
    for (_, month), found in groupby(year.nights, key=lambda n: (n.date.year, n.date.month)):
        months.append(_month(month, list(found)))
    lines = [
        f"  {_day(n.date)}  {clock(n.best, kit.site.zone) if n.best else '':5}  "
        f"{degrees(n.altitude_deg, 0):>4} high, {visibility_words(visibility_of(n.margin_mag))}"
        + ("; Moon up" if n.moon else "")
        for n in best
    ]
    return sections(
        paragraph(titled(year.target)),
        paragraph(head),
        "\n".join(months) if any(n.night_h for n in year.nights) else "",
        "\n".join(["Best nights:", *lines]) if lines else "",
        paragraph(
            "Evening and night are hours a night that it shows, on average; nights are those on "
            f"which it shows in the evening. Lowest useful altitude "
            f"{kit.habits.lowest_altitude_deg:.0f}°, or the skyline."
        ),
    )


def _month(month: int, nights: list[NightOf]) -> str:
    shown = [n for n in nights if n.evening_h > 0]
    evening = sum(n.evening_h for n in nights) / len(nights)
    night = sum(n.night_h for n in nights) / len(nights)
    heights = [n.altitude_deg for n in nights if math.isfinite(n.altitude_deg)]
    high = f"{max(heights):.0f}°" if heights else "-"
    return (
        f"{MONTHS[month - 1]:<10} {evening:6.1f} h {night:4.1f} h {high:>8} "
        f"{len(shown):>4}/{len(nights)}"
    )


def _span(a: date, b: date, first: date, last: date) -> str:
    if a == first and b == last:
        return "all year" if (last - first).days > 330 else "all these nights"
    if a == first:
        return f"until {_day(b)}"
    return f"from {_day(a)}" if b == last else f"from {_day(a)} to {_day(b)}"


def _day(day: date) -> str:
    return f"{day.day} {MONTHS[day.month - 1][:3]} {day.year}"
