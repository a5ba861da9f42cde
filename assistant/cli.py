"""The commands and exit codes of the program. The only module that prints or exits."""

from __future__ import annotations

import argparse
import contextlib
import json
import os
import signal
import sys
import traceback
from importlib import import_module
from typing import Any

from assistant import __version__
from assistant.devices.printable import printable
from assistant.errors import FootplateError

# One thread for the small matrices of the recogniser and the forecast: on two busy cores several
# wait for one another and take ten times as long (measured). Set before the library is loaded.
os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")

# command -> what it does, in the order a newcomer wants to read them
COMMANDS: dict[str, str] = {
    "run": "the live steam-up: microphone in, voice out",
    "rehearse": "a practice steam-up on a simulated boiler, by voice",
    "forecast": "readings file in; pressure, water and time to a pressure out",
    "plan": "ready-by time in, time to light up out",
    "engine": "asks for an engine and writes her file",
    "card": "an engine in; a sheet for the cab out, both sides of A5",
    "calibrate": "what the glass showed while water was measured in",
    "hear": "sound files in, what was understood out",
    "phrases": "every form of words that is accepted",
    "check": "engine, checklist, readings and journal files: all problems at once",
    "schema": "the form of an engine, checklist or emergencies file as JSON Schema",
    "replay": "feed a journal through the session again: are the effects the same?",
    "verify": "is this journal whole and unaltered?",
    "report": "journal in; a page to file out",
    "journals": "every journal in a line, found by engine and by date",
    "export": "a journal's readings as a readings file",
    "service": "a unit for systemd, so that it is always there: --print, --write",
    "devices": "microphones and speakers; --test judges one; --record-noise keeps your engine",
    "tune": "learn its owner's voice from twenty phrases: --mine; --mine --forget deletes it",
    "fetch-speech": "get vosk's English model, for people on the net",
    "train": "train the bundled recogniser's adapter (wants torch and recordings)",
    "bench": "slow measurements, printed as tables",
}

NO_THREAD = "can't start new thread"  # Python's own words, in an error of no kind of its own
LAB = frozenset({"train", "bench"})  # commands of the laboratory

_CAUTION = (
    "It assists; it never replaces looking at the gauges. The engine's own instructions, the\n"
    "inspecting body, local codes and licensed practice come before anything it says."
)


class Printed:
    """Standard output and standard error (see commands.output.Out)."""

    def __init__(self, as_json: bool) -> None:
        self.json = as_json

    def line(self, text: str = "") -> None:
        print(printable(text), file=sys.stderr if self.json else sys.stdout, flush=True)

    def record(self, record: dict[str, Any]) -> None:
        if self.json:
            text = json.dumps(record, allow_nan=False, ensure_ascii=False)
            if printable(text) != text:  # JSON's own escapes say the same to whoever reads it
                text = json.dumps(record, allow_nan=False)
            print(text.replace("\x7f", "\\u007f"), flush=True)

    def tell(self, text: str) -> None:
        with contextlib.suppress(OSError):  # a log on a full disk stops nothing
            print(printable(text), file=sys.stderr, flush=True)


def parser_for(commands: list[str]) -> argparse.ArgumentParser:
    """The command line, with the arguments of `commands` (only those modules are imported)."""
    parser = argparse.ArgumentParser(
        prog="footplate",
        description="A voice-and-checklist assistant for raising steam on a small boiler.\n"
        + _CAUTION,
        epilog="With no command: live where there is a microphone, practice where there is none;"
        " the first time, the sound both ways and ten things to say.",
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    parser.add_argument("--version", action="version", version=f"footplate {__version__}")
    parser.add_argument("--debug", action="store_true", help="show the traceback of an error")
    places = parser.add_subparsers(dest="command", metavar="command")
    for command, summary in COMMANDS.items():
        place = places.add_parser(command, help=summary, description=summary)
        place.add_argument("--debug", action="store_true", help=argparse.SUPPRESS)
        if command in commands:
            _module_of(command).add(place)
    return parser


def main(argv: list[str] | None = None) -> int:
    """Do what the command line asks; returns the exit code (the table is in README.md)."""
    words = sys.argv[1:] if argv is None else argv
    debug = "--debug" in words
    try:
        return _dispatch(words)
    except FootplateError as trouble:
        return _fail(trouble, str(trouble), trouble.exit_code, debug)
    except KeyboardInterrupt as stopped:
        return _fail(stopped, "stopped", 130, debug)
    except BrokenPipeError:
        sys.stderr.close()
        return 0
    except MemoryError as trouble:
        return _fail(trouble, "not enough memory", 3, debug)
    except RuntimeError as trouble:
        if NO_THREAD not in str(trouble):
            return _fail(trouble, _internal(trouble), 4, debug)
        return _fail(trouble, "the system gives no more threads: memory or their number", 3, debug)
    except OSError as trouble:
        return _fail(trouble, _plain(trouble), 3, debug)
    except Exception as bug:
        return _fail(bug, _internal(bug), 4, debug)
    finally:
        if argv is None:  # all is done or reported: Ctrl-C during clean-up changes nothing
            signal.signal(signal.SIGINT, signal.SIG_IGN)


def _dispatch(words: list[str]) -> int:
    named = next((word for word in words if not word.startswith("-")), None)
    parser = parser_for([named] if named in COMMANDS else [])
    given = parser.parse_args(words)
    if given.command is None:
        chosen = import_module("assistant.commands.default_command").choose_command(Printed(False))
        return 0 if chosen is None else _dispatch(chosen)
    return int(_module_of(given.command).run(given, Printed(getattr(given, "json", False))))


def _module_of(command: str) -> Any:
    """The module of a command; those in lab/ are imported by name only."""
    room = "assistant.lab.commands" if command in LAB else "assistant.commands"
    return import_module(f"{room}.{command.replace('-', '_')}")


def _plain(trouble: OSError) -> str:
    """An operating-system error as a person would say it."""
    where = f" ({trouble.filename})" if trouble.filename else ""
    return f"{trouble.strerror or trouble}{where}"


def _internal(bug: Exception) -> str:
    return f"internal error: {type(bug).__name__}: {bug} (run again with --debug for the trace)"


def _fail(trouble: BaseException, told: str, code: int, debug: bool) -> int:
    if debug:
        traceback.print_exception(trouble)
    with contextlib.suppress(OSError):
        for line in told.splitlines():
            print(f"footplate: {printable(line)}", file=sys.stderr)
    return code


if __name__ == "__main__":
    sys.exit(main())
