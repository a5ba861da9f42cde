"""`footplate journals`: lists the journals of a folder, by engine and by date."""

from __future__ import annotations

import argparse
import datetime
from pathlib import Path

from assistant.commands.output import Out
from assistant.config import paths
from assistant.errors import InputWrongError
from assistant.journal import index
from assistant.journal.index_entry import IndexEntry
from assistant.journal.reader import SUFFIX
from assistant.report.terms import Terms, duration


def add(parser: argparse.ArgumentParser) -> None:
    """The arguments of `journals`."""
    parser.add_argument(
        "folder", nargs="?", type=Path, help="default: where journals are kept on this machine"
    )
    parser.add_argument("--engine", metavar="WORDS", help="only engines with these words")
    parser.add_argument("--since", metavar="YYYY-MM-DD", help="only from this day on")
    parser.add_argument("--until", metavar="YYYY-MM-DD", help="only up to this day")
    parser.add_argument("--json", action="store_true", help="one JSON object a journal")


def run(given: argparse.Namespace, out: Out) -> int:
    """List; returns 0, also for a folder without any."""
    folder = given.folder or paths.journals_folder()
    if given.folder is not None and not folder.is_dir():
        raise InputWrongError(f"{folder}: no such folder")
    entries, troubles = index.index_of(
        folder, given.engine, _day(given.since, "--since"), _day(given.until, "--until")
    )
    for entry in entries:
        out.record(_record(entry))
    for line in _lines(entries):
        out.line(line)
    for trouble in troubles:
        out.tell(trouble)
    out.tell(f"{_count_words(len(entries))} in {folder}")
    practices = len(list(paths.practice_folder().glob(f"*{SUFFIX}"))) if not given.folder else 0
    if practices:
        out.tell(f"besides {_count_words(practices)} of practices in {paths.practice_folder()}")
    return 0


def _count_words(count: int) -> str:
    return "1 journal" if count == 1 else f"{count} journals"


def _day(text: str | None, option: str) -> datetime.date | None:
    if text is None:
        return None
    try:
        return datetime.date.fromisoformat(text)
    except ValueError:
        raise InputWrongError(f"{option}: {text!r} is no day (for example: 2027-05-01)") from None


def _record(entry: IndexEntry) -> dict[str, object]:
    peak = None
    if entry.peak is not None:
        peak = {"value": entry.peak.value, "unit": entry.peak.unit}
    return {
        "journal": str(entry.path),
        "engine": entry.engine_name,
        "started": entry.started,
        "length_s": entry.length_s,
        "in_steam_s": entry.in_steam_s,
        "peak": peak,
        "alarms": entry.alarms,
        "sealed": entry.sealed,
        "finished": entry.finished,
        "state": entry.state,
    }


def _lines(entries: tuple[IndexEntry, ...]) -> list[str]:
    """The entries as columns, each as wide as its longest cell."""
    head = ("began", "engine", "length", "peak", "alarms", "the book", "journal")
    rows = [head, *(_cells(entry) for entry in entries)]
    widths = [max(len(row[i]) for row in rows) for i in range(len(head) - 1)]
    return [
        "  ".join([*(c.ljust(w) for c, w in zip(row, widths, strict=False)), row[-1]])
        for row in rows
        if entries
    ]


def _cells(entry: IndexEntry) -> tuple[str, ...]:
    if entry.state != "whole":
        status = entry.state.upper()
    elif entry.sealed is not None:
        status = f"sealed {entry.sealed}"
    else:
        status = "ended" if entry.finished else "not ended"
    return (
        entry.started[:16].replace("T", " "),
        entry.engine_name,
        duration(entry.length_s),
        "-" if entry.peak is None else Terms(str(entry.peak.unit)).report(entry.peak),
        str(entry.alarms),
        status,
        entry.path.name,
    )
