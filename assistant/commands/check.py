"""`footplate check`: engine, checklist, readings and journal files, all problems at once."""

from __future__ import annotations

import argparse
from collections.abc import Sequence
from pathlib import Path

from assistant.commands.file_check import check_file, file_kind_of
from assistant.commands.output import Out
from assistant.config import paths
from assistant.config.checklist_file import load_checklist, shipped_checklists
from assistant.config.cross_checks import problems_together
from assistant.config.emergencies_file import load_emergencies, shipped_emergencies
from assistant.config.engine_file import load_engine
from assistant.config.suggest import did_you_mean, in_quotes
from assistant.errors import InputWrongError, NotRightError, Problem
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
    if path.suffix or len(path.parts) > 1 or path.exists():
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
    for problem in problems:
        out.line(str(problem))
        out.record(
            {
                "file": problem.file,
                "line": problem.line,
                "column": problem.column,
                "message": problem.message,
            }
        )
    if problems:
        wrong = len({problem.file for problem in problems})
        raise NotRightError(f"{wrong} of {len(files)} files have problems")
    out.tell(f"{len(files)} files are right")
    return 0


def _cross_problems(files: Sequence[Path]) -> tuple[Problem, ...]:
    """The problems of the files given and of those that ship, joined as in a session."""
    kinds = {file: file_kind_of(file) for file in files}
    if not set(_CHECKED_TOGETHER) & set(kinds.values()):
        return ()
    lists = shipped_checklists()
    for file in files:
        if kinds[file] == "checklist":
            lists = replace_list(lists, load_checklist(file))
    emergencies = [load_emergencies(file) for file in files if kinds[file] == "emergencies"]
    engines = [load_engine(file).engine for file in files if kinds[file] == "engine"]
    return problems_together(lists, engines, (emergencies or [shipped_emergencies()])[-1])
