"""`footplate bench`: slow measurements, printed as tables; never part of the tests."""

from __future__ import annotations

import argparse
from collections.abc import Iterator
from itertools import chain
from pathlib import Path

from assistant.commands.output import Out
from assistant.lab import outside
from assistant.lab.benches import listening
from assistant.lab.commands import alarm_faults, fault_trials, forecast_parts, random_days

KINDS = (
    "forecast", "hear", "talk", "voice", "journal", "events", "alarms", "days", "faults", "board",
)  # fmt: skip
VOICE_SENTENCES, VOICE_FORMS = 50, 20
NOT_IN_THE_COMMAND = frozenset({"command", "what", "record", "parser", "debug"})


def add(parser: argparse.ArgumentParser) -> None:
    """The arguments of `bench`."""
    parser.set_defaults(parser=parser)
    parser.add_argument("what", choices=KINDS)
    forecast_parts.add_options(parser)
    parser.add_argument(
        "--runs", type=int, default=2, help="forecast, alarms: steam-ups of each; board: runs"
    )
    parser.add_argument(
        "--recordings", type=Path, metavar="FOLDER", default=outside.speech_folder(),
        help="hear, talk: folder with commands/, digits/ and kitchen.flac",
    )  # fmt: skip
    listening.add_options(parser, {"faults": fault_trials.PARTS, "forecast": forecast_parts.PARTS})
    random_days.add_options(parser)
    alarm_faults.add_options(parser)
    fault_trials.add_options(parser)
    parser.add_argument(
        "--record", action="store_true",
        help="also write what is printed to the laboratory's results",
    )  # fmt: skip


def run(given: argparse.Namespace, out: Out) -> int:
    """Measure and print, and keep the lines where --record asks for it.

    Returns 0, and 1 where random days broke a promise or a fault that was put in was not borne.
    """
    lines: list[str] = []
    for line in _measured(given):
        lines.append(line)
        out.line(line)
    if given.record:
        from assistant.lab.results_file import write_result

        name = "-".join((given.what, *filter(None, [given.part]), *(given.only_table or ())))
        out.tell(f"written: {write_result(name, command_of(given), lines).name}")
    return random_days.exit_code(lines) if given.what in ("days", "faults") else 0


def command_of(given: argparse.Namespace) -> list[str]:
    """The words of the command line that ask for this, defaults left out."""
    words = ["bench", given.what]
    for name, value in vars(given).items():
        if name in NOT_IN_THE_COMMAND or value == given.parser.get_default(name):
            continue
        option = f"--{name.replace('_', '-')}"
        values = value if isinstance(value, list) else [value]
        words += [
            word
            for one in values
            for word in (option, one.name if isinstance(one, Path) else str(one))
        ]
    return words


def _measured(given: argparse.Namespace) -> Iterator[str]:
    if given.what in listening.BENCH_PARTS:
        return listening.bench_lines(given)
    if given.what == "days":
        return random_days.bench_days(given)
    if given.what == "faults":
        return fault_trials.bench_faults(given)
    if given.what == "events":
        return _events(given.engine, given.hours)
    if given.what == "board":
        from assistant.lab.benches import board_load

        return board_load.bench_lines(given.runs)
    if given.what == "voice":
        return _voice()
    if given.what == "forecast":
        return forecast_parts.bench_forecast(given)
    if given.what == "alarms":
        faults = alarm_faults.bench_alarms(given)
        every = not (given.fault or given.operator)
        return chain(_alarms(given.runs), [""], faults) if every else faults
    return _journal()


def _events(engines: list[str] | None, hours: float | None) -> Iterator[str]:
    from assistant.lab.benches import event_latency

    names = engines or ["practice"]
    return chain.from_iterable(event_latency.bench_lines(name, hours or 24.0) for name in names)


def _voice() -> Iterator[str]:
    """What the shaping of the voice is worth, by a measure and by the bundled ear."""
    from assistant.lab.benches import own_sentences, voice_heard, voice_in_noise
    from assistant.recogniser.constrained_whisper import ConstrainedWhisper

    voice_in_noise.estoi()  # said now rather than after the practices
    said = own_sentences.drawn(own_sentences.spoken_in())
    yield from voice_in_noise.bench_lines(voice_in_noise.spoken(said, VOICE_SENTENCES))
    yield ""
    forms = own_sentences.drawn(voice_heard.named_forms())
    voices = voice_in_noise.spoken(forms, VOICE_FORMS)
    yield from voice_heard.bench_lines(ConstrainedWhisper(), voices)


def _journal() -> Iterator[str]:
    from assistant.lab.benches import journal_damage, journal_day, long_and_many

    return chain(
        journal_day.bench_lines(), journal_damage.bench_lines(), long_and_many.bench_lines()
    )


def _alarms(runs: int) -> Iterator[str]:
    """How often the watch speaks in so many steam-ups of each shipped engine."""
    from assistant.commands.session_build import header_of, session_config_of
    from assistant.config import engine_file, paths
    from assistant.dialogue.session import Session
    from assistant.lab.benches import alarm_rates

    def one(name: str, seed: int) -> alarm_rates.AlarmCounts:
        found = engine_file.find_engine(name)
        parts = session_config_of(header_of(found, "2026-05-01T09:00:00+00:00", seed, "rehearsal"))
        return alarm_rates.practice_alarms(Session(parts), parts.engine, parts.lists, seed)

    engines = paths.shipped(paths.engines_folder())
    wanted = [(name, seed) for seed in range(1, runs + 1) for name in engines]
    return alarm_rates.bench_lines(wanted, one)
