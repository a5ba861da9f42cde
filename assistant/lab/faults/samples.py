"""Good files of every kind, to be spoiled: they are read well before anything is changed."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from assistant.config import paths
from assistant.config.checklist_file import checklist_paths
from assistant.lab.faults.judged_command import command

READINGS = """\
time,what,value,unit
00:00:00,water,0.50,glass
00:05:00,fire,lit,
00:41:00,pressure,5,psi
00:52:00,pressure,21,psi
01:01:00,pressure,48,psi
01:02:30,fire,coal,
"""
SCRIPT = """\
00:00:05\tthat's right
00:00:20\tregulator shut
00:00:40\twater half
00:01:00\tcorrect
00:01:30\tfire lit
00:05:00\tpressure twenty
00:05:20\twhere are we
00:06:00\t
"""
CALIBRATION = "5 litre=1/4"


@dataclass(frozen=True, slots=True)
class Sample:
    """A good file, and the commands that read one of its kind; {file} and {folder} stand in."""

    name: str
    content: bytes
    commands: tuple[tuple[str, ...], ...]

    def read_in(self, folder: Path, content: bytes) -> None:
        """Give this content to each of the commands; NotKeptError where one is not as promised."""
        file = folder / self.name
        file.write_bytes(content)
        for words in self.commands:
            command(*(word.format(file=file, folder=folder) for word in words))


OF_A_BOOK = (
    ("verify", "{file}"),
    ("check", "{file}"),
    ("replay", "{file}"),
    ("export", "{file}", "--out", "{folder}/out.csv"),
    ("report", "{file}", "--out", "{folder}/out.html"),
    ("report", "{file}", "--out", "{folder}/out.rows.csv"),
    ("forecast", "--engine", "practice", "--readings", "{file}"),
)


def made_book(folder: Path) -> Path:
    """The journal of a short scripted session, ended."""
    script = folder / "made.txt"
    script.write_text(SCRIPT, encoding="utf-8")
    books = folder / "made"
    command("run", "--script", script, "--engine", "practice", "--json", "--out", books)
    (book,) = books.glob("*.jsonl")
    return book


def samples(folder: Path) -> list[Sample]:
    """One of every kind of file; engines and lists are those that ship."""
    book = made_book(folder).read_bytes()
    engines = sorted(paths.engines_folder().glob("*.yaml"))
    lists = [*checklist_paths(), paths.checklists_folder() / "emergencies.yaml"]
    script = ("run", "--script", "{file}", "--engine", "practice", "--json", "--out", "{folder}/b")
    readings = ("forecast", "--engine", "practice", "--readings", "{file}")
    return [
        *(Sample(path.name, path.read_bytes(), (("check", "{file}"),)) for path in engines),
        *(Sample(path.name, path.read_bytes(), (("check", "{file}"),)) for path in lists),
        Sample("r.csv", READINGS.encode(), (("check", "{file}"), readings)),
        Sample("s.txt", SCRIPT.encode(), (script,)),
        Sample("b.jsonl", book, OF_A_BOOK[:3]),
    ]
