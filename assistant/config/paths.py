"""Where files and folders are on this machine. Knows paths and nothing of their contents."""

from __future__ import annotations

import os
from pathlib import Path

from assistant.config.suggest import did_you_mean, in_quotes
from assistant.errors import InputWrongError
from assistant.shipped_folder import SHIPPED


def project_folder() -> Path:
    """The folder that holds the engines, the checklists and the models that ship."""
    return SHIPPED


def engines_folder() -> Path:
    """The engines that ship with the project."""
    return project_folder() / "models" / "engines"


def checklists_folder() -> Path:
    """The checklists that ship with the project."""
    return project_folder() / "checklists"


def home_folder() -> Path:
    """Where the program keeps its files: FOOTPLATE_HOME, or the user's data folder."""
    home = os.environ.get("FOOTPLATE_HOME")
    if home:
        return Path(home)
    from platformdirs import user_data_path

    return user_data_path("footplate", appauthor=False)


def journals_folder() -> Path:
    """Where journals are written when no place is named."""
    return home_folder() / "journals"


def journal(text: str) -> Path:
    """A journal by its path, or by its name alone where `footplate journals` lists it."""
    path = Path(text)
    if len(path.parts) == 1 and not _exists(path):
        for folder in (journals_folder(), practice_folder()):
            if _exists(folder / path):
                return folder / path
    return path


def practice_folder() -> Path:
    """Where the journals of practices are written, apart from those of real steam-ups."""
    return journals_folder() / "practice"


def noises_folder() -> Path:
    """Where the owner's recordings of the engine are kept."""
    return home_folder() / "noise"


def shipped(folder: Path, suffix: str = ".yaml") -> tuple[str, ...]:
    """The stems of the files of a folder, sorted."""
    return tuple(sorted(path.stem for path in folder.glob(f"*{suffix}")))


def find(name_or_path: str | Path, folder: Path, kind: str) -> Path:
    """The file of that path, or the shipped one of that stem; InputWrongError otherwise."""
    path = Path(name_or_path)
    text = str(name_or_path)
    looks_like_path = path.suffix != "" or len(path.parts) > 1
    if looks_like_path or _exists(path):
        if _exists(path):
            return path
        raise InputWrongError(f"{kind} file {in_quotes(text, 200)}: no such file")
    stems = shipped(folder)
    if text in stems:
        return folder / f"{text}.yaml"
    raise InputWrongError(f"no {kind} called {in_quotes(text)}{did_you_mean(text, stems)}")


def journal_name_of(path: Path) -> str:
    """A file as a journal names it: one that ships by its place in the project, others as given.

    So a journal does not reveal where the project is installed.
    """
    try:
        return path.resolve().relative_to(project_folder()).as_posix()
    except ValueError:
        return str(path)


def _exists(path: Path) -> bool:
    try:
        return path.is_file()
    except (OSError, ValueError):
        return False
