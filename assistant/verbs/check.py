"""`footplate check`: engine, checklist, readings and journal files, all problems at once."""

from __future__ import annotations

import argparse
from pathlib import Path

from assistant.errors import NotRightError
from assistant.files import places
from assistant.files.check import check_file
from assistant.verbs.out import Out


def add(parser: argparse.ArgumentParser) -> None:
    """The arguments of `check`."""
    parser.add_argument(
        "files", nargs="*", type=Path, metavar="FILE", help="default: every file that ships"
    )
    parser.add_argument("--json", action="store_true", help="one JSON object a problem")


def shipped_files() -> list[Path]:
    """Every engine and checklist of the project."""
    return sorted(
        [*places.engines_folder().glob("*.yaml"), *places.checklists_folder().rglob("*.yaml")]
    )


def run(given: argparse.Namespace, out: Out) -> int:
    """Check; returns 0, or 1 when anything is wrong."""
    files = given.files or shipped_files()
    wrong = 0
    for file in files:
        problems = check_file(file)
        wrong += bool(problems)
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
    if wrong:
        raise NotRightError(f"{wrong} of {len(files)} files have problems")
    out.tell(f"{len(files)} files are right")
    return 0
