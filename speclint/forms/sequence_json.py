"""The order of work as JSON, by ``shared/schemas/sequence.json``; times are those of the job's place."""

from __future__ import annotations

import json
from collections.abc import Sequence as Many
from typing import Any

from speclint import __version__
from speclint.forms.moments import stamp_text, wait_text
from speclint.forms.safe import safe
from speclint.works.sequence import Calendar, Sequence, Stage
from speclint.works.waits import Length

SCHEMA_VERSION = "1.0"
Plain = dict[str, Any]


def sequence_json(found: Many[Sequence], calendar: Calendar, not_read: Many[tuple[str, str]] = ()) -> str:
    """All rooms as one JSON object in ASCII; the same plans, options and day give the same bytes."""
    whole = {
        "schemaVersion": SCHEMA_VERSION,
        "tool": {"name": "speclint", "version": __version__},
        "from": stamp_text(calendar.start),
        "notRead": [{"file": safe(file), "message": safe(why)} for file, why in not_read],
        "rooms": [_room(one) for one in found],
    }
    return json.dumps(whole, indent=2, ensure_ascii=True) + "\n"


def _room(one: Sequence) -> Plain:
    return {
        "plan": safe(one.plan),
        "room": safe(one.room),
        "steps": [_stage(stage) for stage in one.stages],
        "questions": [{"text": safe(ask.text), "answers": safe(ask.answers)} for ask in one.asks],
        "notes": [safe(note) for note in one.notes],
    }


def _stage(stage: Stage) -> Plain:
    return {
        "step": stage.step.name,
        "does": stage.step.does,
        "where": [safe(name) for name in stage.where],
        "begins": stamp_text(stage.begins),
        "ends": stamp_text(stage.ends),
        "sure": stage.sure,
        "state": stage.state,
        "daysLate": stage.late,
        "workingDays": stage.task.days,
        "lasts": _wait(stage.task.lasts) if stage.task.lasts.seconds else None,
        "waitsFor": [{"step": step.name, **_wait(wait)} for step, wait in stage.after],
        "tooSoonAfter": [
            {"does": clash.after, "until": stamp_text(clash.until), **_wait(clash.wait)} for clash in stage.too_soon
        ],
    }


def _wait(wait: Length) -> Plain:
    return {"seconds": wait.seconds, "by": wait.by, "text": wait_text(wait)}
