"""From files to a journal's first records, and from those to a session's configuration.

A live session and its replay are built by the same function, from the texts kept in the journal.
"""

from __future__ import annotations

from collections.abc import Sequence
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
from assistant.procedure.overlay import replace_list
from assistant.procedure.validation import emergency_objections


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
    measured = calibration_path(engine.path)
    said = [path for path in own if file_kind_of(path) == "emergencies"]
    lists = [*checklist_paths(), *(path for path in own if path not in said)]
    kept = [KeptText("engine", paths.journal_name_of(engine.path), engine.text)]
    if measured.is_file():
        kept.append(KeptText("calibration", paths.journal_name_of(measured), read_text(measured)))
    kept += [KeptText("checklist", paths.journal_name_of(path), read_text(path)) for path in lists]
    emergencies = [paths.checklists_folder() / "emergencies.yaml", *said][-1]
    kept.append(KeptText("emergencies", paths.journal_name_of(emergencies), read_text(emergencies)))
    kept += [text for path in past if (text := _past_text(path, engine)) is not None]
    return Header(engine.engine.name, started, seed, engine.engine.atmosphere_pa, tuple(kept), how)


def _past_text(path: Path, engine: EngineFile) -> KeptText | None:
    rows = past_readings(path, engine.engine).rows
    try:
        past_run(rows)
    except ValueError:
        return None
    return KeptText("past", path.name, write_readings(rows, engine.engine.name))


def parts_of(header: Header) -> SessionConfig:
    """The session's configuration from the kept texts. FileWrongError with all problems of one."""
    engine_text = header.text_of("engine")
    if engine_text is None:
        raise InputWrongError("the journal keeps no engine file: no session can be made of it")
    read = engine_from_text(engine_text.text, Path(engine_text.file))
    engine = read.engine
    for kept in header.texts_of("calibration"):
        measured = calibration_from_text(kept.text, Path(kept.file), engine)
        engine = with_calibration(engine, measured)
    lists: tuple[Checklist, ...] = ()
    bases = {Path(kept.file).stem: kept.text for kept in header.texts_of("checklist")}
    for kept in header.texts_of("checklist"):
        lists = replace_list(lists, checklist_from_text(kept.text, Path(kept.file), bases))
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
        else emergencies_from_text(emergencies.text, Path(emergencies.file)),
        read.pressure_unit,
    )


def proved_parts(header: Header) -> SessionConfig:
    """The same for a new session, after the checks of the owner's files; else FileWrongError."""
    parts = parts_of(header)
    ours = {paths.journal_name_of(path) for path in checklist_paths()}
    lists = (*parts.lists, *parts.remedies)
    found = [p for one in lists if one.file not in ours for p in list_problems(one)]
    if parts.emergencies is not None:
        found += emergency_objections(parts.emergencies)
    found += problems_together(lists, (parts.engine,), parts.emergencies)
    if found:
        raise FileWrongError(tuple(found))
    return parts
