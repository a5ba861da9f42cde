"""The practice operator: has steps done to the practice boiler, and says what is seen.

Knows the checklists, what the boiler shows and the words of the grammar; of the session only what
it says and asks.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import numpy as np

from assistant.boiler.scales import PRESSURE_PA
from assistant.grammar import fractions
from assistant.grammar.numbers import spoken_forms
from assistant.grammar.readings import unit_words
from assistant.messages import Answer, Correction, Expected, Grade, Meaning, Order, Report
from assistant.procedure.checklist import Checklist, Step
from assistant.procedure.progress import ASKED_AGAIN
from assistant.simulator.line import LEAK, PRIMING, Line, level_line
from assistant.simulator.operator_acts import OperatorActs
from assistant.simulator.practice_boiler import PracticeBoiler
from assistant.simulator.told_aloud import ToldAloud, state_line

DEFAULT_ACT_S = 20.0  # how long an act takes when its step does not say
LOOK_AGAIN_S = 45.0  # least time between two looks at one gauge
_QUARTERS = (0.25, 0.5, 0.75)
# Steps of a dial as read near its pin or over the lift, and between. Common practice, no source.
DIAL_STEPS: Mapping[str, tuple[float, float]] = {
    "psi": (1.0, 5.0), "bar": (0.1, 0.2), "kgf/cm2": (0.1, 0.2), "kPa": (10.0, 20.0),
}  # fmt: skip
_NEAR_THE_PIN_PA = 12.0 * PRESSURE_PA["psi"]


class Operator:
    """Somebody at the engine. `ask` gives them a step, `line` is what they say when ready."""

    def __init__(
        self,
        boiler: PracticeBoiler,
        lists: Sequence[Checklist],
        rng: np.random.Generator,
    ) -> None:
        self.dial = "psi"
        """The unit of the gauge."""
        self._boiler = boiler
        self._rng = rng
        self._acts = self._hands(boiler)
        self._steps: Mapping[tuple[str, str], Step] = {
            (listed.phase.value, step.id): step
            for listed in lists
            if listed.phase is not None
            for step in listed.steps
        }
        self._step: Step | None = None  # being done
        self._put_off: list[Step] = []  # asked for, and another was asked for since
        self._open_step: Step | None = None  # asked, and not in the book yet
        self._asked_id = ""
        self._forms: dict[Report, tuple[str, ...]] = {
            Report(step.asks, reply.state): reply.spoken
            for step in self._steps.values()
            for reply in step.replies
        }
        self._ready_at = 0.0
        self._called_at: dict[str, float] = {}
        self._last_line: Line | None = None
        self._told = ToldAloud(boiler)
        self._to_say: list[Line] = []  # before any reading
        self._called_priming = False
        self._called_leak = False
        self._valve_proved = False

    def _hands(self, boiler: PracticeBoiler) -> OperatorActs:
        return OperatorActs(boiler)

    # --- other manners (`manners`) do otherwise here ------------------------------------------

    def is_here(self, at: float) -> bool:
        """Whether the operator sees, hears, acts and speaks."""
        return True

    def comes_back(self, at: float) -> bool:
        """Whether one who is not here will be."""
        return True

    def alarmed(self, name: str, grade: Grade) -> Line | None:
        """An alarm is raised: what is done and said to it at once."""
        if grade is Grade.DANGER:
            self._acts.stop_draught()
        return None

    # --- steps --------------------------------------------------------------------------------

    def tend(self, at: float) -> None:
        """What is done without being asked."""
        if self._acts.tend(at):
            self._to_say += self._told.feed_stopped()
        self._to_say += self._told.stop_feed_in_time()

    def told(self, text: str, at: float) -> None:
        """A sentence was spoken. What it tells is done; the prompt of the open step is no such."""
        step = self._open_step
        if step is not None and step.say.rstrip(".?") in text:
            return
        for line in self._told.heard(text, at):
            if line not in self._to_say:
                self._to_say.append(line)

    def ask(self, phase: str, step_id: str, at: float) -> None:
        """A step is asked: the operator begins to do it."""
        step = self._find(phase, step_id)
        if self._step is not None and self._step is not step:
            self._put_off.append(self._step)
        self._step = self._open_step = step
        self._asked_id = step_id.removesuffix(ASKED_AGAIN)
        self._ready_at = at
        if step is not None:
            takes = 60.0 * step.minutes if step.minutes else DEFAULT_ACT_S
            self._ready_at = at + takes * float(self._rng.uniform(0.3, 0.8))

    def remind(self, prompts: str, at: float) -> None:
        """Prompts were repeated: if they are of the step still open, answer it (again)."""
        step = self._open_step
        if step is not None and self._step is None and step.say.rstrip(".?") in prompts:
            self._step, self._ready_at = step, at + 1.0

    def _take_up_another(self, at: float) -> None:
        """One that was asked before the last comes next."""
        if self._step is None and self._put_off:
            self._step = self._open_step = self._put_off.pop(0)
            self._asked_id = self._step.id
            self._ready_at = at + DEFAULT_ACT_S / 2

    def done(self, step_id: str) -> None:
        """A step was entered in the book as done, or its time is over."""
        self._put_off = [step for step in self._put_off if step.id != step_id]
        if self._step is not None and self._step.id == step_id:
            self._step = None
        if self._open_step is not None and step_id.removesuffix(ASKED_AGAIN) in (
            self._open_step.id,
            self._asked_id,
        ):
            self._open_step = None

    def _find(self, phase: str, step_id: str) -> Step | None:
        """The step itself, or the one it repeats; of another phase if this one has none such."""
        plain = step_id.removesuffix(ASKED_AGAIN).removeprefix("taking over: ")
        for name in (step_id, plain):
            if (phase, name) in self._steps:
                return self._steps[phase, name]
        return next((s for (_, name), s in self._steps.items() if name in (step_id, plain)), None)

    # --- what is said ---------------------------------------------------------------------------

    def line(self, expected: Expected, at: float) -> Line | None:
        """What the operator says now, if anything."""
        seen = self._valve_line() or self._priming_line() or self._leak_line()
        if seen is not None:
            return self._remember(seen)
        if self._to_say:
            return self._remember(self._to_say.pop(0))
        if expected.kind in ("pressure", "water", "tank") and (
            self._step is None or self._step.asks != expected.kind
        ):
            return self._call(expected.kind, at)
        self._take_up_another(at)
        step = self._step
        # The valve is watched: what it does is told at once.
        if step is None or (at < self._ready_at and step.asks != "valve"):
            return None
        if step.kind == "value" and step.asks in ("pressure", "water", "tank"):
            self._step = None
            self._called_at[step.asks] = at
            return self._remember(self.reading(step.asks))
        state = self._acts.do(step)
        if state is None:
            return None
        self._step = None
        return self._remember(self._state_line(step, state))

    def _valve_line(self) -> Line | None:
        """The safety valve has begun to lift, or does otherwise than was last said of it; that it
        feathers by itself is told where it is asked. Once it was proved, a lift also means that the
        draught is taken off the fire.
        """
        now, said = self._boiler.valve_state, self._told.reported("valve")
        is_asked = self._step is not None and self._step.asks == "valve"
        is_news = now == "lifting" or said in ("lifting", "feathering")
        if is_asked or now == said or not is_news:
            return None
        if now == "lifting" and self._valve_proved:
            self._to_say += self._told.stop_draught()
        return state_line("valve", now)

    def _priming_line(self) -> Line | None:
        """Water comes out with the steam: called once, and the regulator is shut."""
        if self._called_priming or not self._boiler.primes:
            return None
        self._called_priming = True
        self._boiler.regulator("shut")
        return PRIMING

    def _leak_line(self) -> Line | None:
        """Water is seen in the firebox when the fire is looked at: called once."""
        if self._called_leak or not self._acts.saw_leak:
            return None
        self._called_leak = True
        return LEAK

    def _call(self, what: str, at: float) -> Line | None:
        """A reading that was asked for; the same again only after another look."""
        if at - self._called_at.get(what, float("-inf")) < LOOK_AGAIN_S:
            return None
        self._called_at[what] = at
        return self._remember(self.reading(what))

    def _state_line(self, step: Step, state: str) -> Line:
        for reply in step.replies:
            if reply.state == state:
                words = reply.spoken[int(self._rng.integers(len(reply.spoken)))]
                return Line(words, Report(step.asks, state))
        return Line("ready", Order("ready"))

    def reading(self, what: str) -> Line:
        """A gauge as people read it: pressure in round figures, the glass in simple fractions."""
        if what == "pressure":
            return self._pressure()
        level = self._boiler.glass_fraction if what == "water" else self._boiler.tank_fraction
        if level is None:
            return Line("no water in sight", Report("water", "out of sight"))
        if what == "tank" and level < 0.03:
            return Line("tank empty", Report("tank", 0.0, "tank"))
        usual = [f for f in fractions.NAMED if what == "water" or f in _QUARTERS]
        value = 1.0 if level > 0.96 else min(usual, key=lambda f: abs(f - level))
        return level_line(what, value)

    def _pressure(self) -> Line:
        shown_pa = self._boiler.gauge_pressure_gauge_pa
        closely = shown_pa > self._boiler.engine.valve_lifts_gauge_pa
        near, between = DIAL_STEPS[self.dial]
        step = near if shown_pa < _NEAR_THE_PIN_PA or closely else between
        value = step * round(shown_pa / PRESSURE_PA[self.dial] / step)
        return self._pressure_line(round(float(value), 1))

    def _pressure_line(self, value: float) -> Line:
        forms = [f for f in spoken_forms(value) if "hundred" not in f or len(f) < 5]
        form = " ".join(forms[int(self._rng.integers(min(len(forms), 3)))])
        with_unit = f"{{}} {unit_words(self.dial, value)[0]}"
        frame = ("pressure {}", "pressure {}", with_unit)[int(self._rng.integers(3))]
        return Line(frame.format(form), Report("pressure", value, self.dial))

    def _remember(self, line: Line) -> Line:
        self._last_line = line
        if isinstance(line.meaning, Report):
            self._told.remember(line.meaning)
            lifts = line.meaning == Report("valve", "lifting")
            self._valve_proved = self._valve_proved or lifts
        return line

    def besides(self, line: Line) -> Line:
        """Something the scene has the operator say outside a step."""
        return self._remember(line)

    def check(self, doubted: Meaning) -> Line:
        """Yes or no to "is that right?"."""
        if self._last_line is not None and self._last_line.meaning == doubted:
            return Line("that's right", Answer("yes"))
        return Line("wrong", Answer("no"))

    def again(self) -> Line | None:
        """The last line once more, a report in its plainest form."""
        last = self._last_line
        if last is None or not isinstance(last.meaning, Report):
            return last
        report = last.meaning
        if report.what == "pressure" and not isinstance(report.value, str):
            return self._remember(
                Line(f"pressure {' '.join(spoken_forms(report.value)[0])}", report)
            )
        others = [form for form in self._forms.get(report, ()) if form != last.words]
        return self._remember(Line(others[0], report)) if others else last

    def meant(self) -> Meaning | None:
        """The meaning of the last line."""
        return self._last_line.meaning if self._last_line else None

    def contradict(self) -> Line | None:
        """The read-back was wrong: the correction."""
        last = self._last_line
        if last is None or not isinstance(last.meaning, Report):
            return None
        plain = self.again()
        assert plain is not None
        bare = plain.words.removeprefix(f"{last.meaning.what} ")
        return Line(f"wrong {bare}", Correction(last.meaning))
