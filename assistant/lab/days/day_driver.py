"""The driver of a random day: looks at his engine, does something, and says something.

Knows what the assistant asked last (the step, the kind of answer) as a driver would who listens;
sees nothing else of the session.
"""

from __future__ import annotations

import math
import random
from collections.abc import Mapping, Sequence

from assistant.lab.days import day_scenes, day_words
from assistant.lab.days.day_engine import DayEngine
from assistant.lab.days.day_plan import MOODS, DayPlan
from assistant.lab.days.day_scenes import Line, Stage
from assistant.lab.days.day_words import DayWords
from assistant.messages import READINGS, Effect, Expected, PhaseBegan, Report, StepAsked
from assistant.procedure.checklist import Checklist, Reply, Step

NOTICES_VALVE = 0.6
SCENES = (0.0, 0.2, 0.4, 0.6, 0.8)  # of the day: about when what happens on it happens again
FED_UP = 0.7  # that the same answer is not given again
ENDS = 0.9  # that an emergency that was called is called over within minutes
LATE = 0.7  # of the day: before that one who moves much does not put her away
BLIND_S = 600.0  # so long one who never looks first lets the fire burn without a look at the glass
MOVES_WHEN_WANTED = 20.0  # weight of a move among what he says unasked, who wants moves
COLD = ("preparation", "firing")


class Driver:
    """`hears` what comes of each event; `says` the next thing, None for a word kept back."""

    def __init__(
        self,
        plan: DayPlan,
        engine: DayEngine,
        lists: Sequence[Checklist],
        symptoms: Sequence[str],
        named: Sequence[tuple[str, Report]] = (),
    ) -> None:
        self._plan, self._engine, self._mood = plan, engine, MOODS[plan.mood]
        self._rng = random.Random(f"driver {plan.seed}")
        self._words = DayWords(engine, plan.dial, self._rng)
        self._steps: Mapping[tuple[str, str], Step] = {
            (c.phase.value if c.phase else "", s.id): s for c in lists for s in c.steps
        }
        self._by_id = {s.id: s for c in lists for s in c.steps}
        self._symptoms = symptoms
        self._step: Step | None = None
        self.phase = plan.from_phase or "preparation"
        self._valve_told = "shut"
        self._said: str | None = None
        self._looked_at = {"pressure": 0.0, "water": 0.0}
        self._then: list[str] = []
        self._lit_at: float | None = None
        self._at = 0.0
        self._over_at = math.inf  # when an emergency that was called is called over
        self._stage = Stage(engine, self._words, named)
        self._scenes_at = [self._rng.uniform(part, part + 0.15) * plan.length_s for part in SCENES]
        self._scene: list[Line] = []

    def hears(self, effects: Sequence[Effect]) -> None:
        """What the assistant asked, and where it is."""
        for effect in effects:
            if isinstance(effect, StepAsked):
                known = self._steps.get((effect.phase, effect.step))
                self._step = known or self._by_id.get(effect.step)
            elif isinstance(effect, PhaseBegan):
                self.phase, self._step = effect.phase, None

    def pause_s(self, asked: bool) -> float:
        """How long until he says the next thing [s]."""
        if self._scene:
            return self._scene[0].pause_s
        if self._rng.random() < self._mood.silent:
            return self._rng.uniform(240.0, 1500.0)
        mean = self._plan.length_s / self._plan.words / self._mood.pace
        return 2.0 + min(self._rng.expovariate(1.0 / (mean * (0.8 if asked else 1.2))), 240.0)

    def says(self, expected: Expected, at: float) -> str | None:
        """The next thing he says."""
        self._at = at
        self._tend(at)
        if self._scene:
            return self._scene.pop(0).words
        if self._begins_scene(at):
            return None
        if at >= self._over_at:
            self._over_at = math.inf
            return self._words.over()
        if self._then:
            return self._then.pop()
        if self._is_blind(at):
            return self._blindly(at)
        if expected.kind != "any" and self._rng.random() < self._mood.answers:
            answer = self._answer(expected)
            fed_up = answer == self._said and self._rng.random() < FED_UP
            if answer is not None and not fed_up:
                self._said = answer
                return answer
        return self._unasked(at)

    def _begins_scene(self, at: float) -> bool:
        """Whether what happens on this day happens now; its words come next."""
        name = self._plan.scene
        if not name or not self._scenes_at or at < self._scenes_at[0]:
            return False
        if self.phase not in day_scenes.phases_of(name):
            return False
        self._scenes_at.pop(0)
        self._scene = day_scenes.SCENES[name](self._stage)
        return True

    def _is_blind(self, at: float) -> bool:
        """Whether he does as if there were no glass: lights, and lets it burn."""
        if "never looks first" not in self._plan.wants or self._plan.from_phase is not None:
            return False
        return self._lit_at is None or at < self._lit_at + BLIND_S

    def _blindly(self, at: float) -> str | None:
        if self._lit_at is None:
            self._lit_at = at
            self._engine.put("fire", "lit")
            return self._words.state("fire", "lit")
        self._looked_at["pressure"] = at
        return self._words.pressure() if self._rng.random() < 0.3 else None

    def says_instead(self) -> str:
        """A reading, after words that would not have been followed."""
        return self._words.reading(self._rng.choice(["pressure", "water"]))

    # --- answers

    def _answer(self, expected: Expected) -> str | None:
        untrue = self._rng.random() < self._mood.contrary
        if expected.kind == "answer":
            return self._words.no() if untrue or self._rng.random() < 0.1 else self._words.yes()
        if expected.kind in READINGS:
            off = self._rng.choice([-0.4, 0.25, 0.4]) if untrue else 0.0
            self._looked_at[expected.kind] = 0.0
            return self._words.reading(expected.kind, off)
        step = self._step
        if self.phase in COLD and "ahead of the list" in self._plan.wants:
            return None
        if step is None or not step.replies:
            if untrue or step is None:
                return self._words.no() if untrue else None
            return self._rng.choice(["ready", "done"])
        reply = self._reply(step, untrue)
        if step.kind == "act" and self._rng.random() < 0.1:
            return self._rng.choice(["ready", "done", "not yet"])
        if reply.state not in ("feathering", "lifting"):
            self._engine.put(step.asks, reply.state)
        return self._rng.choice(reply.spoken)

    def _reply(self, step: Step, untrue: bool) -> Reply:
        """What he answers a step: as it is where that can be seen, mostly as it should be."""
        replies = list(step.replies)
        if untrue:
            return self._rng.choice(replies)
        seen = self._engine.seen(step.asks)
        fits = [r for r in replies if r.state == seen]
        fits = fits if step.asks == "valve" or self._rng.random() < 0.5 else []  # else he mends it
        if fits and (step.kind == "state" or step.asks == "valve"):
            return fits[0]
        passing = [r for r in replies if r.passes] or replies
        return passing[0] if self._rng.random() < 0.8 else self._rng.choice(replies)

    # --- what he says of himself

    def _unasked(self, at: float) -> str | None:
        rng, mood = self._rng, self._mood
        if self._engine.valve != self._valve_told and rng.random() < NOTICES_VALVE:
            self._valve_told = self._engine.valve
            return self._words.state("valve", self._valve_told)
        if rng.random() < mood.upsets:
            upset = self._upset()
            if upset is not None:
                return upset
        kind = rng.choices(
            ["look", "both", "seen", "act", "fire", "order", "back", "quiet"],
            [30, 6, 12, 14, 10, 10, 4, 6],
        )[0]
        if kind == "look":
            oldest = min(self._looked_at, key=lambda g: self._looked_at[g])
            gauge = oldest if rng.random() < 0.8 else rng.choice(["pressure", "water", "tank"])
            self._looked_at[gauge] = at
            return self._words.reading(gauge)
        if kind == "both":
            return self._words.both()
        if kind == "seen":
            return self._words.seen()
        if kind == "fire":
            return self._fire()
        if kind == "order":
            return self._words.order()
        if kind == "back":
            return self._words.withdrawal()
        return self._act() if kind == "act" else None

    def _act(self) -> str | None:
        act = self._words.act()
        if act is None:
            return None
        subject, value, words = act
        if subject == "feed" and "never feeds" in self._plan.wants and value == "on":
            return None
        self._engine.put(subject, value)
        return None if self._rng.random() < self._mood.forgets else words

    def _fire(self) -> str | None:
        if self.phase == "preparation" and "light at once" not in self._plan.wants:
            return None
        if self.phase == "putting away":
            value = self._rng.choice(["drawn", "drawn", "banked"])
        elif not self._engine.fire_in:
            value = self._rng.choice(["lit", "built"])
        else:
            value = self._rng.choices(["coal", "built", "banked", "drawn"], [10, 4, 1, 1])[0]
        self._engine.put("fire", value)
        return self._words.state("fire", value)

    def _upset(self) -> str | None:
        """An urge of his, an emergency, a symptom or a move."""
        rng = self._rng
        moving = MOVES_WHEN_WANTED if "moves" in self._plan.wants else 7.0
        if self._plan.mood == "mover":
            return self._move()
        called = 1.0 if "moves" in self._plan.wants else 5.0  # beside a danger nothing moves
        kind = rng.choices(["urge", "emergency", "symptom", "move"], [12, called, 3, moving])[0]
        if kind == "emergency":
            if rng.random() < ENDS:
                self._over_at = self._at + rng.uniform(120.0, 480.0)
            return self._words.emergency()
        if kind == "symptom":
            return self._words.symptom(self._symptoms)
        if kind == "move":
            moves = "moves" in self._plan.wants or rng.random() < 0.4
            return self._move() if moves else None
        return self._urge(rng.choice(self._plan.wants)) if self._plan.wants else None

    def _move(self) -> str:
        """A move; from standing by mostly with the water called just before."""
        mover = self._plan.mood == "mover"
        last = not mover or self._at > LATE * self._plan.length_s
        move = self._words.move(self.phase, last)
        if self.phase != "standing by" or self._rng.random() < 0.3:
            return move
        self._then = [move]
        return self._words.water()

    def _urge(self, urge: str) -> str | None:
        words, glass = self._words, self._engine.glass
        match urge:
            case "feed when lost" if glass is None:
                return words.state("feed", "on")
            case "fire when lost" if glass is None:
                self._engine.put("fire", "coal")
                return words.state("fire", "coal")
            case "looked at":
                return day_words.LOOKED_AT
            case "over":
                return words.over()
            case "fill to the top" | "feeds much":
                self._engine.put("feed", "on")
                return words.state("feed", "on")
            case "tank is empty":
                self._engine.tank = 0.0
                return day_words.TANK_EMPTY
            case "drains first forgotten":
                self._engine.put("drains", "shut")
                self._engine.put("regulator", "open")
                return self._rng.choice(["drains shut", "regulator open", "regulator open"])
            case "light at once" if not self._engine.fire_in:
                self._engine.put("fire", "lit")
                return words.state("fire", "lit")
            case "acknowledges":
                return words.named_order("acknowledge")
            case "shelves":
                return words.named_order("shelve")
            case "skips":
                return words.named_order("skip")
            case "asks how long":
                return words.named_order("how long")
            case "moves":
                return self._move()
            case "ahead of the list" if self.phase in COLD:
                self._engine.put("fire", "built")
                return words.pressure()
        return None

    def _tend(self, at: float) -> None:
        """What any driver does without thinking, said or not: coal, water before it is gone."""
        engine, rng = self._engine, self._rng
        low_tank = engine.tank < (0.95 if self.phase == "preparation" else 0.2)
        if low_tank and "tank is empty" not in self._plan.wants and rng.random() < 0.3:
            engine.tank = 1.0
        low = engine.level < 0.35 and engine.pressure > 0.2 and not engine.feeding
        if low and "never feeds" not in self._plan.wants and rng.random() < 0.25:
            engine.put("feed", "on")
        if engine.pressure <= 0.0 and not engine.fire_in and rng.random() < 0.3:
            engine.level = engine.engine.glass.cold_fill
        full = engine.level > 0.8 and engine.feeding
        if full and "feeds much" not in self._plan.wants and rng.random() < 0.5:
            engine.put("feed", "off")
            engine.put("bypass", "open")
        dull = engine.fire_in and engine.fuel < 0.4 and self.phase != "putting away"
        if dull and rng.random() < 0.4:
            engine.put("fire", "coal")
