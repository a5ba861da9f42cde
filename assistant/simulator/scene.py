"""One practice steam-up: the loop, the practice boiler and the operator, on one false clock.

Knows who speaks when. Whether time is waited for is its pace's business, what is shown is its
watcher's.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable
from dataclasses import dataclass, field, replace
from typing import Protocol

from assistant.messages import (
    READINGS,
    AlarmChanged,
    Effect,
    Ended,
    Event,
    Expected,
    Fault,
    Grade,
    Heard,
    Meaning,
    PhaseDone,
    ReadingAccepted,
    ReadingDoubted,
    ReadingRefused,
    Report,
    Say,
    SpeechBegan,
    Spoke,
    Started,
    StepAsked,
    StepDone,
    StopAsked,
    Tick,
)
from assistant.simulator.operator import Line, Operator
from assistant.simulator.practice_boiler import PracticeBoiler

WORDS_PER_S = 2.4  # 144 words a minute, as the assistant speaks
PUZZLED_S = 4.0  # no reply: the operator waits, then says it once more
THINK_S = 0.8  # between the end of what is heard and the answer; people take 0.2 to 1 s
_TICK_S = 5.0
_LONGEST_S = 8 * 3600.0
DANGER_S = 300.0  # a danger that stood for so long ends the practice: the boiler is looked at
FEED_NOW = "water near the lower mark"  # the alarm that an operator answers by feeding
_ENOUGH = 0.6  # of the glass
STUCK_S = 3.0 * 3600.0  # no step done for so long is stuck; a big boiler warms for two hours
MOST_SOUNDS = 300  # a good day needs about a hundred
FIVE_PHASES = ("preparation", "firing", "raising steam", "tick-over", "pumping")


class Pace(Protocol):
    """How time passes for the people who watch."""

    def pass_time(self, seconds: float, quiet: bool) -> None:
        """So many seconds of the scene go by; quiet: nobody speaks."""


class NoWaiting:
    """Time passes at once."""

    def pass_time(self, seconds: float, quiet: bool) -> None:
        """Nothing to wait for."""


class OperatorHearing(Protocol):
    """How the operator's words become events (see hearing_rig)."""

    def hear(self, words: str, expected: Expected, at: float) -> tuple[float, list[Heard]]:
        """Seconds that the words take, and what was heard in them."""


Watcher = Callable[[float, str, object], None]


@dataclass
class PracticeTally:
    """What came of it."""

    spoken: int = 0
    right: int = 0
    wrong: int = 0
    confirmed: int = 0
    again: int = 0
    lost: int = 0
    states_right: int = 0
    states_wrong: int = 0
    sounds: int = 0
    alarms: list[str] = field(default_factory=list)
    phases_done: list[str] = field(default_factory=list)
    mistakes: list[str] = field(default_factory=list)
    at_s: float = 0.0
    ended: str = ""


class Scene:
    """Plays the steam-up to the end of the five phases, or as far as it goes."""

    def __init__(
        self,
        turn: Callable[[Event], list[Effect]],
        expected: Callable[[], Expected],
        operator: Operator,
        boiler: PracticeBoiler,
        ears: OperatorHearing,
        pace: Pace,
        watch: Watcher = lambda at, who, what: None,
    ) -> None:
        self._turn = turn
        self._expected = expected
        self._operator = operator
        self._boiler = boiler
        self._ears = ears
        self._pace = pace
        self._watch = watch
        self.tally = PracticeTally()
        self.at = 0.0
        self._meant: Meaning | None = None
        self._reply: Line | None = None
        self._asked_again = 0
        self._over = False
        self._done_at = 0.0
        self._answered = True
        self._doubts = 0
        self._fed_low = False
        self._dangers: dict[str, float] = {}  # those that stand, and since when

    def play(self, start: Started) -> PracticeTally:
        """From `start` to the end."""
        self._event(start)
        while not self._over and self._goes_on():
            line = self._reply or self._operator.line(self._expected(), self.at)
            self._reply = None
            if line is None:
                self._pass(_TICK_S, quiet=True)
                self._event(Tick(self.at))
            else:
                self._speak(line)
        if not self._over:
            self._event(StopAsked(self.at))
        self.tally.at_s = self.at
        return self.tally

    def _goes_on(self) -> bool:
        if self.at - self._done_at > STUCK_S:
            self.tally.ended = "stuck: no step was done for three hours"
            return False
        danger = min(self._dangers, key=lambda name: self._dangers[name], default="")
        if danger and self.at - self._dangers[danger] > DANGER_S:
            self.tally.ended = f"stopped in danger: {danger}"
            return False
        if self.tally.sounds >= MOST_SOUNDS:
            self.tally.ended = f"given up: {MOST_SOUNDS} utterances and not done"
            return False
        return self.at < _LONGEST_S

    def _pass(self, seconds: float, quiet: bool) -> None:
        self._pace.pass_time(seconds, quiet)
        self.at += seconds
        self._boiler.step(seconds)
        self._operator.tend(self.at)
        self._mind_the_feed()

    def _mind_the_feed(self) -> None:
        """A feed that was begun when the water fell is stopped half way up the glass."""
        level, on = self._boiler.glass_fraction, self._boiler.state("bypass") == "shut"
        if self._fed_low and self._reply is None and level is not None and level >= _ENOUGH:
            self._fed_low = False
            if on:
                self._boiler.feed(False)
                self._reply = Line("feed stopped", Report("feed", "off"))

    def _event(self, event: Event) -> None:
        """One event and everything said because of it; the end of each sentence is one more."""
        self._doubts = 0
        waiting = [event]
        while waiting:
            effects = self._turn(waiting.pop(0))
            for effect in effects:
                self._watch(self.at, "assistant", effect)
                self._note(effect)
            self._reminded(effects)
            for say in [e for e in effects if isinstance(e, Say)]:
                if self._over:
                    return
                self._pass(len(say.text.split()) / WORDS_PER_S, quiet=False)
                waiting.append(Spoke(self.at, say.text))

    def _reminded(self, effects: list[Effect]) -> None:
        """The step in hand was put again: the operator, who gave up, says it once more."""
        if self._reply is not None or any(isinstance(e, StepAsked) for e in effects):
            return
        prompts = " ".join(e.text for e in effects if isinstance(e, Say))
        self._operator.remind(prompts, self.at)

    def _speak(self, line: Line) -> None:
        self._pass(THINK_S, quiet=False)
        self._watch(self.at, "operator", line)
        if isinstance(line.meaning, Report):
            self._operator.besides(line)
        self._meant = line.meaning
        if isinstance(line.meaning, Report) and line.meaning.what in READINGS:
            self.tally.spoken += 1
        self._turn(SpeechBegan(self.at))
        seconds, heard = self._ears.hear(line.words, self._expected(), self.at)
        self.tally.sounds += 1
        self._pass(seconds, quiet=False)
        self._answered = False
        for one in heard:
            self._watch(self.at, "heard", one)
            self._event(replace(one, at=self.at))
        if not self._answered and not self._over:
            self.tally.lost += 1
            self._pass(PUZZLED_S, quiet=True)
            self._once_more()

    def _once_more(self) -> None:
        self._asked_again += 1
        self._reply = self._operator.again() if self._asked_again < 4 else None
        self._asked_again %= 4

    def _note(self, effect: Effect) -> None:
        """What the operator makes of an effect, and what the tally does."""
        tally = self.tally
        self._answered = self._answered or isinstance(effect, Say)
        match effect:
            case StepDone():
                self._done_at = self.at
                self._operator.done(effect.step)
            case StepAsked():
                self._operator.ask(effect.phase, effect.step, self.at)
            case ReadingAccepted():
                self._accepted(effect.report)
            case ReadingDoubted():
                tally.confirmed += self._doubts == 0
                self._doubts += 1
                either = self._doubts > 1  # "one five, or five zero?": only the value answers
                self._reply = (
                    self._operator.again() if either else self._operator.check(effect.report)
                )
            case ReadingRefused(report=None) | ReadingRefused():
                if effect.reason != "contradicted":
                    tally.again += 1
                    self._once_more()
            case AlarmChanged(state="raised"):
                tally.alarms.append(effect.name)
                if effect.name == FEED_NOW and not self._boiler.faults:
                    self._boiler.feed(True)
                    self._fed_low = True
                    self._reply = Line("feed running", Report("feed", "on"))
                if effect.grade is Grade.DANGER:
                    self._dangers[effect.name] = self.at
                    self._stop_the_heat()
            case AlarmChanged(state="cleared"):
                self._dangers.pop(effect.name, None)
            case PhaseDone():
                tally.phases_done.append(effect.phase)
                if effect.phase == FIVE_PHASES[-1]:
                    self._over = True
                    self._turn(StopAsked(self.at))
                    tally.ended = "all five phases done"
            case Fault():
                tally.mistakes.append(f"{self.at:.0f} s: a bug of ours: {effect.message}")
            case Ended():
                self._over = True
                tally.ended = tally.ended or effect.reason

    def _stop_the_heat(self) -> None:
        """What every danger asks for first, and the operator does at once."""
        self._boiler.damper("shut")
        self._boiler.blower("shut")

    def _accepted(self, report: Report) -> None:
        meant, tally = self._operator.meant(), self.tally
        self._asked_again = 0
        reading = report.what in READINGS
        if meant == report:
            if reading:
                tally.right += 1
            else:
                tally.states_right += 1
            return
        if reading:
            tally.wrong += 1
        else:
            tally.states_wrong += 1
        tally.mistakes.append(f"{self.at:.0f} s: meant {meant}, entered {report}")
        if isinstance(meant, Report) and meant.what == report.what:
            self._reply = self._operator.contradict()


def counted(alarms: list[str]) -> dict[str, int]:
    """Alarms raised, by name."""
    return dict(Counter(alarms))
