"""`footplate check`: engine, checklist, readings and journal files, all problems at once.

A caution is told and is no problem: the exit code stays 0.
"""

from __future__ import annotations

import argparse
import os
from collections.abc import Sequence
from pathlib import Path

from assistant.commands.file_check import check_file, file_kind_of
from assistant.commands.output import Out
from assistant.config import paths
from assistant.config.checklist_file import load_checklist, shipped_checklists
from assistant.config.cross_checks import cautions_together, problems_together
from assistant.config.emergencies_file import load_emergencies, shipped_emergencies
from assistant.config.engine_file import load_engine
from assistant.config.engine_sense import engine_cautions
from assistant.config.suggest import did_you_mean, in_quotes
from assistant.errors import MOST_TOLD, InputWrongError, NotRightError, Problem
from assistant.procedure.checklist import Checklist
from assistant.procedure.overlay import replace_list

_CHECKED_TOGETHER = ("engine", "checklist", "emergencies")  # kinds checked against one another


def add(parser: argparse.ArgumentParser) -> None:
    """The arguments of `check`."""
    parser.add_argument(
        "files", nargs="*", metavar="FILE",
        help="a file, or the name of an engine or a checklist that ships; "
        "default: every file that ships",
    )  # fmt: skip
    parser.add_argument("--json", action="store_true", help="one JSON object a problem")


def shipped_files() -> list[Path]:
    """Every engine and checklist of the project."""
    return sorted(
        [*paths.engines_folder().glob("*.yaml"), *paths.checklists_folder().rglob("*.yaml")]
    )


def _find(name: str) -> Path:
    """The file of that path, or the shipped engine or checklist of that stem."""
    path = Path(name)
    if path.suffix or len(path.parts) > 1 or os.path.exists(path):  # noqa: PTH110 - never raises
        return path
    stems = {file.stem: file for file in shipped_files()}
    if name in stems:
        return stems[name]
    raise InputWrongError(f"{in_quotes(name)}: no such file{did_you_mean(name, stems)}")


def run(given: argparse.Namespace, out: Out) -> int:
    """Check; returns 0, or 1 when anything is wrong."""
    files = [_find(name) for name in given.files] or shipped_files()
    problems = [problem for file in files for problem in check_file(file)]
    if not problems:
        problems = list(_cross_problems(files))
    for problem in problems[:MOST_TOLD]:
        _tell(out, problem, "problem")
    if len(problems) > MOST_TOLD:
        out.tell(f"and {len(problems) - MOST_TOLD} more problems")
    if not problems:
        for caution in _cautions(files):
            _tell(out, caution, "caution")
    if problems:
        wrong = len({problem.file for problem in problems})
        raise NotRightError(f"{wrong} of {len(files)} files have problems")
    out.tell(f"{len(files)} files are right")
    return 0


def _tell(out: Out, problem: Problem, grade: str) -> None:
    out.line(str(problem) if grade == "problem" else f"caution: {problem}")
    out.record(
        {
            "file": problem.file,
            "line": problem.line,
            "column": problem.column,
            "message": problem.message,
            "grade": grade,
        }
    )


def _cautions(files: Sequence[Path]) -> tuple[Problem, ...]:
    """What is to be known of the files given, though nothing in them is wrong."""
    owners = [load_emergencies(file) for file in files if file_kind_of(file) == "emergencies"]
    engines = [load_engine(file) for file in files if file_kind_of(file) == "engine"]
    doubts = [caution for engine in engines for caution in engine_cautions(engine)]
    theirs = owners[-1] if owners else None
    return (*doubts, *cautions_together(_joined_lists(files), theirs, engines))


def _joined_lists(files: Sequence[Path]) -> tuple[Checklist, ...]:
    """The shipped lists with those of the files in their places, as in a session."""
    lists = shipped_checklists()
    for file in files:
        if file_kind_of(file) == "checklist":
            lists = replace_list(lists, load_checklist(file))
    return lists


def _cross_problems(files: Sequence[Path]) -> tuple[Problem, ...]:
    """The problems of the files given and of those that ship, joined as in a session."""
    kinds = {file: file_kind_of(file) for file in files}
    if not set(_CHECKED_TOGETHER) & set(kinds.values()):
        return ()
    lists = _joined_lists(files)
    emergencies = [load_emergencies(file) for file in files if kinds[file] == "emergencies"]
    engines = [load_engine(file).engine for file in files if kinds[file] == "engine"]
    return problems_together(lists, engines, (emergencies or [shipped_emergencies()])[-1])
