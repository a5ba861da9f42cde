"""What of an engine's due dates is to be said at the start: its file, today, its journals."""

from __future__ import annotations

import datetime
from pathlib import Path

from assistant.config.engine_file import EngineFile
from assistant.journal.due_standing import worth_saying
from assistant.journal.index import index_of
from assistant.messages import DueSoon


def due_soon(engine: EngineFile, started: str, folder: Path) -> tuple[DueSoon, ...] | None:
    """What is overdue or nearly so; None when the engine file gives no due dates.

    started: ISO 8601. folder: this engine's journals, read only where hours in steam count.
    """
    if not engine.due:
        return None
    today = datetime.datetime.fromisoformat(started).date()
    by_hours = any(due.every_hours is not None for due in engine.due)
    name = engine.engine.name
    kept = [e for e in index_of(folder, name)[0] if e.engine_name == name] if by_hours else []
    found = worth_saying(engine.due, today, kept)
    return tuple(DueSoon(one.name, one.days_left, one.hours_left) for one in found)
