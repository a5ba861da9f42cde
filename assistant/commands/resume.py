"""Going on with the last unfinished journal: the session is rebuilt by replaying it."""

from __future__ import annotations

import gc
import time
from dataclasses import dataclass
from pathlib import Path

from assistant.commands.session_build import parts_of
from assistant.dialogue.session import Session
from assistant.errors import InputWrongError, NotRightError
from assistant.journal import reader
from assistant.journal.lock import lock_engine
from assistant.journal.writer import Journal
from assistant.messages import DueSoon, Event, Resumed, Started

CLOCK_SET_BACK = "The clock was set back. How long the break was is not known."


@dataclass(frozen=True, slots=True)
class SessionStart:
    """What there is to go on with. notice: to be said before the first event, empty for nothing."""

    journal: Journal
    session: Session
    first: Event
    notice: str


def resume(
    folder: Path, name: str, due: tuple[DueSoon, ...] | None = None, now_s: float | None = None
) -> SessionStart:
    """Rebuild the last unfinished session of an engine.

    due: for a session that was broken off before it began. now_s: by the clock of the system, as
    the times of files are. InputWrongError when there is none, NotRightError when it was altered,
    WorldFailedError when somebody else is writing it.
    """
    if not folder.is_dir():
        raise InputWrongError(_nothing_to_resume(folder, name))
    try:
        return _reopen(folder, name, due, now_s)
    finally:
        gc.unfreeze()


def _reopen(
    folder: Path, name: str, due: tuple[DueSoon, ...] | None, now_s: float | None
) -> SessionStart:
    lock = lock_engine(folder, name)  # before it is read: whoever still writes is not to add to it
    try:
        with reader.gc_paused():
            kept = _unfinished_journal(folder, name)
            gc.freeze()  # the book stays meanwhile: no search for circles need go through it
        path = kept.path
        written_s = path.stat().st_mtime
    except BaseException:
        lock.release()
        raise
    journal = Journal.reopen(path, name, kept, lock)
    try:
        session, last = _rebuild(kept)
    except BaseException:
        journal.close()
        raise
    away = (time.time() if now_s is None else now_s) - written_s
    if last is None:
        return SessionStart(journal, session, Started(0.0, due=due), "")
    notice = CLOCK_SET_BACK if away < 0.0 else ""
    away = max(away, 0.0)
    return SessionStart(journal, session, Resumed(last + away, away), notice)


def _unfinished_journal(folder: Path, name: str) -> reader.JournalRecords:
    kept = reader.last_unfinished(folder, name)
    if kept is None:
        raise InputWrongError(_nothing_to_resume(folder, name))
    if kept.state == "altered":
        raise NotRightError(
            f"{kept.path}: was altered and is not gone on with: {kept.why};"
            " begin a new one without --resume"
        )
    return kept


def _rebuild(kept: reader.JournalRecords) -> tuple[Session, float | None]:
    """The session as it was, and the time of its last event; None before the first."""
    session = Session(parts_of(reader.require_header(kept)))
    last = None
    for turn in kept.exchanges():
        session.handle(turn.event)
        last = turn.event.at
    return session, last


def _nothing_to_resume(folder: Path, name: str) -> str:
    ended = reader.journals_of(folder, name)
    if not ended:
        return f"no unfinished journal of {name!r} in {folder}: there is none at all"
    return (
        f"no unfinished journal of {name!r} in {folder}: the last one, {ended[-1].name},"
        " came to its end; begin a new one without --resume"
    )
