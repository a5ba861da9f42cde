"""What a learner was told on one engine, beside her journals, readable by its owner only."""

from __future__ import annotations

import json
from pathlib import Path

from assistant.config.atomic_write import write_whole
from assistant.config.positioned_yaml import read_bytes
from assistant.config.private_files import PRIVATE_FILE, make_private_folder
from assistant.errors import InputWrongError, WorldFailedError
from assistant.journal.codec import from_record, to_record
from assistant.journal.lock import lock_name
from assistant.messages import Learner

SUFFIX = ".learner.json"
_MAX_BYTES = 1_000_000


def learner_path(folder: Path, engine_name: str, name: str) -> Path:
    """Where what is kept of this person and engine lies."""
    return folder / f"{_stem(engine_name)}.{_stem(name)}{SUFFIX}"


def _stem(name: str) -> str:
    """Two names that differ in more than their capitals have two stems.

    >>> _stem("Ann")
    'ann'
    """
    return lock_name(name).removeprefix(".").removesuffix(".lock")


def read_learner(folder: Path, engine_name: str, name: str) -> Learner:
    """What was told to this person on this engine; nothing yet where there is no file.

    Raises InputWrongError, with the path, for a file that is not what was written, and
    WorldFailedError where it cannot be read.
    """
    path = learner_path(folder, engine_name, name)
    if not path.exists():
        return Learner(name)
    try:
        kept = from_record(json.loads(read_bytes(path, _MAX_BYTES)))
    except (ValueError, RecursionError) as wrong:
        raise InputWrongError(
            f"{path}: {wrong}; delete it, and what was told begins anew"
        ) from None
    if not isinstance(kept, Learner) or kept.name.casefold() != name.casefold():
        raise InputWrongError(f"{path}: is not what was kept of {name}")
    return kept


def write_learner(folder: Path, engine_name: str, learner: Learner) -> Path:
    """Keep it, for its owner only; returns where. WorldFailedError where it cannot be written."""
    path = learner_path(folder, engine_name, learner.name)
    try:
        make_private_folder(folder)
    except OSError as trouble:
        raise WorldFailedError(f"{folder}: cannot be made: {trouble.strerror}") from trouble
    content = json.dumps(to_record(learner), indent=1, ensure_ascii=False)
    write_whole(path, f"{content}\n".encode(), PRIVATE_FILE)
    return path
