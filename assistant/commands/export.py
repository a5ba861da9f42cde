"""`footplate export`: a journal's readings as a readings file, which the forecast can use."""

from __future__ import annotations

import argparse
from pathlib import Path

from assistant.commands.output import Out
from assistant.config import paths
from assistant.config.atomic_write import write_whole
from assistant.config.readings_file import write_readings
from assistant.config.readings_row import has_room
from assistant.errors import InputWrongError
from assistant.journal.earlier_runs import past_readings


def add(parser: argparse.ArgumentParser) -> None:
    """The arguments of `export`."""
    parser.add_argument("journal", type=paths.journal)
    parser.add_argument("--out", required=True, type=Path, metavar="CSV", help="readings file")
    parser.add_argument("--json", action="store_true", help="one JSON object")


def run(given: argparse.Namespace, out: Out) -> int:
    """Export the readings with corrections applied; returns 0. An altered journal is refused."""
    if given.out.suffix.lower() != ".csv":
        raise InputWrongError(f"{given.out}: the name must end in .csv")
    readings = past_readings(given.journal)
    rows = [row for row in readings.rows if has_room(row[1])]
    started = None if readings.started is None else readings.started.isoformat()
    write_whole(
        given.out,
        write_readings(rows, readings.engine_name, started).encode(errors="backslashreplace"),
    )
    left = len(readings.rows) - len(rows)
    out.record({"journal": str(given.journal), "out": str(given.out), "rows": len(rows)})
    out.line(f"{given.out}: {len(rows)} readings")
    if left:
        out.tell(f"{left} answers to steps have no place in a readings file and are left out")
    return 0
