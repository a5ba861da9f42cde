"""A whole rehearsal: puts the scene together, plays it and judges the tally.

Knows the practice boiler and the operator; not where anything is stored or shown.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

import numpy as np

from assistant.boiler.figures import Engine
from assistant.errors import InputWrongError
from assistant.messages import Effect, Event, Expected, Learner, Started
from assistant.procedure.checklist import Checklist
from assistant.simulator import manners
from assistant.simulator.practice_boiler import PracticeBoiler
from assistant.simulator.practice_faults import FAULTS
from assistant.simulator.scene import (
    FIVE_PHASES,
    OperatorHearing,
    Pace,
    PracticeTally,
    Scene,
    Watcher,
)


@dataclass(frozen=True)
class Cast:
    """Who and what takes part."""

    engine: Engine
    lists: tuple[Checklist, ...]
    hearing: OperatorHearing
    pace: Pace
    seed: int = 0  # fixes the weather, the fire and the operator
    faults: tuple[str, ...] = ()  # names from `practice_faults.FAULTS`
    operator: str = manners.RIGHTLY  # a name from `manners.MANNERS`
    dial: str = "psi"  # the unit of the gauge
    learner: Learner | None = None  # who learns from it


def play(
    cast: Cast,
    process: Callable[[Event], list[Effect]],
    expected: Callable[[], Expected],
    watch: Watcher,
    on_stage: Callable[[PracticeBoiler], None] = lambda boiler: None,
) -> PracticeTally:
    """The steam-up, from a cold engine to the end of pumping or as far as it gets.

    on_stage: is handed the boiler before it begins, for who judges by the truth.
    """
    unknown = [fault for fault in cast.faults if fault not in FAULTS]
    if unknown:
        raise InputWrongError(
            f"no practice fault called {unknown[0]!r}; there are: {', '.join(sorted(FAULTS))}"
        )
    if cast.operator not in manners.MANNERS:
        raise InputWrongError(
            f"no practice operator called {cast.operator!r}; there are: "
            + ", ".join(sorted(manners.MANNERS))
        )
    boiler = PracticeBoiler(cast.engine, cast.seed, faults=cast.faults)
    on_stage(boiler)
    operator = manners.MANNERS[cast.operator](
        boiler, cast.lists, np.random.default_rng([cast.seed, 7])
    )
    operator.dial = cast.dial
    scene = Scene(process, expected, operator, boiler, cast.hearing, cast.pace, watch)
    return scene.play(Started(0.0, None, cast.seed, plate=True, learner=cast.learner))


def verdict(
    tally: PracticeTally,
    faults: tuple[str, ...],
    replayed: bool,
    operator: str = manners.RIGHTLY,
    whole: bool = True,
) -> tuple[bool, list[str]]:
    """Whether the rehearsal was good, and what was wrong with it.

    whole: it was to go to its end; else phases may be missing.
    """
    wrong = list(tally.mistakes)
    missing = [phase for phase in FIVE_PHASES if phase not in tally.phases_done]
    missing = missing if whole else []
    if missing and not faults and operator == manners.RIGHTLY:
        wrong.append(f"phases not done: {', '.join(missing)}")
    if faults and not tally.alarms and missing:
        wrong.append(f"no alarm for {', '.join(faults)}")
    if not replayed:
        wrong.append("the replay is not the record")
    return not wrong, wrong


def result_json(tally: PracticeTally, ok: bool, wrong: list[str], journal: str) -> dict[str, Any]:
    """The last JSON object of `rehearse`."""
    return {
        "ok": ok,
        "phases_done": tally.phases_done,
        "readings": {
            "spoken": tally.spoken,
            "right": tally.right,
            "wrong": tally.wrong,
            "confirmed": tally.confirmed,
            "again": tally.again,
            "not_found": tally.lost,
        },
        "states": {"right": tally.states_right, "wrong": tally.states_wrong},
        "alarms": tally.alarms,
        "journal": journal,
        "sounds": tally.sounds,
        "minutes": round(tally.at_s / 60, 1),
        "ended": tally.ended,
        "trouble": wrong,
    }
