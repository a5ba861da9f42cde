"""What a run begins with: a new book, the last unfinished one, or whichever of them there is."""

from __future__ import annotations

import argparse
import time
from dataclasses import replace
from pathlib import Path

from assistant.commands import options
from assistant.commands.last_night import PHASE, WARM_H, last_night
from assistant.commands.output import Out
from assistant.commands.resume import NothingToResumeError, SessionStart, resume
from assistant.commands.resume_tries import ResumeTries
from assistant.commands.session_build import checked_session_config, header_of
from assistant.config.engine_file import EngineFile
from assistant.dialogue.session import Session
from assistant.errors import FootplateError, WorldFailedError
from assistant.journal import earlier_runs, reader
from assistant.journal.due_standing import due_soon
from assistant.journal.header import Header
from assistant.journal.lock import BusyError
from assistant.journal.writer import Journal
from assistant.messages import Started
from assistant.wording import walkthrough


def begin_run(given: argparse.Namespace, out: Out, folder: Path, scripted: bool) -> SessionStart:
    """A new session with its journal, or the last unfinished one."""
    live = not (given.typed or scripted)
    engine = (options.live_engine_of if live else options.engine_of)(given, out)
    if engine.invented and given.engine is not None:  # else it was said
        out.tell(options.INVENTED_HERE)
    if given.resume:
        return _resumed(given, out, folder, engine, live)
    if given.resume_or_begin:
        return _resumed_or_new(given, out, folder, engine, live)
    return _new(given, folder, engine, scripted)


def _resumed(
    given: argparse.Namespace,
    out: Out,
    folder: Path,
    engine: EngineFile,
    live: bool,
    longest_s: float | None = None,
) -> SessionStart:
    name = engine.engine.name
    if given.teach is not None:
        out.tell("--teach counts for a new book; this one goes on with who learned in it")
    due = due_soon(engine, _now(), folder)
    resumed = resume(folder, name, due, live=live, longest_s=longest_s)
    out.tell(f"going on with {resumed.journal.path}")
    return replace(resumed, first=replace(resumed.first, wake=given.wake))


def _resumed_or_new(
    given: argparse.Namespace, out: Out, folder: Path, engine: EngineFile, live: bool
) -> SessionStart:
    """For a start that nobody attends: what cannot be gone on with is told, and a book begun.

    Not while another process writes the book or the folder cannot be written: that may pass.
    """
    tries = ResumeTries(folder, engine.engine.name)
    why = tries.objection()
    if not why:
        tries.begin()
        try:
            start = _resumed(given, out, folder, engine, live, WARM_H * 3600.0)
            return replace(start, goes_round=tries.goes_round, settled=tries.over)
        except WorldFailedError:
            tries.over()  # nothing was tried yet
            raise
        except NothingToResumeError as nothing:
            out.tell(str(nothing))
        except FootplateError as trouble:
            why = str(trouble)
        except Exception as bug:
            why = f"{type(bug).__name__}: {bug}"
    tries.over()
    start = _new(given, folder, engine, scripted=given.script is not None)
    if not why:
        return start
    out.tell(f"the last book cannot be gone on with: {why}")
    return replace(start, notice=f"{walkthrough.NOT_GONE_ON} {start.notice}".strip())


def _new(
    given: argparse.Namespace, folder: Path, engine: EngineFile, scripted: bool
) -> SessionStart:
    name = engine.engine.name
    people = options.people_of(given, engine)
    learner = options.learner_of(given, folder, engine)
    how = "script" if scripted else "typed" if given.typed else "live"
    earlier = () if scripted else earlier_runs.earlier_journals(name, folder)
    started = _now()
    header = header_of(engine, started, 0, how, [Path(p) for p in given.checklist], earlier)
    config = checked_session_config(header)
    night = None if scripted or given.from_phase else last_night(name, folder, started)
    journal = _created(reader.new_path(folder, name, started), header)
    due = due_soon(engine, started, folder)
    phase = given.from_phase if night is None else PHASE
    first = Started(
        0.0,
        phase,
        due=due,
        wake=given.wake,
        plate=True,
        people=people,
        learner=learner,
        tone=how == "live",
    )
    notice = "" if night is None else night.words(config.dial)
    return SessionStart(journal, Session(config), first, notice)


def _now() -> str:
    return time.strftime("%Y-%m-%dT%H:%M:%S%z")


def _created(path: Path, header: Header) -> Journal:
    try:
        return Journal.create(path, header)
    except BusyError:
        raise
    except WorldFailedError as trouble:
        message = f"{trouble}; without a book there is no run: name another folder with --out"
        raise WorldFailedError(message) from trouble
