"""A bench's own lines as a document in results/: with the command, the commit, date and machine."""

from __future__ import annotations

import os
import platform
import subprocess
import time
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

FOLDER = Path(__file__).parent / "results"


@dataclass(frozen=True, slots=True)
class Circumstances:
    """Under which a bench ran."""

    command: str
    commit: str
    """Short hash, and a word where the tree had changes that are in no commit."""
    date: str
    """ISO 8601."""
    machine: str
    """Processor, cores and Python."""


def circumstances(command: Sequence[str]) -> Circumstances:
    """Of this run, here and now."""
    return Circumstances(
        "footplate " + " ".join(command), commit(), time.strftime("%Y-%m-%d"), _machine()
    )


def as_markdown(title: str, seen: Circumstances, lines: Sequence[str]) -> str:
    """The document.

    >>> seen = Circumstances("footplate bench x", "abc1234", "2026-01-02", "2 cores")
    >>> print(as_markdown("x", seen, ["right 9 of 10"]))
    # x
    <BLANKLINE>
    | command | commit | date | machine |
    |---|---|---|---|
    | `footplate bench x` | abc1234 | 2026-01-02 | 2 cores |
    <BLANKLINE>
    ```
    right 9 of 10
    ```
    <BLANKLINE>
    """
    return (
        f"# {title}\n\n| command | commit | date | machine |\n|---|---|---|---|\n"
        f"| `{seen.command}` | {seen.commit} | {seen.date} | {seen.machine} |\n\n"
        "```\n" + "\n".join(lines).rstrip() + "\n```\n"
    )


def write_result(name: str, command: Sequence[str], lines: Sequence[str]) -> Path:
    """Write results/NAME.md; the file."""
    FOLDER.mkdir(exist_ok=True)
    file = FOLDER / f"{name}.md"
    file.write_text(
        as_markdown(f"bench {name.replace('-', ', ')}", circumstances(command), lines),
        encoding="utf-8",
    )
    return file


def commit() -> str:
    """Short hash of what runs, and a word where the tree had changes that are in no commit."""

    def git(*words: str) -> str:
        asked = ("git", "-C", str(FOLDER.parent), *words)
        return subprocess.run(asked, capture_output=True, text=True, check=False).stdout.strip()

    changed = git("status", "--porcelain", "--untracked-files=no")
    return (git("rev-parse", "--short", "HEAD") or "unknown") + (", changed" if changed else "")


def _machine() -> str:
    cores = len(os.sched_getaffinity(0))
    return f"{_processor()}, {cores} cores, Python {platform.python_version()}"


def _processor() -> str:
    try:
        lines = Path("/proc/cpuinfo").read_text(encoding="utf-8").splitlines()
    except OSError:
        return platform.machine()
    named = [line.partition(":")[2].strip() for line in lines if line.startswith("model name")]
    return named[0] if named else platform.machine()
