"""From files to a journal's first records, and from those to a session's configuration.

A live session and its replay are built by the same function, from the texts kept in the journal.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace
from pathlib import Path

from assistant.belief.learning import past_run
from assistant.commands.file_check import file_kind_of
from assistant.config import paths
from assistant.config.calibration_file import (
    calibration_from_text,
    calibration_path,
    with_calibration,
)
from assistant.config.checklist_file import checklist_from_text, checklist_paths
from assistant.config.cross_checks import list_problems, problems_together
from assistant.config.emergencies_file import emergencies_from_text
from assistant.config.engine_file import EngineFile, engine_from_text
from assistant.config.positioned_yaml import read_text
from assistant.config.readings_file import readings_from_text, write_readings
from assistant.dialogue.session_config import SessionConfig
from assistant.errors import FileWrongError, InputWrongError
from assistant.journal.earlier_runs import past_readings
from assistant.journal.header import Header, KeptText
from assistant.procedure.checklist import Checklist, Phase
from assistant.procedure.emergency import Emergencies
from assistant.procedure.overlay import replace_list
from assistant.procedure.validation import emergency_objections
from assistant.wording.dial_units import listed


def header_of(
    engine: EngineFile,
    started: str,
    seed: int,
    how: str,
    own: Sequence[Path] = (),
    past: Sequence[Path] = (),
) -> Header:
    """The header with every text that the session is built from.

    own: an owner's checklists, laid over those that ship, or emergencies in place of those. past:
    earlier readings files or journals to learn from; those with too few readings are left out.
    """
    calibration = calibration_path(engine.path)
    own_emergencies = [path for path in own if file_kind_of(path) == "emergencies"]
    checklists = [*checklist_paths(), *(path for path in own if path not in own_emergencies)]
    emergencies = emergencies_path(own)
    kept = [KeptText("engine", paths.journal_name_of(engine.path), engine.text)]
    if calibration.is_file():
        kept.append(_kept_text("calibration", calibration))
    kept += [_kept_text("checklist", path) for path in checklists]
    kept.append(_kept_text("emergencies", emergencies))
    kept += [text for path in past if (text := _past_text(path, engine)) is not None]
    return Header(engine.engine.name, started, seed, engine.engine.atmosphere_pa, tuple(kept), how)


def emergencies_path(own: Iterable[Path]) -> Path:
    """The file of the emergencies that counts: the last of an owner's own, else the one shipped."""
    theirs = [path for path in own if file_kind_of(path) == "emergencies"]
    return [paths.checklists_folder() / "emergencies.yaml", *theirs][-1]


def _kept_text(role: str, path: Path) -> KeptText:
    return KeptText(role, paths.journal_name_of(path), read_text(path))


def _past_text(path: Path, engine: EngineFile) -> KeptText | None:
    rows = past_readings(path, engine.engine).rows
    try:
        past_run(rows)
    except ValueError:
        return None
    return KeptText("past", path.name, write_readings(rows, engine.engine.name))


def session_config_of(header: Header, dial: str = "") -> SessionConfig:
    """The session's configuration from the kept texts. FileWrongError with all problems of one.

    dial: the unit of the gauge's dial, where it is not the engine file's.
    """
    engine_text = header.text_of("engine")
    if engine_text is None:
        raise InputWrongError("the journal keeps no engine file: no session can be made of it")
    engine_file = engine_from_text(engine_text.text, Path(engine_text.file))
    engine = engine_file.engine
    for kept in header.texts_of("calibration"):
        calibration = calibration_from_text(kept.text, Path(kept.file), engine)
        engine = with_calibration(engine, calibration)
    lists: tuple[Checklist, ...] = ()
    bases = {Path(kept.file).stem: kept.text for kept in header.texts_of("checklist")}
    for kept in header.texts_of("checklist"):
        lists = replace_list(lists, checklist_from_text(kept.text, Path(kept.file), bases))
    dial = dial or engine_file.pressure_unit
    lists = tuple(_in_dial(each, dial) for each in lists)
    emergencies = header.text_of("emergencies")
    return SessionConfig(
        replace(engine, atmosphere_pa=header.atmosphere_pa),
        tuple(c for phase in Phase for c in lists if c.phase is phase),
        tuple(c for c in lists if c.phase is None),
        tuple(
            past_run(readings_from_text(kept.text, kept.file, engine).rows)
            for kept in header.texts_of("past")
        ),
        None
        if emergencies is None
        else _acts_in_dial(emergencies_from_text(emergencies.text, Path(emergencies.file)), dial),
        dial,
        engine_file.people,
    )


def _in_dial(checklist: Checklist, dial: str) -> Checklist:
    """The list with its spoken pressures in the unit of the dial."""
    steps = tuple(
        replace(
            step,
            say=listed(step.say, dial),
            why=listed(step.why, dial),
            caution=listed(step.caution, dial),
        )
        for step in checklist.steps
    )
    opening, closing = listed(checklist.opening, dial), listed(checklist.closing, dial)
    return replace(checklist, steps=steps, opening=opening, closing=closing)


def _acts_in_dial(emergencies: Emergencies, dial: str) -> Emergencies:
    """The same of the acts of an owner's emergencies, and of their reasons."""
    entries = (
        replace(e, acts=tuple(listed(act, dial) for act in e.acts), why=listed(e.why, dial))
        for e in emergencies.entries
    )
    return replace(emergencies, entries=tuple(entries))


def checked_session_config(header: Header) -> SessionConfig:
    """The same for a new session, after the checks of the owner's files; else FileWrongError."""
    config = session_config_of(header)
    shipped = {paths.journal_name_of(path) for path in checklist_paths()}
    lists = (*config.lists, *config.remedies)
    own = [checklist for checklist in lists if checklist.file not in shipped]
    problems = [problem for checklist in own for problem in list_problems(checklist)]
    if config.emergencies is not None:
        problems += emergency_objections(config.emergencies)
    problems += problems_together(lists, (config.engine,), config.emergencies)
    if problems:
        raise FileWrongError(tuple(problems))
    return config
