"""`footplate rehearse`: a practice steam-up, by voice, on a simulated boiler."""

from __future__ import annotations

import argparse
import sys
import time
from collections.abc import Callable
from contextlib import ExitStack
from dataclasses import replace
from pathlib import Path
from queue import SimpleQueue

import numpy as np

from assistant.app import Loop, Performer
from assistant.commands import board, options, record_noise, screen_lines
from assistant.commands.kept_learner import keep_learner
from assistant.commands.output import Out
from assistant.commands.replay import differences
from assistant.commands.session_build import checked_session_config, header_of
from assistant.config import paths
from assistant.devices.console import Screen
from assistant.dialogue.session import Session
from assistant.errors import InputWrongError, NotRightError
from assistant.journal import reader
from assistant.journal.writer import Journal
from assistant.messages import Effect, Ended, Event, SpeechBegan, Started, StopAsked
from assistant.recogniser.base import Sound
from assistant.simulator import manners, practice, voices
from assistant.simulator.line import Line
from assistant.simulator.noise import Surroundings
from assistant.simulator.scene import NoWaiting, OperatorHearing, Pace, PracticeTally
from assistant.simulator.sound_rig import SoundRig, TypedRig

LEAP = 30.0  # factor by which silent stretches are shortened when a person watches


def add(parser: argparse.ArgumentParser) -> None:
    """The arguments of `rehearse`."""
    options.add_engine(parser)
    options.add_checklist(parser)
    options.add_ear(parser)
    parser.add_argument("--seed", type=int, default=1, help="which day it is (default 1)")
    parser.add_argument(
        "--speed", choices=("real", "fast"), default="fast",
        help="real: at the pace of speech, quiet stretches shortened; fast: without waiting",
    )  # fmt: skip
    parser.add_argument(
        "--minutes", type=_minutes, metavar="N",
        help="end it after so long: by the clock with real, of the practice's own time with fast",
    )  # fmt: skip
    parser.add_argument("--full-time", action="store_true", help="with real: shorten nothing")
    parser.add_argument(
        "--fault", action="append", default=[], metavar="NAME", help="something goes wrong"
    )
    parser.add_argument(
        "--operator", default=manners.RIGHTLY, metavar="NAME",
        help=f"how the operator behaves: {', '.join(manners.MANNERS)}",
    )  # fmt: skip
    parser.add_argument(
        "--noise",
        type=options.decibel,
        metavar="DB",
        help="speech-to-noise ratio beside the engine",
    )
    parser.add_argument("--noise-kind", metavar="KIND", help=f"with --noise: {record_noise.HELP}")
    parser.add_argument("--silent", action="store_true", help="no sound at all: words as if typed")
    parser.add_argument("--mute", action="store_true", help="with real: do not play sound")
    options.add_teach(parser)
    board.add(parser)
    parser.add_argument("--out", type=Path, metavar="DIR", help="where the journal goes")
    parser.add_argument("--json", action="store_true", help="lines as JSON, the result last")


class RealPace:
    """Time passes in real time, with silent stretches shortened."""

    def __init__(self, leap: float, busy: Callable[[], None]) -> None:
        self._leap = leap
        self._busy = busy

    def pass_time(self, seconds: float, quiet: bool) -> None:
        """Wait, and let what is being played come to its end."""
        self._busy()
        time.sleep(seconds / self._leap if quiet else min(seconds, 1.0))


class PressQueue:
    """Presses on the board, each handled before the practice's next event."""

    def __init__(self, session: Session) -> None:
        self._session = session
        self._waiting: SimpleQueue[tuple[str, str]] = SimpleQueue()

    def press(self, said: str, screen: str) -> None:
        """From the board's thread."""
        self._waiting.put((said, screen))

    def before(self, loop: Loop) -> Callable[[Event], list[Effect]]:
        """The loop's own handling, with what was pressed meanwhile before it."""

        def process(event: Event) -> list[Effect]:
            ended: list[Effect] = []
            while not self._waiting.empty() and not isinstance(event, Started):
                said, screen = self._waiting.get()
                effects = loop.process(board.pressed(said, screen, self._session, event.at))
                ended += [effect for effect in effects if isinstance(effect, Ended)]
            return ended or loop.process(event)

        return process


def _minutes(text: str) -> float:
    return options.number_for_argparse(text, 0.5, 600.0)


class MinutesUp:
    """Handles events until the time is up, then ends the practice in good order."""

    def __init__(
        self, process: Callable[[Event], list[Effect]], limit_s: float, by_clock: bool
    ) -> None:
        self._process = process
        self._limit_s = limit_s
        self._began_s = time.monotonic() if by_clock else None

    def __call__(self, event: Event) -> list[Effect]:
        """The effects of the event, or of the end in its place."""
        passed_s = event.at if self._began_s is None else time.monotonic() - self._began_s
        if passed_s < self._limit_s or isinstance(event, SpeechBegan):
            return self._process(event)
        return self._process(StopAsked(event.at))


def run(given: argparse.Namespace, out: Out) -> int:
    """Rehearse; returns 0, or raises NotRightError when it went wrong."""
    if given.noise_kind and (given.noise is None or given.silent):
        raise InputWrongError("--noise-kind wants --noise DB, and sound to lay it under")
    board.port_of(given)
    engine = options.engine_of(given, out)
    started = time.strftime("%Y-%m-%dT%H:%M:%S%z")
    header = header_of(engine, started, given.seed, "rehearsal", [Path(p) for p in given.checklist])
    config = checked_session_config(header)
    folder = given.out or paths.practice_folder()
    learner = options.learner_of(given, folder, engine)
    path = reader.new_path(folder, engine.engine.name, f"{started[:19]}-seed{given.seed}")
    stage = _Staging(given, out)
    session = Session(config)
    presses = PressQueue(session)
    with Journal.create(path, header) as journal, stage.screen, ExitStack() as stack:
        follow = board.open_board(given, out, stack, config, session, presses.press)
        loop = Loop(session, journal, stage.performers, follow)
        cast = practice.Cast(
            config.engine, config.lists, stage.ears, stage.pace, given.seed, tuple(given.fault),
            given.operator, config.dial, learner,
        )  # fmt: skip
        try:
            process = presses.before(loop)
            if given.minutes is not None:
                process = MinutesUp(process, 60.0 * given.minutes, given.speed == "real")
            tally = practice.play(cast, process, lambda: session.expected, stage.watch)
        except KeyboardInterrupt:
            out.tell(f"interrupted; partial journal in {path}")
            raise
        loop.require_all_written()
    stage.close()
    told = session.state.lesson.learner
    if learner is not None and told is not None:  # what the practice operator does is not his
        told = replace(told, anticipated=learner.anticipated)
        keep_learner(told, folder, engine.engine.name, out)
    return _result(out, tally, given, path)


def _result(out: Out, tally: PracticeTally, given: argparse.Namespace, path: Path) -> int:
    _, differing = differences(path)
    ok, wrong = practice.verdict(
        tally, tuple(given.fault), not differing, given.operator, whole=given.minutes is None
    )
    result = practice.result_json(tally, ok, wrong, str(path))
    out.record(result)
    read = result["readings"]
    out.line()
    out.line(f"phases done: {', '.join(tally.phases_done) or 'none'}")
    out.line(
        f"readings: {read['spoken']} spoken, {read['right']} right, {read['wrong']} wrong, "
        f"{read['confirmed']} asked about, {read['again']} asked again"
    )
    out.line(f"alarms: {', '.join(tally.alarms) or 'none'}")
    out.line(f"journal: {path} (replay {'equals' if not differing else 'differs from'} the record)")
    if not ok:
        raise NotRightError("the rehearsal failed: " + "; ".join(wrong))
    return 0


class _Staging:
    """The recogniser, the voices and the screen of a rehearsal, made from the arguments."""

    def __init__(self, given: argparse.Namespace, out: Out) -> None:
        self.screen = Screen(sys.stderr if out.json else sys.stdout, plain=out.json or None)
        self._quiet = given.speed == "fast" and out.json
        self.performers: tuple[Performer, ...] = ()
        self._close: list[Callable[[], None]] = []
        rng = np.random.default_rng([given.seed, 3])
        play, busy = self._player(given, out)
        self.ears: OperatorHearing = (
            TypedRig() if given.silent else self._sound(given, out, rng, play)
        )
        leap = 1.0 if given.full_time else LEAP
        self.pace: Pace = NoWaiting() if given.speed == "fast" else RealPace(leap, busy)

    def _sound(
        self,
        given: argparse.Namespace,
        out: Out,
        rng: np.random.Generator,
        play: Callable[[Sound], None],
    ) -> SoundRig:
        noise, (kind,) = record_noise.noises([given.noise_kind or "mix"])
        hearer = options.hearer(given, out)
        available = voices.available()
        voice = available[given.seed % min(3, len(available))]
        out.tell(f"the practice operator speaks with the voice {voice}")
        return SoundRig(
            voice, hearer, options.utterances, rng, Surroundings(given.noise, kind, noise), play
        )

    def _player(
        self, given: argparse.Namespace, out: Out
    ) -> tuple[Callable[[Sound], None], Callable[[], None]]:
        """What plays the operator's voice, and what waits for the assistant's."""
        if given.speed == "fast" or given.mute:
            return (lambda sound: None), (lambda: None)
        from assistant.commands.aloud import Aloud

        aloud = Aloud(out)
        self.performers = (aloud,)
        self._close.append(aloud.close)
        return aloud.play, aloud.wait

    def watch(self, at_s: float, who: str, what: object) -> None:
        """Show what the operator says and what the assistant does."""
        if self._quiet:
            return
        if isinstance(what, Line):
            self.screen.line(at_s, "operator", f"says: {what.words}")
        else:
            screen_lines.show(self.screen, at_s, what)

    def close(self) -> None:
        """Release devices."""
        for close in self._close:
            close()
