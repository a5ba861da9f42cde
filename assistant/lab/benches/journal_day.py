"""An invented day of twelve hours, journalled as a live session does: resumed, replayed, reported.

For `footplate bench journal`; slow, so never part of the tests.
"""

from __future__ import annotations

import math
import resource
import tempfile
import time
from collections.abc import Callable, Iterable, Iterator
from dataclasses import replace
from heapq import heappop, heappush
from pathlib import Path

from assistant.app import Loop
from assistant.commands.replay import replay
from assistant.commands.resume import resume
from assistant.commands.session_build import checked_session_config, header_of
from assistant.config import engine_file
from assistant.dialogue.session import Session
from assistant.journal import reader
from assistant.journal.writer import Journal
from assistant.messages import (
    Alternative,
    Effect,
    Event,
    Heard,
    Report,
    Say,
    SpeechBegan,
    Spoke,
    Started,
    Tick,
)
from assistant.recogniser.typed_recogniser import hear_typed
from assistant.report.page import Page
from assistant.report.page_html import html
from assistant.report.page_pdf import pdf
from assistant.report.story import read_story
from assistant.report.terms import Terms
from assistant.report.watch_log import LogOptions, watch_log

ENGINE, STARTED = "practice", "2026-05-02T08:15:00+01:00"
_DAY_S = 12 * 3600.0
_TICK_S = 1.0003  # a second, and the drift of a real clock
RUNS = 3

_Line = tuple[float, str]  # minutes since the start, and words

# From which minute on what is said, the sentences of a row 24 s apart.
RAISING = (
    (0.3, "water half", "brake on and chocked", "out of gear", "regulator is shut", "drains open"),
    (2.5, "papers in date", "gloves are on", "boiler is tight", "firebox is dry"),
    (3.9, "blow down is shut"),
    (4.5, "safety valve free", "pressure nought", "comes back at once"),
    (6.5, "ash pan clean"), (10, "tubes are clean"),
    (11, "tank is full", "bypass and strainer right"),
    (13, "note the second firebar is worn and wants changing"), (14, "oiled round"),
    (14.8, "extinguisher is here", "fuel to hand", "barrier is up"),
    (17, "water half", "damper open", "blower cracked", "extension on", "chimney draws"),
    (20, "fire lit"), (24, "fire built", "water half"), (33, "pressure nought", "water half"),
    (45, "pressure nought", "water half"), (55, "pressure zero", "water 5/8"), (61, "real steam"),
    (63, "pressure 2", "water 5/8"), (66, "pressure 5", "water 5/8"),
    (69, "pressure 10", "water 5/8"), (72, "pressure 15", "water 5/8"), (73, "blower half open"),
    (75, "pressure 20", "water 5/8"), (76.2, "back at once", "water 5/8"),
    (78, "pressure 30", "water 5/8"), (81, "pressure 40", "water 3/4", "coal on"),
    (84, "pressure 45", "water 3/4", "hand pump is good", "extension off"), (87, "oiled round"),
    (88, "pressure 65", "water 3/4"), (92, "pressure 90", "water 3/4"),
    (95, "pressure 105", "water 3/4", "blower just cracked", "damper cracked"),
    (98, "pressure 120", "water 3/4"), (102, "pressure 130", "water 3/4"),
    (103.5, "valve is feathering", "pressure 133", "water 3/4"),
    (105.2, "brake on and chocked", "out of gear", "nobody near", "drain cocks open"),
    (107, "reverser is forward", "regulator open"),
    (109, "dry steam now", "drain cocks shut", "lubricator moves"),
    (111, "regulator is shut", "all cool and quiet"),
    (112.5, "water 3/4", "tank is full", "regulator open", "bypass is shut"),
    (116, "glass is gaining", "water 7/8", "pipe is cool"), (119, "bypass open"),
    (119.6, "water 3/4", "regulator is shut", "brake on and chocked", "out of gear"),
    (121.4, "drains open", "damper shut", "watch is kept"),
)  # fmt: skip
# A round of work of 84 minutes, six times over from minute 128 on.
ROUND_MIN, FIRST_ROUND, ROUNDS = 84, 128, 6
ROUND = (
    (0, "water 3/4", "moving off again", "water 3/4", "brake on and chocked", "out of gear"),
    (2, "nobody near", "drain cocks open", "reverser is forward"),
    (3.2, "regulator open", "damper open"),
    (4, "dry steam now", "drain cocks shut", "lubricator moves"), (9.3, "more coal on the fire"),
    (12.6, "blower half"), (16.6, "blower just cracked"), (19.3, "where are we"),
    (21.3, "more coal on the fire"), (27.2, "note the wind has gone round to the west"),
    (33.3, "more coal on the fire"), (44.2, "regulator is shut", "all cool and quiet"),
    (45.5, "water half", "tank half full", "regulator open", "bypass is shut"),
    (48.3, "pressure 105"), (50.3, "glass is gaining", "water half", "pipe is cool"),
    (53, "pressure 102"),
    (55, "water 5/8"), (57, "pressure 104"), (58.4, "water 3/4", "bypass open"),
    (59.4, "water 3/4", "regulator is shut", "brake on and chocked", "out of gear"),
    (61.2, "drains open", "damper shut", "watch is kept"), (64.4, "tank is full"),
    (70.4, "fire banked"), (79.5, "coal on the fire"),
)  # fmt: skip
STAND_MIN = 33  # from the last round to the putting away
PUTTING_AWAY = (
    (0, "putting her away", "water 7/8", "regulator shut", "brake on and chocked", "out of gear"),
    (2.4, "drains open", "fire run down"),
    (40, "fire is dead", "chimney capped", "pressure 8", "ash is out"),
    (44, "pipes drained", "no frost tonight", "no repairs"), (47, "log signed"),
)  # fmt: skip


def _script(rounds: int) -> list[_Line]:
    """What is said all day, with a reading every two minutes during the rounds of work."""
    away = FIRST_ROUND + ROUND_MIN * rounds + STAND_MIN
    lines = [*_in_turn(RAISING), *_in_turn(PUTTING_AWAY, away)]
    for number in range(rounds):
        begun = FIRST_ROUND + ROUND_MIN * number
        lines += _in_turn(ROUND, begun)
        lines += _readings(begun + 6, begun + 44, lambda past: 112 + 13 * math.sin(past / 9.0))
        lines += _readings(begun + 62, begun + 82, lambda past: 106 + 4 * math.cos(past / 5.0))
    lines += _readings(away - 30, away, lambda past: 100 + 3 * math.cos(past))
    lines += _readings(away + 3, away + 38, lambda past: 95 * math.exp(-past / 14.0))
    return sorted(lines)


def _in_turn(table: Iterable[tuple[float | str, ...]], begun: float = 0.0) -> list[_Line]:
    return [
        (begun + float(at) + 0.4 * place, str(words))
        for at, *several in table
        for place, words in enumerate(several)
    ]


def _readings(begun: int, end: int, gauge: Callable[[float], float]) -> list[_Line]:
    """Pressure [psi] and water alternately, every two minutes."""
    lines: list[_Line] = []
    for past in range(0, end - begun, 4):
        level = "3/4" if past < 12 else "5/8" if past < 26 else "half"
        lines.append((begun + past, f"pressure {gauge(past):.0f}"))
        lines.append((begun + past + 2, f"water {level}"))
    return lines


def day_events(
    session: Session,
    turn: Callable[[Event], list[Effect]],
    rounds: int = ROUNDS,
    day_s: float = _DAY_S,
) -> Iterator[Event]:
    """The day's events, each after `turn` has processed it: ticks, utterances, ends of speech."""
    coming: list[tuple[float, int, str, str]] = []  # at, a number of its own, what, words
    for number, (minute, words) in enumerate(_script(rounds)):
        heappush(coming, (60.0 * minute + 0.37, number, "began", words))
        heappush(coming, (60.0 * minute + 0.67, number, "heard", words))
    number, tick_s = len(coming), 0.0
    event: Event = Started(0.0)
    while event.at < day_s:
        speaks_until = event.at
        for effect in turn(event):
            if isinstance(effect, Say):
                number, speaks_until = number + 1, speaks_until + 0.5 + 0.065 * len(effect.text)
                heappush(coming, (speaks_until, number, "spoke", effect.text))
        yield event
        if coming and coming[0][0] <= tick_s + _TICK_S:
            at, _, what, words = heappop(coming)
            event = _event(session, at, what, words)
        else:
            tick_s += _TICK_S
            event = Tick(tick_s)


def _event(session: Session, at: float, what: str, words: str) -> Event:
    if what == "heard":
        return _as_recognised(hear_typed(words, session.expected, at))
    return SpeechBegan(at) if what == "began" else Spoke(at, words)


def _as_recognised(typed: Heard) -> Heard:
    """The words as the bundled recogniser gives them: sure, but most pressures with rivals.

    The probabilities and the share with rivals are those of a practice by sound.
    """
    alternatives = [replace(a, probability=0.9985) for a in typed.alternatives]
    for alternative in typed.alternatives:
        called = alternative.meaning
        if not isinstance(called, Report) or called.what != "pressure":
            continue
        if isinstance(called.value, float) and called.value >= 20.0 and called.value % 4.0:
            alternatives = [
                Alternative(replace(called, value=called.value + more), alternative.words, share)
                for more, share in ((0.0, 0.9932), (40.0, 0.0033), (20.0, 0.0021))
            ]
    return replace(
        typed,
        ear="bench",
        alternatives=tuple(alternatives),
        log_ratio=-0.2,
        average=-0.05,
        audio_s=1.6,
    )


def _write(path: Path) -> int:
    """Write the day's journal, unfinished; returns how many events are in it."""
    header = header_of(engine_file.find_engine(ENGINE), STARTED, 0, "live")
    session = Session(checked_session_config(header))
    with Journal.create(path, header) as journal:
        return sum(1 for _ in day_events(session, Loop(session, journal).process))


def bench_lines() -> Iterator[str]:
    """The lines of the table, as they are found."""
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        engine = engine_file.find_engine(ENGINE).engine.name
        path = reader.new_path(folder, engine, STARTED)
        events = _write(path)
        size_mb = path.stat().st_size / 1e6
        yield f"a day of 12 hours as a live session has it: {events} events, {size_mb:.1f} MB"
        jobs: dict[str, Callable[[], object]] = {
            "resumed": lambda: resume(folder, engine).journal.close(),
            "replayed": lambda: replay(path),
            "reported, html": lambda: html(_page(path)),
            "reported, pdf": lambda: pdf(_page(path)),
        }
        for label, job in jobs.items():
            yield f"{label}: " + ", ".join(_timed(job) for _ in range(RUNS))


def _page(path: Path) -> Page:
    return watch_log(read_story(path), LogOptions(Terms("psi", "iso"), "", ""), ())


def _timed(job: Callable[[], object]) -> str:
    """Wall time, processor time, and the peak memory of the process so far."""
    wall, busy = time.perf_counter(), time.process_time()
    job()
    wall, busy = time.perf_counter() - wall, time.process_time() - busy
    most_mb = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1000.0
    return f"{wall:.2f} s ({busy:.2f} s of a processor, {most_mb:.0f} MB)"
