"""README.md: every command in it is run, as it stands there or to an end that harms nothing."""

from __future__ import annotations

import re
import shlex
import shutil
import subprocess
from pathlib import Path
from typing import NamedTuple

import pytest
from shell import footplate

from assistant.cli import COMMANDS, parser_for
from assistant.config.engine_questions import QUESTIONS

pytestmark = pytest.mark.real  # runs the program in processes of their own

ROOT = Path(__file__).parents[1]
README = (ROOT / "README.md").read_text(encoding="utf-8")
DATA = Path(__file__).parent / "data"
KNOWN = DATA / "engines" / "american.yaml"  # answers about an engine
PROGRAM = (".venv/bin/footplate", "footplate")
OTHER_PROGRAMS = ("sh", "pip", ".venv/bin/pip", "pipx", "systemctl", "loginctl", "sudo")


class Row(NamedTuple):
    """How a command is run that cannot be left to itself."""

    why: str
    words: str = ""
    """What is run instead; "" for the command itself, without the program's name."""
    codes: tuple[int, ...] = (0,)
    typed: str = ""
    tells: str = ""
    """What must be among the printed words."""
    held_by: str = ""
    """The test that runs it, where nothing is run here."""


def answers() -> str:
    """What is typed to `footplate engine`, a line for each question."""
    known = dict(
        line.split(": ", 1) for line in KNOWN.read_text().splitlines() if not line.startswith("#")
    )
    known["name"] = "My engine"
    return "".join(known.get(question.key, "") + "\n" for question in QUESTIONS)


ENGINE = Row("asks on a terminal", typed=answers(), tells="Written: my-engine.yaml")
LIVE = Row(
    "goes on until it is told to end, and wants a microphone",
    "run --engine my-engine.yaml --typed", typed="end the session\n", tells="journal: ",
)  # fmt: skip
NO_MICROPHONE = {"codes": (2, 3), "tells": "microphone"}
NO_NOISE = {"codes": (2,), "tells": "no noise was recorded yet"}
NO_ENGINE = {"codes": (2,), "tells": "no engine called 'nobody'"}
INSTALLS = Row("fetches packages and changes an environment", held_by="tests/test_wheel.py")
FORECAST = "forecast --engine my-engine.yaml --readings readings.csv"

TABLE: dict[str, Row] = {
    "sh .ci/start": Row("fetches packages and plays by sound", "sh -n .ci/start"),
    "sh .ci/test": Row("fetches packages and runs this test", "sh -n .ci/test"),
    "pipx install .": INSTALLS,
    "pip install .": INSTALLS,
    ".venv/bin/pip install -e '.[tune]'": INSTALLS,
    ".venv/bin/footplate": Row(
        "begins a live run or a practice", held_by="tests/commands/test_default_command.py"
    ),
    ".venv/bin/footplate engine": ENGINE,
    "footplate engine": ENGINE,
    "engine --answers FILE": Row(
        "FILE stands for one", f"engine --answers {shlex.quote(str(KNOWN))}", tells="Written: "
    ),
    ".venv/bin/footplate devices --test": Row(
        "wants a microphone and somebody who speaks",
        "devices --test --microphone nobody", **NO_MICROPHONE,
    ),
    "footplate devices --record-noise": Row(
        "wants a microphone and an engine",
        "devices --record-noise --microphone nobody", **NO_MICROPHONE,
    ),
    ".venv/bin/footplate run --engine my-engine.yaml": LIVE,
    "footplate run": LIVE,
    'run --people "Ann, Bob"': Row(
        LIVE.why, f'{LIVE.words} --people "Ann, Bob"', typed="Ann has the watch\n",
        tells="entered: Ann has the watch",
    ),
    "run --teach Ann": Row(
        LIVE.why, f"{LIVE.words} --teach Ann", typed="end the session\n", tells="journal: "
    ),
    "rehearse --teach Ann": Row(
        "plays a whole practice by sound, a minute where others use the machine too",
        "rehearse --teach Ann --silent", tells="phases done: preparation",
    ),
    "footplate run --board": Row(
        "serves a page until it ends; tests/board does", "run --board --engine nobody", **NO_ENGINE
    ),
    "rehearse --board": Row(
        "serves a page until it ends; tests/board does",
        "rehearse --board --engine nobody", **NO_ENGINE,
    ),
    "footplate rehearse --noise 10 --noise-kind recorded": Row(
        "wants a recording of an engine, and says so", **NO_NOISE
    ),
    "footplate bench": Row("measures for hours", "bench --help"),
    "footplate bench hear": Row(
        "measures for hours", "bench hear --part kinds --kind recorded", **NO_NOISE
    ),
    "bench talk": Row("measures for hours", "bench talk --kind recorded", **NO_NOISE),
    "footplate bench hear --part kinds --kind recorded --level 10 --ear tuned": Row(
        "wants a recording of an engine, and says so", **NO_NOISE
    ),
    "footplate fetch-speech": Row("fetches from the net", "fetch-speech --help"),
    "systemctl --user daemon-reload": Row(
        "changes this machine; the program names it itself",
        "service --write --engine my-engine.yaml", tells="systemctl --user daemon-reload",
    ),
    "systemctl --user enable --now footplate.service": Row(
        "changes this machine; the program names it itself",
        "service --write --engine my-engine.yaml",
        tells="systemctl --user enable --now footplate.service",
    ),
    'loginctl enable-linger "$USER"': Row(
        "changes this machine; the program names it itself",
        "service --write --engine my-engine.yaml", tells='loginctl enable-linger "$USER"',
    ),
    "forecast --nose-up": Row("wants files", f'{FORECAST} --nose-up "2 degree"', tells="psi"),
    "forecast --past": Row("wants files", f"{FORECAST} --past readings.csv", tells="psi"),
    "footplate verify": Row("wants a journal", "verify book.jsonl", tells="whole"),
    "footplate verify --digest": Row(
        "wants a journal", "verify book.jsonl --digest 70813a3af84b", tells="whole"
    ),
}  # fmt: skip


def commands_in(text: str) -> list[str]:
    """The lines of its shell blocks, and what is set as code and begins as a command does."""
    blocks = re.findall(r"^```sh\n(.*?)^```", text, re.DOTALL | re.MULTILINE)
    found = [re.sub(r"\s+#.*", "", line).strip() for b in blocks for line in b.splitlines()]
    outside = re.sub(r"^```.*?^```", "", text, flags=re.DOTALL | re.MULTILINE)
    for code in re.findall(r"`([^`\n]+)`", outside):
        first, _, more = code.partition(" ")
        if first in PROGRAM or (more and first in (*OTHER_PROGRAMS, *COMMANDS)):
            found.append(code)
    return list(dict.fromkeys(line for line in found if line))


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder with the files that README speaks of, and no home but one in it."""
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("FOOTPLATE_HOME", str(tmp_path / "home"))
    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path / "config"))
    shutil.copy(DATA / "journals" / "session_0.1.0_practice.jsonl", tmp_path / "book.jsonl")
    (tmp_path / "readings.csv").write_text(
        "time,what,value,unit\n00:00:00,water,0.50,glass\n00:05:00,fire,lit,\n"
        "00:41:00,pressure,5,psi\n00:50:00,pressure,15,psi\n"
    )
    return tmp_path


@pytest.fixture(scope="module")
def my_engine(tmp_path_factory: pytest.TempPathFactory) -> str:
    """The text of an engine file, as `footplate engine` writes it."""
    path = tmp_path_factory.mktemp("engine") / "my-engine.yaml"
    made = footplate("engine", "--out", str(path), stdin=answers())
    assert made.returncode == 0, made.stdout + made.stderr
    return path.read_text(encoding="utf-8")


@pytest.mark.parametrize("command", commands_in(README))
def test_it_runs(command: str, folder: Path, my_engine: str) -> None:
    row = TABLE.get(command, Row("it runs as it stands there"))
    if row.held_by:
        assert (ROOT / row.held_by).is_file()
        return
    if row is not ENGINE:
        (folder / "my-engine.yaml").write_text(my_engine, encoding="utf-8")
    words = shlex.split(row.words or command)
    if words[0] == "sh":
        done = subprocess.run(words, cwd=ROOT, capture_output=True, text=True, check=False)
    else:
        done = footplate(*(words[1:] if words[0] in PROGRAM else words), stdin=row.typed)
    told = done.stdout + done.stderr
    assert done.returncode in row.codes, told
    assert row.tells in told


def test_no_row_is_of_a_command_that_is_not_there() -> None:
    assert set(TABLE) - set(commands_in(README)) == set()


def test_commands_are_found_in_blocks_and_in_the_text() -> None:
    block = "```sh\nsh a  # why\n\nfootplate b\n```\n"
    text = f"`run` and `run --typed`, `words: american`\n{block}`pip x`"
    assert commands_in(text) == ["sh a", "footplate b", "run --typed", "pip x"]


def test_what_is_installed_with_it_is_an_extra_of_the_project() -> None:
    extras = re.findall(r"\.\[(\w+)\]", README)
    project = (ROOT / "pyproject.toml").read_text(encoding="utf-8")
    assert extras
    assert all(f"\n{extra} = [" in project for extra in extras)


@pytest.mark.parametrize("command", COMMANDS)
def test_every_option_in_the_row_of_a_command_is_one_of_its_own(
    command: str, capsys: pytest.CaptureFixture[str]
) -> None:
    (row,) = re.findall(rf"^\| [^|]*`{command}`[^|]*\|(.*)\|$", README, re.MULTILINE)
    row = re.sub(r"`\w+ --[^`]*`", "", row)  # of another command
    with pytest.raises(SystemExit):
        parser_for([command]).parse_args([command, "--help"])
    own = set(re.findall(r"--[a-z][a-z-]*", capsys.readouterr().out))
    assert set(re.findall(r"(?<=[` ])--[a-z][a-z-]*", row)) <= own
