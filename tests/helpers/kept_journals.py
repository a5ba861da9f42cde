"""The kept journals of the version that is not yet given out, made anew.

`python tests/helpers/kept_journals.py` writes them again, after a change of what is said that was
read and found good; what each of them is stands in `tests/data/journals/README.md`.
"""

from __future__ import annotations

import contextlib
import io
import shutil
import tempfile
from pathlib import Path

from assistant import __version__, cli
from assistant.commands.session_build import session_config_of
from assistant.dialogue.session import Session
from assistant.journal import reader
from assistant.journal.writer import Journal
from assistant.messages import Spoke

JOURNALS = Path(__file__).parents[1] / "data" / "journals"
SPOKE = JOURNALS / f"session_{__version__}_practice_spoke.jsonl"
SILENT = JOURNALS / f"session_{__version__}_practice.jsonl"
PRACTICE = ["rehearse", "--silent", "--seed", "5", "--engine", "practice", "--out"]


def main() -> int:
    """Make both; the exit code of the practice."""
    with tempfile.TemporaryDirectory() as folder:
        with contextlib.redirect_stdout(io.StringIO()):
            code = cli.main([*PRACTICE, folder])
        (made,) = Path(folder).glob("*.jsonl")
        shutil.copyfile(made, SPOKE)
        without = Path(folder) / "without" / SILENT.name
        write_without_spoke(SPOKE, without)
        shutil.copyfile(without, SILENT)
    return code


def write_without_spoke(kept: Path, path: Path) -> None:
    """The same session, with a speaker that never says when it has ended."""
    known = reader.read(kept)
    header = reader.require_header(known)
    session = Session(session_config_of(header))
    with Journal.create(path, header) as journal:
        for event in known.events():
            if isinstance(event, Spoke):
                continue
            journal.event(event)
            for effect in session.handle(event):
                journal.effect(event.at, effect)
            journal.sync()
        journal.seal()


if __name__ == "__main__":
    raise SystemExit(main())
