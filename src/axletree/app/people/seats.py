"""Who is here, and who leads?

A seat is one browser, known by a random cookie. One leads and may change things; the others
look until the leader hands over. Whoever sits at the machine itself can always take the lead.
"""

from __future__ import annotations

import secrets
import threading
from dataclasses import dataclass, field

from starlette.requests import Request

from axletree.app.people.line import Line
from axletree.app.people.printable import printable
from axletree.app.people.turns import Turns

MOST_SEATS = 60
LONGEST_NAME = 30
AT_THE_MACHINE = "the computer"


@dataclass
class Seat:
    """One browser. `here`: on this very machine. `links`: how many of its pages are open, `busy`:
    how many of its questions are under way. `light`: the one it chose last, '' for none."""

    token: str
    name: str
    here: bool
    links: int = 0
    busy: int = 0
    asks: bool = False
    light: str = ""
    number: int = field(default=0)
    turns: Turns = field(default_factory=Turns)


def seat_of(request: Request) -> Seat | None:
    """The seat behind a request."""
    found: Seat | None = request.scope.get("state", {}).get("seat")
    return found


class Seats:
    """All seats of a running app."""

    def __init__(self) -> None:
        self._seats: dict[str, Seat] = {}
        self._leader: str | None = None
        self._count = 0
        self._lock = threading.Lock()
        self.line = Line()

    def of(self, token: str | None) -> Seat | None:
        """The seat behind a cookie, or None."""
        return self._seats.get(token) if token else None

    def numbered(self, number: int) -> Seat | None:
        """The seat with this number, or None."""
        return next((s for s in self._seats.values() if s.number == number), None)

    def take(self, name: str, *, here: bool) -> Seat:
        """A new seat; it leads if nobody does. When all are taken another makes room.

        Names are shown to others: without what can't be seen, and no two alike.
        """
        with self._lock:
            self._make_room()
            self._count += 1
            name = self._called(printable(name, LONGEST_NAME), here)
            seat = Seat(secrets.token_urlsafe(32), name, here, number=self._count)
            self._seats[seat.token] = seat
            if self._leader is None:
                self._leader = seat.token
            return seat

    def _called(self, name: str, here: bool) -> str:
        if not name:
            return AT_THE_MACHINE if here else f"guest {self._count}"
        taken = {s.name.casefold() for s in self._seats.values()} | {AT_THE_MACHINE}
        return f"{name} ({self._count})" if name.casefold() in taken else name

    def _make_room(self) -> None:
        """Seats at the machine itself go first: they need no code to come back, and a program
        there that keeps no cookie must not push the guests out. Then those with no page open."""
        while len(self._seats) >= MOST_SEATS:
            others = [t for t in self._seats if t != self._leader]
            first = min(others, key=lambda t: (not self._seats[t].here, self._seats[t].links > 0))
            del self._seats[first]

    def leads(self, seat: Seat | None) -> bool:
        """True for the seat that may change things."""
        return seat is not None and seat.token == self._leader

    @property
    def leader(self) -> Seat | None:
        """Who leads."""
        return self.of(self._leader)

    def hand_over(self, seat: Seat) -> None:
        """Give the lead to a seat."""
        with self._lock:
            self._leader = seat.token
            for other in self._seats.values():
                other.asks = False

    def present(self) -> list[Seat]:
        """Seats with an open page, and the leader, in order of coming."""
        return [s for s in self._seats.values() if s.links or s.token == self._leader]
