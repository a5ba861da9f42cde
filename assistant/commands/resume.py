"""Resuming the last unfinished journal: the session is rebuilt by replaying its events."""

from __future__ import annotations

import gc
import time
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from assistant.commands.break_length import break_length, recorded_s
from assistant.commands.options import refuse_invented
from assistant.commands.replayed_session import ReplayedSession
from assistant.commands.session_build import session_config_of
from assistant.config.engine_file import engine_from_text
from assistant.dialogue.session import Session
from assistant.errors import InputWrongError, NotRightError
from assistant.journal import reader
from assistant.journal.lock import lock_engine
from assistant.journal.writer import Journal
from assistant.messages import DueSoon, Event, Resumed, Started


class NothingToResumeError(InputWrongError):
    """No journal to go on with."""


@dataclass(frozen=True, slots=True)
class SessionStart:
    """What a run begins with, new or resumed."""

    journal: Journal
    session: Session
    first: Event
    """The first event to be processed."""
    notice: str = ""
    """To be said before the first event; empty for nothing."""
    goes_round: Callable[[], None] = lambda: None
    """Called once the first events were taken."""
    settled: Callable[[], None] = lambda: None
    """Called once the run has lasted a while, came to its end, or failed for want of a device."""
    resumed: bool = False
    """Whether the journal is one that is gone on with."""


def resume(
    folder: Path,
    name: str,
    due: tuple[DueSoon, ...] | None = None,
    now_s: float | None = None,
    live: bool = False,
    longest_s: float | None = None,
) -> SessionStart:
    """Rebuild the last unfinished session of an engine.

    due: for a session that was interrupted before its first event. now_s: by the system's clock, as
    file times are. live: by microphone, which no engine with invented figures is for; those kept
    in the journal count. longest_s: a session left longer ago is none to go on with. Raises
    NothingToResumeError when there is none, NotRightError when it was altered, WorldFailedError
    when another process is writing it.
    """
    if not folder.is_dir():
        raise NothingToResumeError(_nothing_to_resume(folder, name))
    try:
        return _reopen(folder, name, due, now_s, live, longest_s)
    finally:
        gc.unfreeze()


def _reopen(
    folder: Path,
    name: str,
    due: tuple[DueSoon, ...] | None,
    now_s: float | None,
    live: bool,
    longest_s: float | None,
) -> SessionStart:
    lock = lock_engine(folder, name)  # before it is read, so that nobody adds to it meanwhile
    try:
        with reader.gc_paused():
            records = _unfinished_journal(folder, name)
            _refuse_older(records, longest_s, now_s)
            if live:
                _refuse_invented(records)
            gc.freeze()  # for speed: the records live until the end, so collections can skip them
        path = records.path
        written_s = path.stat().st_mtime
    except BaseException:
        lock.release()
        raise
    journal = Journal.reopen(path, name, records, lock)
    try:
        session, last_s = _rebuild(records)
    except BaseException:
        journal.close()
        raise
    if last_s is None:
        begun = Started(0.0, due=due, plate=True)
        return SessionStart(journal, session, begun, resumed=True)
    now_s = time.time() if now_s is None else now_s
    by_book_s = recorded_s(reader.require_header(records), last_s)
    away_s, notice = break_length(now_s, written_s, by_book_s)
    first = Resumed(last_s + away_s, away_s)
    return SessionStart(journal, session, first, notice, resumed=True)


def _unfinished_journal(folder: Path, name: str) -> reader.JournalRecords:
    records = reader.last_unfinished(folder, name)
    if records is None:
        raise NothingToResumeError(_nothing_to_resume(folder, name))
    if records.state == "altered":
        raise NotRightError(
            f"{records.path}: was altered and is not gone on with: {records.why};"
            " begin a new one without --resume"
        )
    return records


def _refuse_older(
    records: reader.JournalRecords, longest_s: float | None, now_s: float | None
) -> None:
    if longest_s is None or not records.records:
        return
    written_s = records.path.stat().st_mtime
    by_book_s = recorded_s(reader.require_header(records), records.records[-1].at)
    away_s, _ = break_length(time.time() if now_s is None else now_s, written_s, by_book_s)
    if away_s > longest_s:
        hours = f"{away_s / 3600.0:.0f} hours ago"
        why = f"{records.path}: was left {hours}, which is too long to go on with"
        raise NothingToResumeError(why)


def _refuse_invented(records: reader.JournalRecords) -> None:
    kept = reader.require_header(records).text_of("engine")
    if kept is not None:
        refuse_invented(engine_from_text(kept.text, Path(kept.file)))


def _rebuild(records: reader.JournalRecords) -> tuple[Session, float | None]:
    """The session after its last event, and that event's time [s]; None without any."""
    replayed = ReplayedSession(Session(session_config_of(reader.require_header(records))))
    last_s = None
    for exchange in records.exchanges():
        replayed.handle(exchange.event)
        last_s = exchange.event.at
    replayed.reopen()
    return replayed.session, last_s


def _nothing_to_resume(folder: Path, name: str) -> str:
    last = next(reader.newest_first(folder, name), None)
    if last is None:
        return f"no unfinished journal of {name!r} in {folder}: there is none at all"
    return (
        f"no unfinished journal of {name!r} in {folder}: the last one, {last.name},"
        " came to its end; begin a new one without --resume"
    )
