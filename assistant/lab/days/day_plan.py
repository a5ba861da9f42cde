"""What kind of day a seed stands for: engine, phase, mood, fault, length. Knows no session."""

from __future__ import annotations

import random
from collections.abc import Sequence
from dataclasses import dataclass

from assistant.lab.days import day_scenes
from assistant.lab.days.day_engine import FAULTS
from assistant.lab.days.day_scenes import SCENES
from assistant.procedure.checklist import Phase

ENGINES = ("practice", "copper", "fullsize")


@dataclass(frozen=True, slots=True)
class Mood:
    """How a driver behaves; parts are probabilities at each thing he says."""

    answers: float
    """That he answers what was asked, where something was; else he says what he likes."""
    contrary: float
    """That an answer is untrue, a no, or a wrong correction."""
    silent: float
    """That he goes silent for minutes after it."""
    pace: float
    """Factor on how much he says in a day."""
    forgets: float
    """That he does a thing without a word."""
    upsets: float
    """That what he says unasked is an emergency, a symptom, a move, or a dangerous act."""


MOODS: dict[str, Mood] = {
    "thorough": Mood(0.98, 0.0, 0.0, 1.6, 0.0, 0.05),
    "staged": Mood(0.9, 0.0, 0.0, 1.4, 0.0, 0.05),  # a scene happens to him
    "mover": Mood(0.85, 0.0, 0.0, 1.3, 0.0, 0.3),
    "obedient": Mood(0.92, 0.02, 0.01, 1.3, 0.02, 0.2),
    "silent": Mood(0.75, 0.03, 0.12, 1.2, 0.1, 0.3),
    "chatty": Mood(0.35, 0.05, 0.02, 1.2, 0.05, 0.35),
    "contrary": Mood(0.6, 0.35, 0.03, 1.0, 0.1, 0.4),
    "forgetful": Mood(0.65, 0.05, 0.05, 0.9, 0.4, 0.3),
    "unlucky": Mood(0.55, 0.05, 0.03, 1.2, 0.1, 0.7),
}


@dataclass(frozen=True, slots=True)
class DayPlan:
    """One day, before it begins."""

    seed: int
    engine: str
    """The stem of a shipped engine."""
    dial: str
    """The unit of the gauge's dial."""
    from_phase: str | None
    """The phase at which a warm engine is taken over; None: cold."""
    mood: str
    """A key of `MOODS`."""
    fault: str
    """One of `day_engine.FAULTS`."""
    length_s: float
    words: float
    """About how often something is said in it, by a driver of pace 1."""
    limit_rise: bool
    """Whether the engine's owner limits how fast pressure may rise."""
    wants: tuple[str, ...]
    """What this driver tends to do when he may choose: names of `day_words.URGES`."""
    scene: str = ""
    """What happens on this day besides, now and then: one of `day_scenes.SCENES`."""

    def line(self) -> str:
        """The plan in one line."""
        start = f"from {self.from_phase}" if self.from_phase else "cold"
        return (
            f"seed {self.seed}: {self.engine}, dial {self.dial}, {start}, {self.mood} driver, "
            f"{self.fault or 'sound engine'}, {self.length_s / 60:.0f} min"
            f"{', scene: ' + self.scene.replace('_', ' ') if self.scene else ''}"
        )


SELDOM = (
    "given_up",
    "given_up",
    *5 * ("gauge_that_stands_still",),
    *2 * ("valve_that_does_not_reseat",),
    "valve_that_lifts_early",
    *5 * ("stands_by_while_firing",),
    *2 * ("stands_by_while_preparing",),
    *2 * ("feed_that_gives_little",),
    *4 * ("lifts_behind_a_shut_damper",),
    *16 * ("feeds_while_firing",),
    *5 * ("mud_door_leaks",),
    *4 * ("turns_on_a_hot_bearing",),
    *2 * ("water_told_low",),
    *2 * ("gauge_doubted_at_the_lift",),
    *3 * ("turns_without_oil",),
    "steam_raised_again",
    *5 * ("valve_over_a_low_gauge",),
    *3 * ("opened_in_gear",),
    *2 * ("drains_shut_on_water",),
    "steam_behind_a_dead_gauge",
)  # scenes that need more days to happen


def plan_of(seed: int, engines: Sequence[str] = ENGINES) -> DayPlan:
    """The plan that a seed stands for."""
    rng = random.Random(f"day {seed}")
    warm = [*(phase.value for phase in Phase), Phase.STANDING_BY.value, Phase.TICK_OVER.value]
    mood = rng.choice([*MOODS, "obedient", "thorough", "staged", "staged", "mover"])
    moves = mood == "mover"
    steaming = [Phase.RAISING_STEAM, Phase.TICK_OVER, Phase.PUMPING] + 3 * [Phase.STANDING_BY]
    scene = rng.choice((*SCENES, *SELDOM)) if mood == "staged" else ""
    warm = [phase.value for phase in steaming] if moves else warm
    warm = list(day_scenes.phases_of(scene)) if scene else warm
    cold = rng.random() < (0.15 if moves or scene else 0.45)
    plain = moves or scene or (mood == "thorough" and rng.random() < 0.6)
    return DayPlan(
        seed,
        rng.choice(list(engines)),
        rng.choice(["psi", "psi", "psi", "bar"]),
        None if cold else rng.choice(warm),
        mood,
        "" if plain else rng.choice(FAULTS),
        rng.uniform(60.0, 150.0) * 60.0,
        rng.uniform(60.0, 105.0),
        rng.random() < 0.3,
        ("moves",) if moves else () if plain else tuple(rng.sample((*URGES, "moves"), 4)),
        scene,
    )


# What some drivers do and others do not; each has its words in `day_words`.
URGES = (
    "feed when lost", "fire when lost", "looked at", "over", "fill to the top", "tank is empty",
    "drains first forgotten", "light at once", "never feeds", "feeds much", "acknowledges",
    "shelves", "skips", "loses devices", "asks how long", "moves", "never looks first",
    "ahead of the list",
)  # fmt: skip
