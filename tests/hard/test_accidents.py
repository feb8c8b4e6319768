"""Files after an accident: one answer or one line that names the place, nothing else.

A sample of the seeded mutants here; ten thousand of each kind by `make long`.
"""

from __future__ import annotations

import pytest
from accidents import KINDS, trouble

SAMPLE = {"kit": 50, "list": 40, "frame": 30, "record": 40, "sheet": 8}
# Mutants that once went wrong: a traceback, a warning, a refusal that named nothing.
ONCE_WRONG = {
    "kit": (1117, 1461, 1951, 3524), "list": (83, 1473, 3077),
    "frame": (132, 1172, 1319, 123456825), "sheet": (),
    "record": (65, 1136, 1377, 1529, 1773, 3236, 3252, 3797),
}  # fmt: skip


@pytest.mark.parametrize("kind", KINDS)
def test_spoilt_files_are_refused_in_one_line(kind):
    wrong = [o for o in trouble(kind, range(20_000, 20_000 + SAMPLE[kind])) if o.wrong]
    assert not wrong, "\n".join(w for o in wrong for w in (f"{o.number}:", *o.wrong))


@pytest.mark.parametrize("kind", KINDS)
def test_what_once_went_wrong_stays_right(kind):
    wrong = [o for o in trouble(kind, ONCE_WRONG[kind]) if o.wrong]
    assert not wrong, "\n".join(w for o in wrong for w in (f"{o.number}:", *o.wrong))
