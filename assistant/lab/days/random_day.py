"""One random day from its seed: a driver at an engine of his own, and every event with its effects.

The same seed gives the same day as long as the session gives the same effects.
"""

from __future__ import annotations

import random
from collections.abc import Callable, Sequence
from dataclasses import replace
from functools import lru_cache

from assistant.commands.session_build import header_of, session_config_of
from assistant.config import engine_file
from assistant.dialogue.session import Session
from assistant.dialogue.session_config import SessionConfig
from assistant.lab.days.day_driver import Driver
from assistant.lab.days.day_engine import DayEngine
from assistant.lab.days.day_plan import DayPlan
from assistant.lab.days.typed_words import heard as hear_typed
from assistant.messages import (
    TOO_LOUD,
    DeviceBack,
    DeviceLost,
    Effect,
    Ended,
    Event,
    Started,
    Tick,
)

TICK_S = 5.0
RISE_LIMIT_PA_PER_S = 250.0  # of the owners who limit the rise: about two pounds a minute
FOLLOWED = 0.8  # of the sentences that would not be followed are not said after all
COLD_PHASES = ("preparation", "firing")

See = Callable[[Event, Sequence[Effect]], None]


@lru_cache(maxsize=16)
def config_of(engine: str, dial: str, limit_rise: bool) -> SessionConfig:
    """A session's configuration for a shipped engine, with the dial and the limit of a plan."""
    found = engine_file.find_engine(engine)
    config = session_config_of(header_of(found, "2026-05-01T09:00:00+00:00", 1, "test"), dial)
    limit = RISE_LIMIT_PA_PER_S if limit_rise else None
    return replace(config, engine=replace(config.engine, rise_limit_pa_per_s=limit))


def engine_of(plan: DayPlan, config: SessionConfig) -> DayEngine:
    """The engine as it stands when the day begins."""
    rng = random.Random(f"engine {plan.seed}")
    warm = plan.from_phase is not None and plan.from_phase not in COLD_PHASES
    engine = DayEngine(config.engine, plan.fault)
    engine.level = rng.choice([0.3, 0.45, 0.5, 0.5, 0.6, 0.75, rng.uniform(-0.1, 1.0)])
    engine.tank = rng.uniform(0.2, 1.0)
    if plan.mood in ("mover", "staged"):  # trouble with the water would be in the way
        engine.level, engine.tank = rng.uniform(0.55, 0.75), 1.0
    if warm:
        engine.heat, engine.pressure = 1.0, rng.uniform(0.2, 1.0)
        engine.put("fire", "built")
    for subject, value in (("regulator", "shut"), ("drains", "open"), ("blower", "shut"),
                           ("damper", "half"), ("feed", "off")):  # fmt: skip
        engine.states[subject] = value
    return engine


def play(plan: DayPlan, see: See, session: Session | None = None) -> None:
    """Play the day; `see` is shown every event with what came of it, in order."""
    config = config_of(plan.engine, plan.dial, plan.limit_rise)
    session = session or Session(config)
    engine = engine_of(plan, config)
    driver = Driver(
        plan,
        engine,
        (*config.lists, *config.remedies),
        [form for form, _ in config.remedy_calls],
        config.named_forms,
    )
    rng = random.Random(f"devices {plan.seed}")
    over = False

    def happens(event: Event) -> None:
        nonlocal over
        effects = session.handle(event)
        see(event, effects)
        driver.hears(effects)
        over = over or any(isinstance(effect, Ended) for effect in effects)

    at, speaks_at = 0.0, 3.0
    lost: tuple[str, float] | None = None
    happens(Started(at, plan.from_phase))
    while at < plan.length_s and not over:
        step = min(speaks_at, (at // TICK_S + 1) * TICK_S) - at
        engine.step(step)
        at += step
        if at < speaks_at:
            happens(Tick(at))
            lost = _devices(plan, rng, at, lost, happens)
            continue
        words = driver.says(session.expected, at)
        if words is not None:
            heard = hear_typed(words, session.expected, at)
            if not heard.alternatives and rng.random() < FOLLOWED:
                heard = hear_typed(driver.says_instead(), session.expected, at)
            happens(heard)
        speaks_at = at + driver.pause_s(session.expected.kind != "any")


def _devices(
    plan: DayPlan,
    rng: random.Random,
    at: float,
    lost: tuple[str, float] | None,
    happens: Callable[[Event], None],
) -> tuple[str, float] | None:
    """On some days microphone or speaker fail now and then, and come back."""
    if lost is not None and at >= lost[1]:
        happens(DeviceBack(at, lost[0]))  # type: ignore[arg-type]
        return None
    if lost is None and "loses devices" in plan.wants and rng.random() < TICK_S / 3600.0:
        device = rng.choice(["microphone", "speaker"])
        loud = device == "microphone" and int(at / TICK_S) % 2  # as good as by chance
        happens(DeviceLost(at, device, TOO_LOUD if loud else "no frames"))  # type: ignore[arg-type]
        return device, at + rng.uniform(30.0, 300.0)
    return lost
