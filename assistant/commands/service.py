"""`footplate service`: a unit for systemd's user manager, so that the assistant is always there."""

from __future__ import annotations

import argparse
import os
import sys
from collections.abc import Sequence
from pathlib import Path

from assistant.commands import options
from assistant.commands.output import Out
from assistant.config.atomic_write import write_whole
from assistant.errors import InputWrongError, WorldFailedError

NAME = "footplate.service"
MADE_BY = "# Written by `footplate service`; written anew by it."
START_S = 90  # the ear loads in some seconds; a small machine with many books takes longer
WATCHDOG_S = 30  # the loop goes round each second; no event takes so long. Judgement
STOP_S = 30  # the last words are given 15 s
AGAIN_S = 5  # also after "the command is wrong": a named microphone may be plugged in later

# What a user's manager can forbid without a namespace of its own: many systems allow users none,
# and the unit would not start there. Sockets of the local kind lead to the sound server.
UNIT = """\
{made_by}
[Unit]
Description=Footplate assistant, {engine}
After=sound.target pipewire.socket pipewire-pulse.socket pulseaudio.socket
StartLimitIntervalSec=0

[Service]
Type=notify
NotifyAccess=main
{environment}ExecStart={command}
Restart=on-failure
RestartSec={again_s}
WatchdogSec={watchdog_s}
TimeoutStartSec={start_s}
TimeoutStopSec={stop_s}
StandardInput=null
StandardOutput=null
UMask=0077
LimitCORE=0
NoNewPrivileges=yes
RestrictAddressFamilies=AF_UNIX
RestrictNamespaces=yes
RestrictSUIDSGID=yes
LockPersonality=yes
SystemCallArchitectures=native

[Install]
WantedBy=default.target
"""

NEXT = (
    "to start it now and after every login:",
    "  systemctl --user daemon-reload",
    f"  systemctl --user enable --now {NAME}",
    "to have it start with the machine, without a login (and to reach the sound card then):",
    '  loginctl enable-linger "$USER"',
    '  sudo usermod -aG audio "$USER"',
    f"what it does: systemctl --user status {NAME}",
)


def add(parser: argparse.ArgumentParser) -> None:
    """The arguments of `service`."""
    options.add_engine(parser)
    options.add_checklist(parser)
    options.add_people(parser)
    what = parser.add_mutually_exclusive_group(required=True)
    what.add_argument("--print", action="store_true", help="print the unit")
    what.add_argument("--write", action="store_true", help="write it where systemd looks for it")
    parser.add_argument("--microphone", metavar="NAME", help="which microphone")
    parser.add_argument("--speaker", metavar="NAME", help="which loudspeaker")
    parser.add_argument("--wake", action="store_true", help="as for run")
    parser.add_argument("--out", type=Path, metavar="DIR", help="where the journals go")


def run(given: argparse.Namespace, out: Out) -> int:
    """Print the unit, or write it and say how it is started."""
    engine = options.live_engine_of(given, out)
    options.people_of(given, engine)
    unit = unit_of(engine.engine.name, run_words(given, engine.path))
    if given.print:
        out.line(unit.rstrip("\n"))
        return 0
    path = unit_path()
    _refuse_others(path)
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
    except OSError as trouble:
        raise WorldFailedError(f"{path.parent}: {trouble.strerror or trouble}") from trouble
    write_whole(path, unit.encode())
    out.line(f"written: {path}")
    for line in NEXT:
        out.line(line)
    return 0


def run_words(given: argparse.Namespace, engine: Path) -> list[str]:
    """The command line of the run: what does not depend on the folder it is started in."""
    words = [*_program(), "run", "--resume-or-begin", "--engine", str(engine.resolve())]
    for checklist in given.checklist:
        words += ["--checklist", str(Path(checklist).resolve())]
    for option in ("people", "microphone", "speaker"):
        if value := getattr(given, option):
            words += [f"--{option}", value]
    if given.wake:
        words.append("--wake")
    if given.out is not None:
        words += ["--out", str(given.out.resolve())]
    return words


def _program() -> list[str]:
    """This program by its full path; `-P` keeps a folder called like our package out of the way."""
    script = Path(sys.executable).with_name("footplate")
    return [str(script)] if script.is_file() else [sys.executable, "-P", "-m", "assistant.cli"]


def unit_of(engine_name: str, command: Sequence[str]) -> str:
    """The unit for a run by this command line."""
    home = os.environ.get("FOOTPLATE_HOME")
    environment = "" if not home else f"Environment={quoted(f'FOOTPLATE_HOME={_absolute(home)}')}\n"
    return UNIT.format(
        made_by=MADE_BY,
        engine=_one_line(engine_name).replace("%", "%%"),
        environment=environment,
        command=" ".join(quoted(word, dollars=True) for word in command),
        watchdog_s=WATCHDOG_S,
        start_s=START_S,
        stop_s=STOP_S,
        again_s=AGAIN_S,
    )


def quoted(word: str, dollars: bool = False) -> str:
    r"""A word as a unit's line takes it. dollars: where variables would be put in.

    >>> quoted("/home/ann/my engine.yaml"), quoted("50% $HOME", dollars=True)
    ('"/home/ann/my engine.yaml"', '"50%% $$HOME"')
    """
    if not word.isprintable():
        raise InputWrongError(f"{word!r} cannot be written into a unit")
    text = word.replace("\\", "\\\\").replace('"', '\\"').replace("%", "%%")
    text = text.replace("$", "$$") if dollars else text
    plain = word.isascii() and all(c.isalnum() or c in "/._-=+,:@" for c in word) and word
    return text if plain else f'"{text}"'


def unit_path() -> Path:
    """Where systemd's user manager looks for a user's own units."""
    base = os.environ.get("XDG_CONFIG_HOME")
    config = Path(base) if base and Path(base).is_absolute() else Path.home() / ".config"
    return config / "systemd" / "user" / NAME


def _refuse_others(path: Path) -> None:
    if not os.path.lexists(path):
        return
    try:
        ours = path.is_file() and path.read_text(encoding="utf-8").startswith(MADE_BY)
    except (OSError, UnicodeError):
        ours = False
    if not ours:
        raise InputWrongError(f"{path}: there is one that this program did not write")


def _absolute(text: str) -> str:
    return str(Path(text).resolve())


def _one_line(text: str) -> str:
    """As a line of a unit takes it, in which a backslash at the end would join the next."""
    kept = "".join(c if c.isprintable() and c != "\\" else " " for c in text)
    return " ".join(kept.split())
