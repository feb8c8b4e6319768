"""What does a program get to know of an event: the table, and every telescope's evening?"""

from __future__ import annotations

import json
from typing import Any

from axletree.evening.event.share import Event
from axletree.tell.evening.data import evening_document
from axletree.tell.evening.document import evening_json
from axletree.tell.stop.text import why_here_words


def event_data(event: Event) -> dict[str, Any]:
    """The whole event as plain data: the table, and every telescope's evening document."""
    return {
        "format": "axletree event",
        "version": 1,
        "telescopes": list(event.labels),
        "table": [
            {
                "telescope": event.labels[slot.rig],
                "begin": slot.begin.isoformat(),
                "end": slot.end.isoformat(),
                "name": slot.name,
                "catalogue_id": slot.key,
                "why_here": why_here_words(slot.why_here, event.labels),
                "why_here_code": slot.why_here.because.value,
            }
            for slot in event.slots
        ],
        "evenings": [
            json.loads(evening_json(evening_document(planned.evening))) for planned in event.planned
        ],
    }
