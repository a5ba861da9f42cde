"""How long preparing her takes, to a lit fire: by the lists, and by her own earlier journals."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from assistant.belief.bands import Band
from assistant.boiler.figures import Engine
from assistant.boiler.scales import TENTH_SD
from assistant.errors import InputWrongError
from assistant.journal import reader
from assistant.journal.codec import NotAMessageError, effect_from_record, event_from_record
from assistant.journal.hash_chain import Record
from assistant.messages import (
    Away,
    Effect,
    Event,
    PhaseDone,
    ReadingAccepted,
    Report,
    Resumed,
    Started,
    StepOvertaken,
)
from assistant.procedure.checklist import Checklist, Phase, for_engine
from assistant.procedure.scale import options

# Spreads of the logarithm of the time (judgement, no source): how far a driver's usual day is from
# the lists' minutes, and one day of his from another.
LISTS_SPREAD = 0.3
DAY_SPREAD = 0.2
_KINDS = tuple(
    message.__name__
    for message in (Started, Resumed, Away, PhaseDone, StepOvertaken, ReadingAccepted)
)


@dataclass(frozen=True, slots=True)
class PreparationTime:
    """From coming to a cold engine to a lit fire."""

    minutes: Band
    runs: int
    """how many of her earlier journals it rests on; 0: the lists alone"""
    why: str
    """what it rests on, in words"""


def preparation_time(
    lists: Sequence[Checklist], engine: Engine, past: Sequence[Path]
) -> PreparationTime:
    """The time by the lists' minutes, drawn towards what her earlier journals show.

    past: readings files and journals; those that show no whole preparation are passed over.
    Raises InputWrongError for a file that cannot be read.
    """
    preparing, firing = _listed_minutes(lists, engine)
    listed = max(1.0, preparing + firing)
    shown = [minutes + firing for p in past if (minutes := shown_minutes(p)) is not None]
    weight_of_lists, weight_of_day = LISTS_SPREAD**-2, DAY_SPREAD**-2
    weight = weight_of_lists + len(shown) * weight_of_day
    total = weight_of_lists * math.log(listed) + weight_of_day * sum(map(math.log, shown))
    spread = TENTH_SD * math.hypot(weight**-0.5, DAY_SPREAD)
    low, mid, high = (math.exp(total / weight + side * spread) for side in (-1, 0, 1))
    earlier = f"{len(shown)} earlier days of hers and " if shown else ""
    why = f"{low:.0f} to {high:.0f} minutes of preparation, from {earlier}"
    return PreparationTime(
        Band(low, mid, high), len(shown), f"{why}the lists' own {listed:.0f} minutes"
    )


def _listed_minutes(lists: Sequence[Checklist], engine: Engine) -> tuple[float, float]:
    """The minutes of her steps: of the preparation, and of firing up to the lit fire."""
    preparing = firing = 0.0
    for checklist in lists:
        applying = for_engine(checklist, options(engine)).steps
        if checklist.phase is Phase.PREPARATION:
            preparing += sum(step.minutes for step in applying)
        elif checklist.phase is Phase.FIRING:
            lit = next((i for i, step in enumerate(applying) if step.proves == "fire lit"), -1)
            firing += sum(step.minutes for step in applying[: lit + 1])
    return preparing, firing


def shown_minutes(path: Path) -> float | None:
    """From the start of a journal to the end of its preparation, where it shows one [minutes].

    None for a readings file, a rehearsal, a warm start, a break, a preparation left before its end
    and a fire lit before it. Raises InputWrongError for a file that cannot be read.
    """
    if path.suffix != reader.SUFFIX:
        return None
    journal = reader.read(path, only=_KINDS)
    if (journal.start_record or {}).get("how") == "rehearsal":
        return None
    began_s = None
    for record in journal.records:
        match _message(record, path):
            case Started(at=at, from_phase=None):
                began_s = at
            case Resumed() | Away() | StepOvertaken() | ReadingAccepted(Report("fire", "lit")):
                return None
            case PhaseDone(phase=Phase.PREPARATION.value) if began_s is not None:
                return (record.at - began_s) / 60.0 if record.at > began_s else None
    return None


def _message(record: Record, path: Path) -> Event | Effect | None:
    """The message of a record; None for another kind of record."""
    try:
        if record.kind == "event":
            return event_from_record(record.payload.get("event"))
        if record.kind == "effect":
            return effect_from_record(record.payload.get("effect"))
    except NotAMessageError as wrong:
        raise InputWrongError(f"{path}: record {record.n}: {wrong}") from wrong
    return None
