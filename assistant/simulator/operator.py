"""The practice operator: does what a step asks to the practice boiler, and says what is seen.

Knows the lists, the boiler's outside and the operator's own words; knows nothing of the session but
what it says and asks.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from assistant.boiler.scales import PSI_PA
from assistant.grammar import fractions
from assistant.grammar.numbers import spoken_forms
from assistant.grammar.states import preferred_words
from assistant.messages import Answer, Correction, Expected, Meaning, Order, Report
from assistant.procedure.checklist import Checklist, Step
from assistant.procedure.progress import ASKED_AGAIN
from assistant.simulator.practice_boiler import PracticeBoiler

DEFAULT_ACT_S = 20.0  # how long an act takes when its step does not say
EVERY_FIRING_S = 420.0  # a round of wood or coal; common practice, no source
LOOK_AGAIN_S = 45.0
_QUARTERS = (0.25, 0.5, 0.75)


@dataclass(frozen=True, slots=True)
class Line:
    """What the operator says, and what is meant by it."""

    words: str
    meaning: Meaning


class Operator:
    """Somebody at the engine. `ask` puts a step to them, `line` is what they say when ready."""

    def __init__(
        self,
        boiler: PracticeBoiler,
        lists: Sequence[Checklist],
        rng: np.random.Generator,
    ) -> None:
        self._boiler = boiler
        self._steps: Mapping[tuple[str, str], Step] = {
            (listed.phase.value, step.id): step
            for listed in lists
            if listed.phase is not None
            for step in listed.steps
        }
        self._rng = rng
        self._step: Step | None = None
        self._open: Step | None = None  # asked, and not in the book yet
        self._asked = ""
        self._forms: dict[Report, tuple[str, ...]] = {
            Report(step.asks, reply.state): reply.spoken
            for step in self._steps.values()
            for reply in step.replies
        }
        self._ready_at = 0.0
        self._fired_at: float | None = None
        self._on_coal = False
        self._fed = False
        self._called: dict[str, float] = {}
        self._said: Line | None = None
        self._lifting = False
        self._valve_proved = False

    # --- the engine ---------------------------------------------------------------------------

    def tend(self, at: float) -> None:
        """What is done without being asked: wood, then coal, little and often."""
        self._mind_the_glass()
        if self._fired_at is None or at - self._fired_at < EVERY_FIRING_S:
            return
        if self._boiler.gauge_pressure_gauge_pa > self._boiler.engine.working_pressure_gauge_pa:
            return  # nobody stokes then
        self._fired_at = at
        if self._on_coal:
            self._boiler.coal(0.7)
        else:
            self._boiler.wood(0.8)

    def _mind_the_glass(self) -> None:
        """Feed off before the upper mark, steam used when the glass is nearly full."""
        level, marks = self._boiler.glass_fraction, self._boiler.engine.glass
        high = level is not None and level > marks.upper_mark - 0.06
        if high and self._boiler.state("bypass") == "shut":
            self._boiler.feed(False)

    def ask(self, phase: str, step_id: str, at: float) -> None:
        """A step is put: the operator begins to do it."""
        step = self._find(phase, step_id)
        self._step = self._open = step
        self._asked = step_id.removesuffix(ASKED_AGAIN)
        self._ready_at = at
        if step is not None:
            takes = 60.0 * step.minutes if step.minutes else DEFAULT_ACT_S
            self._ready_at = at + takes * float(self._rng.uniform(0.3, 0.8))

    def remind(self, prompts: str, at: float) -> None:
        """What was asked is asked again: if it is the step still open, answer it (again)."""
        step = self._open
        if step is not None and self._step is None and step.say.rstrip(".?") in prompts:
            self._step, self._ready_at = step, at + 1.0

    def done(self, step_id: str) -> None:
        """A step is in the book as done."""
        if self._open is not None and step_id.removesuffix(ASKED_AGAIN) in (
            self._open.id,
            self._asked,
        ):
            self._open = None

    def _find(self, phase: str, step_id: str) -> Step | None:
        """The step itself, or the one that is asked again, taken over or carried."""
        plain = step_id.removesuffix(ASKED_AGAIN).removeprefix("taking over: ")
        for name in (step_id, plain):
            if (phase, name) in self._steps:
                return self._steps[phase, name]
        return next((s for (_, name), s in self._steps.items() if name in (step_id, plain)), None)

    def _act(self, step: Step) -> str | None:
        """Do to the boiler what the step asks; the state that is then seen, None for "not yet"."""
        boiler, asks = self._boiler, step.asks
        states = [reply.state for reply in step.replies if reply.passes]
        if asks == "fire":
            return self._fire(states)
        if asks == "valve":
            return boiler.valve_state if boiler.valve_state in states else None
        if asks == "vent":
            return "blows steam" if boiler.gauge_pressure_gauge_pa > 2 * PSI_PA else None
        if asks == "damper":
            wanted = "crack" if "crack" in states and "open" not in states else states[0]
            boiler.damper(wanted)
            boiler.blower("shut" if wanted in ("shut", "crack") else boiler.state("blower"))
            return wanted
        if asks in ("blower", "regulator", "drains", "bypass"):
            named = [state for state in states if state in step.say.lower()]
            usual = ["half"] if asks == "blower" and "half" in states else states
            wanted = (named or usual)[0]
            getattr(boiler, asks)("half" if (asks, wanted) == ("regulator", "open") else wanted)
            if asks == "bypass":
                boiler.feed(wanted == "shut", wanted)
                self._fed = self._fed or wanted == "shut"
            return wanted
        if asks == "feed":
            boiler.feed(states[0])
            self._fed = self._fed or states[0] == "on"
        if asks == "delivery":
            arrives = self._fed and "feed stuck" not in boiler.faults
            return "cool and gaining" if arrives else "gives no gain"
        return states[0] if states else None

    def _fire(self, states: list[str]) -> str | None:
        if "lit" in states:
            self._boiler.damper("open")
            self._boiler.light()
            self._fired_at = self._boiler.at_s
        elif "coal" in states:
            self._boiler.coal()
            self._on_coal = True
            self._fired_at = self._boiler.at_s
        elif "built" in states:
            self._boiler.wood()
        elif "drawn" in states:
            self._boiler.draw_fire()
            self._fired_at = None
        return states[0] if states else None

    # --- what is said ---------------------------------------------------------------------------

    def line(self, expected: Expected, at: float) -> Line | None:
        """What the operator says now, if anything."""
        valve = self._valve_line()
        if valve is not None:
            return self._keep(valve)
        if expected.kind in ("pressure", "water", "tank") and (
            self._step is None or self._step.asks != expected.kind
        ):
            return self._call(expected.kind, at)
        if self._step is None or at < self._ready_at:
            return None
        step = self._step
        if step.kind == "value" and step.asks in ("pressure", "water", "tank"):
            self._step = None
            self._called[step.asks] = at
            return self._keep(self.reading(step.asks))
        state = self._act(step)
        if state is None:
            return None
        self._step = None
        return self._keep(self._state_line(step, state))

    def _valve_line(self) -> Line | None:
        """Nobody overlooks a safety valve that lifts, or keeps quiet about it; and once it has been
        seen to, the fire is checked when it lifts.
        """
        now, asked = self._boiler.valve_state, self._step is not None and self._step.asks == "valve"
        if asked or (now == "lifting") == self._lifting:
            return None
        self._lifting = now == "lifting"
        state = now if self._lifting else "shut"
        if self._lifting and self._valve_proved:
            self._boiler.damper("shut")
            self._boiler.blower("shut")
        self._valve_proved = self._valve_proved or self._lifting
        return Line(preferred_words("valve", state) or "", Report("valve", state))

    def _call(self, what: str, at: float) -> Line | None:
        """A reading that was asked for; the same again only after another look."""
        if at - self._called.get(what, float("-inf")) < LOOK_AGAIN_S:
            return None
        self._called[what] = at
        return self._keep(self.reading(what))

    def _state_line(self, step: Step, state: str) -> Line:
        for reply in step.replies:
            if reply.state == state:
                words = reply.spoken[int(self._rng.integers(len(reply.spoken)))]
                return Line(words, Report(step.asks, state))
        return Line("ready", Order("ready"))

    def reading(self, what: str) -> Line:
        """A gauge read and called as people call it: pressure in fives, the glass in parts."""
        if what == "pressure":
            return self._pressure()
        level = self._boiler.glass_fraction if what == "water" else self._boiler.tank_fraction
        if level is None:
            return Line("no water in sight", Report("water", "out of sight"))
        named = [f for f in fractions.NAMED if what == "water" or f in _QUARTERS]
        value = 1.0 if level > 0.96 else min(named, key=lambda f: abs(f - level))
        words = "full" if value == 1.0 else fractions.fraction_words(value)
        if (what, words) == ("tank", "full"):
            words = "is full"  # beside steam "tank full" is heard as "tank half"
        return Line(f"{what} {words}", Report(what, value, "glass" if what == "water" else "tank"))

    def _pressure(self) -> Line:
        psi = self._boiler.gauge_pressure_gauge_pa / PSI_PA
        close = psi > self._boiler.engine.valve_lifts_gauge_pa / PSI_PA  # then one looks closely
        step = 5 if psi >= 12 and not close else 1
        value = float(step * round(psi / step))
        forms = [f for f in spoken_forms(value) if "hundred" not in f or len(f) < 5]
        form = " ".join(forms[int(self._rng.integers(min(len(forms), 3)))])
        pounds = "{} pound" if value == 1.0 else "{} pounds"
        frame = ("pressure {}", "pressure {}", pounds)[int(self._rng.integers(3))]
        return Line(frame.format(form), Report("pressure", value, "psi"))

    def _keep(self, line: Line) -> Line:
        self._said = line
        return line

    def besides(self, line: Line) -> Line:
        """Something said without a step: it is what was said last."""
        return self._keep(line)

    def check(self, doubted: Meaning) -> Line:
        """Something was put back as a question: is it what was meant?"""
        if self._said is not None and self._said.meaning == doubted:
            return Line("that's right", Answer("yes"))
        return Line("wrong", Answer("no"))

    def again(self) -> Line | None:
        """It was not understood: the same once more, in the plainest form."""
        said = self._said
        if said is None or not isinstance(said.meaning, Report):
            return said
        report = said.meaning
        if report.what == "pressure" and not isinstance(report.value, str):
            return self._keep(Line(f"pressure {' '.join(spoken_forms(report.value)[0])}", report))
        other = [form for form in self._forms.get(report, ()) if form != said.words]
        return self._keep(Line(other[0], report)) if other else said

    def meant(self) -> Meaning | None:
        """What was meant by the last thing said that was a report."""
        return self._said.meaning if self._said else None

    def contradict(self) -> Line | None:
        """The read-back was wrong: say so, and the right value."""
        said = self._said
        if said is None or not isinstance(said.meaning, Report):
            return None
        plain = self.again()
        assert plain is not None
        bare = plain.words.removeprefix(f"{said.meaning.what} ")
        return Line(f"wrong {bare}", Correction(said.meaning))
