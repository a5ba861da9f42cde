"""Keeps what a learner was told, after a run or a rehearsal."""

from __future__ import annotations

from pathlib import Path

from assistant.commands.output import Out
from assistant.errors import WorldFailedError
from assistant.journal.learner_file import write_learner
from assistant.messages import Learner


def keep_learner(learner: Learner | None, folder: Path, engine_name: str, out: Out) -> None:
    """Keep it beside the journals; a file that cannot be written is told and ends nothing."""
    if learner is None:
        return
    try:
        path = write_learner(folder, engine_name, learner)
    except WorldFailedError as trouble:
        out.tell(f"what {learner.name} was told is not kept: {trouble}")
    else:
        out.tell(f"what {learner.name} was told: {path}")
