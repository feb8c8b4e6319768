"""Who is here, and who leads?

A seat is one browser, known by a random cookie. One leads and may change things; the others
look until the leader hands over. Whoever sits at the machine itself can always take the lead.
"""

from __future__ import annotations

import secrets
import threading
from dataclasses import dataclass, field

MOST_SEATS = 60
LONGEST_NAME = 30


@dataclass
class Seat:
    """One browser. `here`: on this very machine. `links`: how many of its pages are open."""

    token: str
    name: str
    here: bool
    links: int = 0
    asks: bool = False
    number: int = field(default=0)


class Seats:
    """All seats of a running app."""

    def __init__(self) -> None:
        self._seats: dict[str, Seat] = {}
        self._leader: str | None = None
        self._count = 0
        self._lock = threading.Lock()

    def of(self, token: str | None) -> Seat | None:
        """The seat behind a cookie, or None."""
        return self._seats.get(token) if token else None

    def numbered(self, number: int) -> Seat | None:
        """The seat with this number, or None."""
        return next((s for s in self._seats.values() if s.number == number), None)

    def take(self, name: str, *, here: bool) -> Seat:
        """A new seat; it leads if nobody does. When all are taken an empty one makes room."""
        with self._lock:
            self._make_room()
            self._count += 1
            plain = " ".join(name.split())[:LONGEST_NAME]
            name = plain or ("the computer" if here else f"guest {self._count}")
            seat = Seat(secrets.token_urlsafe(32), name, here, number=self._count)
            self._seats[seat.token] = seat
            if self._leader is None:
                self._leader = seat.token
            return seat

    def _make_room(self) -> None:
        while len(self._seats) >= MOST_SEATS:
            empty = [t for t, s in self._seats.items() if s.links == 0 and t != self._leader]
            token = empty[0] if empty else next(t for t in self._seats if t != self._leader)
            del self._seats[token]

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
