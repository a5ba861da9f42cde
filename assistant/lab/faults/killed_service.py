"""The program as systemd keeps it there: killed at any moment, and back in the same steam-up.

A typed run with the service's own options, in a process of its own, by the real clock.
"""

from __future__ import annotations

import random
import re
import tempfile
import time
from dataclasses import dataclass, field
from pathlib import Path

from assistant.commands.session_build import session_config_of
from assistant.dialogue.session import Session
from assistant.dialogue.state import SessionState
from assistant.journal import reader
from assistant.lab.faults.live_run import PROGRAM, LiveRun
from assistant.lab.faults.tally import Tally, demand
from assistant.messages import Heard, Resumed, Say, StepAsked
from assistant.procedure import position
from assistant.procedure.checklist import Phase, Step

SERVICE = ("run", "--typed", "--resume-or-begin", "--engine", "practice")
FROM_WARM = ("--from", Phase.RAISING_STEAM.value)
BACK_S = 5.0  # from the start of the process to its first words, on a quiet machine
LONGEST_LIFE_S = 3.0  # after it was back
CUT_SHORT = 0.2  # so many are killed once more before they are back
LONGEST_START_S = 1.5  # of these
LIVES = 25  # of one book, then another is begun
PLATE = "that's right"
WATER, COLD, STEAMING = "water half", "pressure zero", "pressure sixty"
WARM = (WATER, STEAMING, "fire is bright")
ASKS_WATER = re.compile(r"\b(water|glass)\b[^.?]*\?", re.IGNORECASE)
ASKS_PRESSURE = re.compile(r"\b(pressure|gauge)\b[^.?]*\?", re.IGNORECASE)
SAYS = "  says "


def killed_services(
    times: int, seed: int, program: tuple[str, ...] = PROGRAM, back_s: float = BACK_S
) -> Tally:
    """Each return: in time, in the same book, water and pressure asked, nothing answered asked."""
    tally, rng = Tally(), random.Random(seed)
    took_s: list[float] = []
    while tally.tried < times:
        warm = bool(tally.tried // LIVES % 2)
        with tempfile.TemporaryDirectory(prefix="footplate-faults-") as name:
            lives = _Lives(Path(name), program, rng, warm, back_s, took_s)
            lives.begin()
            for _ in range(min(LIVES, times - tally.tried)):
                with tally.trial(f"return {tally.tried}, {'warm' if warm else 'cold'}"):
                    lives.live()
    middle = sorted(took_s)[len(took_s) // 2]
    tally.notes.append(f"back after {middle:.1f} s (median), {max(took_s):.1f} s at most")
    return tally


@dataclass
class _Lives:
    """One book and the processes that wrote it, one after the other."""

    folder: Path
    program: tuple[str, ...]
    rng: random.Random
    warm: bool
    within_s: float
    took_s: list[float] = field(default_factory=list)

    def begin(self) -> None:
        """The first process: her plate, and what she is in; then it is killed."""
        with self._process() as run:
            run.until_begun()
            run.types(PLATE, *(WARM if self.warm else (WATER,)))
            run.until(lambda: run.has(b'"' + WATER.encode()), "the water in the book")
            self._kill(run)

    def live(self) -> None:
        """Go on, answer a little, be killed; then the book tells whether it was as promised."""
        before = self._state()
        if self.rng.random() < CUT_SHORT:
            with self._process() as run:
                time.sleep(self.rng.uniform(0.0, LONGEST_START_S))
                self._kill(run)
        began_s = time.monotonic()
        with self._process() as run:
            run.until(lambda: SAYS in run.shown, "its first words")
            back_s = time.monotonic() - began_s
            self.took_s.append(back_s)
            self._answer(run, before)
            time.sleep(self.rng.uniform(0.0, LONGEST_LIFE_S))
            self._kill(run)
        demand(len(list(run.books.glob("*.jsonl"))) == 1, "it began another book")
        demand(back_s <= self.within_s, f"it was back after {back_s:.1f} s")
        self._judge(before)

    def _process(self) -> LiveRun:
        words = (*SERVICE, *(FROM_WARM if self.warm else ()))
        return LiveRun(self.program, words=words, folder=self.folder)

    @staticmethod
    def _kill(run: LiveRun) -> None:
        run.process.kill()
        run.process.wait()

    def _answer(self, run: LiveRun, before: SessionState) -> None:
        """None, one or both of the gauges, and now and then the step that was in hand."""
        for line in (WATER, STEAMING if self.warm else COLD)[: self.rng.randrange(3)]:
            run.types(line)
            time.sleep(self.rng.uniform(0.0, 0.3))
        step = position.current(before.progress)
        if step is not None and self.rng.random() < 0.5:
            run.types(_answer_to(step))

    @property
    def _book(self) -> Path:
        return next(iter((self.folder / "books").glob("*.jsonl")))

    def _state(self) -> SessionState:
        """The session as its book has it."""
        records = reader.read(self._book)
        session = Session(session_config_of(reader.require_header(records)))
        for exchange in records.exchanges():
            session.handle(exchange.event)
        return session.state

    def _judge(self, before: SessionState) -> None:
        """What was asked since it came back."""
        since = _since_it_came_back(self._book)
        effects = [effect for exchange in since for effect in exchange.effects]
        asked = {effect.step for effect in effects if isinstance(effect, StepAsked)}
        again = asked & before.progress.answered
        demand(not again, f"asked again though answered: {', '.join(sorted(again))}")
        said = _said(since[:1])
        demand(ASKS_WATER.search(said) is not None, f"the water was not asked: {said}")
        heard = [e.event.text if isinstance(e.event, Heard) else "" for e in since]
        if self.warm and WATER in heard and not any("pressure" in words for words in heard):
            said = _said(since[heard.index(WATER) :])
            demand(ASKS_PRESSURE.search(said) is not None, f"the pressure was not asked: {said}")


def _since_it_came_back(book: Path) -> list[reader.Exchange]:
    """What happened since the session was last gone on with, that event first."""
    since: list[reader.Exchange] = []
    for exchange in reader.read(book).exchanges():
        if isinstance(exchange.event, Resumed):
            since = []
        since.append(exchange)
    return since


def _said(exchanges: list[reader.Exchange]) -> str:
    return " ".join(e.text for each in exchanges for e in each.effects if isinstance(e, Say))


def _answer_to(step: Step) -> str:
    """What may be said to it; for a step without such words what comes next."""
    return next(iter(step.examples()), "what next")
