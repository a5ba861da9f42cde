"""One practice steam-up: session, practice boiler and operator on one simulated clock.

Knows who speaks when. Whether real time passes is for the `Pace`, what is shown for the `Watcher`.
"""

from __future__ import annotations

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
    StepOvertaken,
    StopAsked,
    Tick,
)
from assistant.procedure import plate
from assistant.simulator.line import Line
from assistant.simulator.operator import Operator
from assistant.simulator.practice_boiler import PracticeBoiler

WORDS_PER_S = 2.4  # 144 words a minute, as the assistant speaks
PUZZLED_S = 4.0  # without a reply the operator waits this long, then repeats
THINK_S = 0.8  # from the end of a question to the answer; people take 0.2 to 1 s
_TICK_S = 5.0
_LONGEST_S = 8 * 3600.0
DANGER_S = 300.0  # a danger that stands this long ends the practice
STUCK_S = 3.0 * 3600.0  # without a step done; a big boiler warms for two hours
MOST_SOUNDS = 300  # a good day needs about a hundred
FIVE_PHASES = ("preparation", "firing", "raising steam", "tick-over", "pumping")


class Pace(Protocol):
    """How simulated time passes for those who watch."""

    def pass_time(self, seconds: float, quiet: bool) -> None:
        """Let so many seconds of the scene pass; quiet: nobody speaks."""


class NoWaiting:
    """Simulated time takes no real time."""

    def pass_time(self, seconds: float, quiet: bool) -> None:
        """Nothing to wait for."""


class OperatorHearing(Protocol):
    """How the operator's words become events (see `sound_rig`)."""

    def hear(self, words: str, expected: Expected, at: float) -> tuple[float, list[Heard]]:
        """Seconds that the words take, and what was heard in them."""


Watcher = Callable[[float, str, object], None]


@dataclass
class PracticeTally:
    """The result of a practice."""

    spoken: int = 0  # readings said by the operator
    right: int = 0  # readings accepted as meant
    wrong: int = 0  # readings accepted as something else
    confirmed: int = 0  # readings that were asked about
    again: int = 0  # utterances asked for again
    lost: int = 0  # utterances without any reply
    states_right: int = 0  # states accepted as meant
    states_wrong: int = 0  # states accepted as something else
    sounds: int = 0  # utterances of the operator
    alarms: list[str] = field(default_factory=list)  # raised, in order
    phases_done: list[str] = field(default_factory=list)
    mistakes: list[str] = field(default_factory=list)  # wrong entries and internal errors, in words
    at_s: float = 0.0  # time of the end
    ended: str = ""  # why it ended


class Scene:
    """Plays the steam-up to the end of the five phases, or as far as it goes."""

    def __init__(
        self,
        process: Callable[[Event], list[Effect]],
        expected: Callable[[], Expected],
        operator: Operator,
        boiler: PracticeBoiler,
        hearing: OperatorHearing,
        pace: Pace,
        watch: Watcher = lambda at, who, what: None,
    ) -> None:
        self._process = process
        self._expected = expected
        self._operator = operator
        self._boiler = boiler
        self._hearing = hearing
        self._pace = pace
        self._watch = watch
        self.tally = PracticeTally()
        self.at = 0.0
        self._next_line: Line | None = None  # said before anything else
        self._was_here = True
        self._repeats = 0  # of the last line
        self._over = False
        self._last_done_at = 0.0
        self._got_reply = True
        self._doubts = 0  # in the effects of one event
        self._dangers: dict[str, float] = {}  # those that stand, and since when

    def play(self, start: Started) -> PracticeTally:
        """From `start` to the end."""
        self._event(start)
        while not self._over and self._goes_on():
            line = self._says()
            self._next_line = None
            if line is None:
                self._pass(_TICK_S, quiet=True)
                self._event(Tick(self.at))
            else:
                self._speak(line)
        if not self._over:
            self._event(StopAsked(self.at))
        self.tally.at_s = self.at
        return self.tally

    def _says(self) -> Line | None:
        if not self._operator.is_here(self.at):
            return None
        return self._next_line or self._operator.line(self._expected(), self.at)

    def _notice_return(self) -> None:
        """What the operator finds on his return he has not yet had time to end."""
        here, was_here = self._operator.is_here(self.at), self._was_here
        self._was_here = here
        if here and not was_here:
            self._dangers = dict.fromkeys(self._dangers, self.at)

    def _goes_on(self) -> bool:
        self._notice_return()
        if self.at - self._last_done_at > STUCK_S:
            self.tally.ended = "stuck: no step was done for three hours"
            return False
        danger = min(self._dangers, key=lambda name: self._dangers[name], default="")
        away = not self._operator.is_here(self.at) and self._operator.comes_back(self.at)
        if danger and not away and self.at - self._dangers[danger] > DANGER_S:
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
        if self._operator.is_here(self.at):
            self._operator.tend(self.at)

    def _event(self, event: Event) -> None:
        """One event and all that is said because of it; each end of a sentence is an event too."""
        self._doubts = 0
        waiting = [event]
        while waiting:
            effects = self._process(waiting.pop(0))
            for effect in effects:
                self._watch(self.at, "assistant", effect)
                self._react(effect)
            self._remind(effects)
            for say in [e for e in effects if isinstance(e, Say)]:
                if self._over:
                    return
                self._pass(len(say.text.split()) / WORDS_PER_S, quiet=False)
                if self._operator.is_here(self.at):
                    self._operator.told(say.text, self.at)
                waiting.append(Spoke(self.at, say.text))

    def _remind(self, effects: list[Effect]) -> None:
        """Repeated prompts reach an operator who gave up on the step."""
        if self._next_line is not None or any(isinstance(e, StepAsked) for e in effects):
            return
        prompts = " ".join(e.text for e in effects if isinstance(e, Say))
        self._operator.remind(prompts, self.at)

    def _speak(self, line: Line) -> None:
        self._pass(THINK_S, quiet=False)
        self._watch(self.at, "operator", line)
        if isinstance(line.meaning, Report):
            self._operator.besides(line)
            if line.meaning.what in READINGS:
                self.tally.spoken += 1
        self._process(SpeechBegan(self.at))
        seconds, heard = self._hearing.hear(line.words, self._expected(), self.at)
        self.tally.sounds += 1
        self._pass(seconds, quiet=False)
        self._got_reply = False
        for utterance in heard:
            self._watch(self.at, "heard", utterance)
            self._event(replace(utterance, at=self.at))
        if not self._got_reply and not self._over:
            self.tally.lost += 1
            self._pass(PUZZLED_S, quiet=True)
            self._repeat()

    def _repeat(self) -> None:
        """Say it again; the fourth time give up."""
        self._repeats += 1
        self._next_line = self._operator.again() if self._repeats < 4 else None
        self._repeats %= 4

    # --- what the operator makes of each effect, and what is counted ------------------------------

    def _react(self, effect: Effect) -> None:
        self._got_reply = self._got_reply or isinstance(effect, Say)
        match effect:
            case StepOvertaken():
                self._operator.done(effect.step)
            case StepDone():
                self._last_done_at = self.at
                self._operator.done(effect.step)
            case StepAsked():
                self._asked(effect)
            case ReadingAccepted():
                self._accepted(effect.report)
            case ReadingDoubted():
                self._doubted(effect.report)
            case ReadingRefused():
                self._refused(effect.reason)
            case AlarmChanged():
                self._alarm_changed(effect)
            case PhaseDone():
                self._phase_done(effect.phase)
            case Fault():
                self.tally.mistakes.append(f"{self.at:.0f} s: internal error: {effect.message}")
            case Ended():
                self._over = True
                self.tally.ended = self.tally.ended or effect.reason

    def _asked(self, asked: StepAsked) -> None:
        if asked.step == plate.STEP:
            self._operator.besides(Line("plate is right", plate.RIGHT))
            self._next_line = self._operator.check(plate.RIGHT)
        else:
            self._operator.ask(asked.phase, asked.step, self.at)

    def _doubted(self, report: Report) -> None:
        self.tally.confirmed += self._doubts == 0
        self._doubts += 1
        is_choice = self._doubts > 1  # "one five, or five zero?" is answered by the value
        self._next_line = self._operator.again() if is_choice else self._operator.check(report)

    def _refused(self, reason: str) -> None:
        if reason != "contradicted":
            self.tally.again += 1
            self._repeat()

    def _alarm_changed(self, alarm: AlarmChanged) -> None:
        if alarm.state == "cleared":
            self._dangers.pop(alarm.name, None)
        if alarm.state != "raised":
            return
        self.tally.alarms.append(alarm.name)
        if alarm.grade is Grade.DANGER:
            self._dangers[alarm.name] = self.at
        if not self._operator.is_here(self.at):
            return
        self._next_line = self._operator.alarmed(alarm.name, alarm.grade) or self._next_line

    def _phase_done(self, phase: str) -> None:
        self.tally.phases_done.append(phase)
        if phase == FIVE_PHASES[-1]:
            self._over = True
            self._process(StopAsked(self.at))
            self.tally.ended = "all five phases done"

    def _accepted(self, report: Report) -> None:
        meant, tally = self._operator.meant(), self.tally
        self._repeats = 0
        is_reading = report.what in READINGS
        if meant == report:
            if is_reading:
                tally.right += 1
            else:
                tally.states_right += 1
            return
        if is_reading:
            tally.wrong += 1
        else:
            tally.states_wrong += 1
        tally.mistakes.append(f"{self.at:.0f} s: meant {meant}, entered {report}")
        if isinstance(meant, Report) and meant.what == report.what:
            self._next_line = self._operator.contradict()
