"""How does the app's memory stay flat over an evening with many visitors?

Python looks for rings of things that nobody needs when a quarter more has come than all that lasts:
with the modules among it that is after half an hour, 10 MB of an evening planned again and again.
`settle` puts what was loaded aside, and `give_back` looks through the rest.

glibc gives threads up to eight pools a processor, each of which keeps what it once held: without
`share_memory` an evening would grow by 2 MB a minute. It also learns to take ever larger pieces
from the pools (15 MB more), and a pool keeps its free pieces. Other C libraries have no such calls.
"""

from __future__ import annotations

import asyncio
import ctypes
import gc
from contextlib import suppress

# glibc's malloc.h: how many pools of memory the threads share; from how many bytes on a piece is
# the system's own and goes back at once (its first value, which then stays).
M_ARENA_MAX, POOLS = -8, 2
M_MMAP_THRESHOLD, OWN_BYTES = -3, 128 * 1024
# Our figure. To give back takes 5 to 12 ms.
GIVE_BACK_EVERY_S = 30.0
_NO_SUCH_CALL = (OSError, AttributeError, TypeError)


def share_memory() -> None:
    """Let all threads take memory from two pools, and large pieces from the system."""
    with suppress(*_NO_SUCH_CALL):
        for what, number in ((M_ARENA_MAX, POOLS), (M_MMAP_THRESHOLD, OWN_BYTES)):
            ctypes.CDLL(None).mallopt(what, number)


def settle() -> None:
    """What has been loaded stays: no search for rings looks through it any more."""
    gc.collect()
    gc.freeze()


def give_back() -> None:
    """Free what hangs together in rings, and return the free pieces of all pools to the system."""
    gc.collect()
    with suppress(*_NO_SUCH_CALL):
        ctypes.CDLL(None).malloc_trim(0)


async def go_on_giving_back() -> None:
    """The same, again and again, until it is cancelled."""
    while True:
        await asyncio.sleep(GIVE_BACK_EVERY_S)
        give_back()
