"""How practice operators behave. Each is the plain operator with one manner of his own.

Knows what `Operator` knows. His own randomness is drawn apart, so that the day stays the same.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence

import numpy as np

from assistant.grammar import fractions
from assistant.grammar.states import preferred_words
from assistant.messages import Answer, Grade, Meaning, Report
from assistant.procedure.checklist import Checklist, Step
from assistant.simulator.line import Line, level_line
from assistant.simulator.operator import DIAL_STEPS, Operator
from assistant.simulator.operator_acts import OperatorActs
from assistant.simulator.practice_boiler import PracticeBoiler
from assistant.simulator.told_aloud import state_line

AWAY_S = 900.0  # a quarter of an hour
_LEAVES_WITHIN_S = 300.0  # of the time at which faults begin
_MISREAD = 0.1  # of the readings
_OFF_STEPS = (-6.0, -4.0, -2.0, 2.0, 4.0, 6.0)  # of the dial, misread by so many; judgement
_OFF_GLASS = 0.2  # a glass is misread by so much at least; judgement
_OPENS_INSTEAD = 0.5  # of the times that he should shut
# The level is unknown, or the water lost: he feeds.
_FEEDS_AT = frozenset({"water out of sight", "water doubted", "glass broken", "water not read"})


class Silent(Operator):
    """Does and says nothing at all from the time on at which faults begin."""

    def is_here(self, at: float) -> bool:
        """Until then."""
        gone_at = self._boiler.trouble_at
        return gone_at is None or at < gone_at

    def comes_back(self, at: float) -> bool:
        """Never."""
        return False


class Leaver(Operator):
    """Goes away for a quarter of an hour, about when faults begin."""

    def __init__(
        self, boiler: PracticeBoiler, lists: Sequence[Checklist], rng: np.random.Generator
    ) -> None:
        super().__init__(boiler, lists, rng)
        self._leaves_after_s = float(_apart(rng).uniform(0.0, _LEAVES_WITHIN_S))

    def is_here(self, at: float) -> bool:
        """Before, and after."""
        begins = self._boiler.trouble_at
        return begins is None or not 0.0 <= at - begins - self._leaves_after_s < AWAY_S


class Misreader(Operator):
    """One reading in ten is wrong. Doubted, he looks again; else the next one is right."""

    def __init__(
        self, boiler: PracticeBoiler, lists: Sequence[Checklist], rng: np.random.Generator
    ) -> None:
        super().__init__(boiler, lists, rng)
        self._own = _apart(rng)
        self._misread: Meaning | None = None

    def reading(self, what: str) -> Line:
        """A gauge as he reads it."""
        line = super().reading(what)
        wrong = self._wrongly(line.meaning) if self._own.random() < _MISREAD else None
        self._misread = wrong.meaning if wrong else None
        return wrong or line

    def check(self, doubted: Meaning) -> Line:
        """A doubt makes him look again."""
        if doubted == self._misread:
            return Line("wrong", Answer("no"))
        return super().check(doubted)

    def again(self) -> Line | None:
        """What was wrong is not said twice."""
        last = self.meant()
        if last != self._misread or not isinstance(last, Report):
            return super().again()
        self._misread = None
        return self._remember(super().reading(last.what))

    def _wrongly(self, meaning: Meaning) -> Line | None:
        if not isinstance(meaning, Report) or isinstance(meaning.value, str):
            return None
        if meaning.what == "pressure":
            off = float(self._own.choice(_OFF_STEPS)) * DIAL_STEPS[self.dial][1]
            return self._pressure_line(round(max(meaning.value + off, 0.0), 1))
        if meaning.what != "water":
            return None
        others = [f for f in fractions.NAMED if abs(f - meaning.value) >= _OFF_GLASS]
        return level_line("water", float(self._own.choice(others)))


class Blunderer(Operator):
    """Does the wrong thing: opens what should be shut, and feeds when the level is unknown."""

    def _hands(self, boiler: PracticeBoiler) -> OperatorActs:
        return _WrongHands(boiler, _apart(self._rng))

    def told(self, text: str, at: float) -> None:
        """He does nothing of what is told him outside the steps."""

    def alarmed(self, name: str, grade: Grade) -> Line | None:
        """Every danger has him open the blower, one without a level has him feed."""
        if name in _FEEDS_AT:
            self._boiler.feed(True)
            return Line("feed running", Report("feed", "on"))
        if grade is Grade.DANGER:
            self._boiler.blower("open")
            return state_line("blower", "open")
        return None

    def _state_line(self, step: Step, state: str) -> Line:
        if state not in {reply.state for reply in step.replies} and preferred_words(
            step.asks, state
        ):
            return state_line(step.asks, state)
        return super()._state_line(step, state)


class _WrongHands(OperatorActs):
    """Opens, now and then, what should be shut. Told once more he does it, or not."""

    def __init__(self, boiler: PracticeBoiler, rng: np.random.Generator) -> None:
        super().__init__(boiler)
        self._own = rng
        self._shuts = {"blower": boiler.blower, "damper": boiler.damper, "drains": boiler.drains}

    def do(self, step: Step) -> str | None:
        """The state that is then seen."""
        states = [reply.state for reply in step.replies if reply.passes]
        turns = self._shuts.get(step.asks)
        if turns and "open" not in states and self._own.random() < _OPENS_INSTEAD:
            turns("open")
            return "open"
        return super().do(step)


def _apart(rng: np.random.Generator) -> np.random.Generator:
    """Of the same seed, without a draw from rng."""
    return rng.spawn(1)[0]


RIGHTLY = "answers rightly"
Maker = Callable[[PracticeBoiler, Sequence[Checklist], np.random.Generator], Operator]
MANNERS: dict[str, Maker] = {
    RIGHTLY: Operator,
    "does nothing": Silent,
    "does the wrong thing": Blunderer,
    "misreads one in ten": Misreader,
    "goes away": Leaver,
}
