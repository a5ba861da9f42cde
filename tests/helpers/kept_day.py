"""A whole day as a conversation that a driver can read: the script, and what is said to it.

`python tests/helpers/kept_day.py` writes the kept conversations anew, after a change of what is
said that was read and found good.
"""

from __future__ import annotations

import contextlib
import io
import json
import tempfile
from pathlib import Path
from typing import Any

from assistant import cli

DAYS = Path(__file__).parents[1] / "stories" / "days"
ENGINES = ("practice", "copper", "fullsize")
HEAD = (
    "An invented day on the {engine} engine, as `footplate run --script` tells it.\n"
    ">> is the driver. [..] is in the book. The rest is spoken.\n\n"
)


def script_of(engine: str) -> Path:
    """The driver's words of the day, each with its time."""
    return DAYS / f"{engine}.tsv"


def kept(engine: str) -> Path:
    """The conversation that is kept."""
    return DAYS / f"{engine}.txt"


def conversation(engine: str) -> str:
    """The day played anew."""
    script = script_of(engine)
    with tempfile.TemporaryDirectory() as folder:
        told = io.StringIO()
        words = ["run", "--script", str(script), "--engine", engine, "--out", folder, "--json"]
        with contextlib.redirect_stdout(told), contextlib.redirect_stderr(io.StringIO()):
            assert cli.main(words) == 0
    came = [json.loads(line) for line in told.getvalue().splitlines()]
    lines = [(_seconds(at), 0, f">> {said}") for at, said in _driver(script)]
    lines += [(one["at_s"], 1, text) for one in came if (text := _line(one))]
    ordered = sorted(lines, key=lambda line: line[:2])
    return HEAD.format(engine=engine) + "".join(f"{_clock(at)}  {t}\n" for at, _, t in ordered)


def _driver(script: Path) -> list[tuple[str, str]]:
    rows = [line.split("\t") for line in script.read_text(encoding="utf-8").splitlines()]
    return [(at, said) for at, said in rows if said]


def _line(did: dict[str, Any]) -> str:
    """One thing that came of it; empty for what a driver need not read."""
    match did["did"]:
        case "say":
            return str(did["text"])
        case "alarm":
            return f"[{did['grade']}: {did['name']} {did['state']}]"
        case "phase":
            return f"[{did['phase']} {did['state']}]"
        case "reading" if did["state"] != "accepted":
            return f"[{did['reading']} {did['value']} {did['state']}]"
        case "step" if did["state"] == "overtaken":
            return f"[{did['step']}: overtaken]"
    return ""


def _seconds(at: str) -> float:
    hours, minutes, seconds = at.split(":")
    return 3600.0 * int(hours) + 60.0 * int(minutes) + float(seconds)


def _clock(at: float) -> str:
    return f"{int(at) // 3600}:{int(at) // 60 % 60:02d}:{int(at) % 60:02d}"


if __name__ == "__main__":
    for name in ENGINES:
        kept(name).write_text(conversation(name), encoding="utf-8")
