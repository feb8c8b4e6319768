"""In which order do the hands work at the site?

One home for the order: the commands' help, the app's pages, the handbook and the run sheet's
set-up take it from here. The axis is put on the pole last, when the load that bends the tripod and
settles the head is on it (common practice, no source).
"""

from __future__ import annotations

SET_UP = ("spot", "level", "north", "balance", "pole", "check")
AT_THE_EYEPIECE = ("point", "find", "follow")
JOB = SET_UP + AT_THE_EYEPIECE
