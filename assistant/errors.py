"""The errors, in three kinds, each with its exit code. Imports nothing of the program."""

from __future__ import annotations

from dataclasses import dataclass

MOST_TOLD = 100  # problems of a file that are told one by one; nobody reads more


class FootplateError(Exception):
    """Base of every error that is shown to a person as one clear line, never as a traceback."""

    exit_code = 4


class InputWrongError(FootplateError):
    """The command or a file is wrong; the user can correct it."""

    exit_code = 2


class WorldFailedError(FootplateError):
    """Something outside the program failed: no microphone, no model, a full disk."""

    exit_code = 3


class NotRightError(FootplateError):
    """A check failed (an altered journal, a failed rehearsal)."""

    exit_code = 1


@dataclass(frozen=True, slots=True)
class Problem:
    """One thing that is wrong in a file: its position, and words that a person can act on.

    `line` and `column` count from 1; 0 means that the whole file is meant.

    >>> print(Problem("engine.yaml", 3, 8, "unknown unit 'pis' (did you mean 'psi'?)"))
    engine.yaml:3:8: unknown unit 'pis' (did you mean 'psi'?)
    """

    file: str
    line: int
    column: int
    message: str

    def __str__(self) -> str:
        return f"{self.file}:{self.line}:{self.column}: {self.message}"


class FileWrongError(InputWrongError):
    """A file has problems; all of them are shown at once."""

    def __init__(self, problems: tuple[Problem, ...]) -> None:
        lines = [str(problem) for problem in problems[:MOST_TOLD]]
        if len(problems) > MOST_TOLD:
            lines.append(f"and {len(problems) - MOST_TOLD} more problems")
        super().__init__("\n".join(lines))
        self.problems = problems
