"""One need: what is wanted, how urgent it is, and how often it is put. Pure; knows no words."""

from __future__ import annotations

from dataclasses import dataclass
from enum import IntEnum

from assistant.alarms.lifecycle import Alarm
from assistant.dialogue.state import Asked
from assistant.procedure.checklist import Step


class Rank(IntEnum):
    """By the worst that it may be; a lower number goes first."""

    DANGER = 1
    """The acts of a danger."""
    STOP = 2
    """To stop an act just reported that must not be, and what else a warning wants."""
    READING = 3
    """A reading without which the boiler is not safe."""
    DUE = 4
    """An act that is due by the engine's state."""
    REMEDY = 5
    """The further acts of a remedy."""
    DOUBT = 6
    """A doubt or a question that is open."""
    STEP = 7
    """The step of the list."""
    OFFER = 8
    """Work for the waiting time."""


@dataclass(frozen=True, slots=True)
class Need:
    """Something that is wanted now."""

    name: str
    """Unique: the key under which `SessionState.asked` remembers it."""
    rank: Rank
    respond_s: float = float("inf")
    """Within a rank the least time to respond goes first [s]."""
    order: float = 0.0
    """Then the lower of these."""
    alarm: Alarm | None = None
    """The alarm whose words it has, if it comes from one."""
    gauge: str = ""
    """The gauge that is to be read, if it is a reading."""
    step: Step | None = None
    """The step that is put, if it is one of a list."""
    words: str = ""
    """Its words, where it comes from the state of the engine."""
    at_once: bool = False
    """The first act of a trouble just reported: only a danger goes before it in this event."""
    calmer: bool = False
    """It is put less often: its first acts were reported, or a danger goes before it."""
    provoked: bool = False
    """An act just reported goes against it: it is put again at once."""
    holds_others: bool = False
    """A danger whose first acts are neither reported nor a minute old."""

    wants_name: bool = False
    """It asks for a person's name: what is said next is that name, or a note."""

    @property
    def sort_key(self) -> tuple[int, float, float]:
        """In what order needs are put."""
        return self.rank, self.respond_s, self.order

    @property
    def asks(self) -> bool:
        """Whether it is put as a question."""
        if self.gauge:
            return True
        words = self.words or (self.alarm.rule.text if self.alarm else "")
        return "?" in (words or (self.step.say if self.step else ""))


ACTED_S = 300.0  # a danger whose acts were reported is named again after this
DANGER_S = 30.0
STOP_S = 30.0
WARNING_S = 120.0  # a warning that no act of this moment brought
READING_S, READING_LATE_S = 60.0, 30.0
PRESSURE_MOST_S = 600.0  # the valve watches the pressure, nobody but him the water
DUE_S, DUE_LATE_S, DUE_TIMES = 120.0, 300.0, 3
GLASS_S = 600.0  # the warning of a glass that nobody proved
STEP_S, STEP_LEAST_S, STEP_MOST_S = 60.0, 120.0, 1800.0
ACT_STOPS = frozenset(
    {
        "regulator open, drains shut",
        "regulator open, in gear",
        "regulator open, people near",
        "regulator open, no oil",
        "regulator open, bearing hot",
        "drains shut, water coming",
        "priming",
        "fire in, water not seen",
    }
)  # warnings that stop an act just reported


def is_glass(step: Step) -> bool:
    """Whether it proves the glass under steam."""
    return step.must and step.proves == "glass proved"


def again_after(need: Need, asked: Asked) -> float:
    """How long after it was last put the need is put again [s].

    Judgement throughout: oftener the graver it is; what the operator may be busy with ever rarer.
    """
    match need.rank:
        case Rank.DANGER:
            return ACTED_S if need.calmer else DANGER_S
        case Rank.STOP:
            if need.calmer:
                return ACTED_S
            stops = need.alarm is not None and need.alarm.name in ACT_STOPS
            return STOP_S if stops else WARNING_S
        case Rank.READING:
            if need.gauge == "pressure":
                return min(READING_S * 2.0 ** min(asked.times - 1, 10), PRESSURE_MOST_S)
            late = asked.times >= 2 or need.alarm is not None
            return READING_LATE_S if late and not need.calmer else READING_S
        case Rank.DUE:
            if need.step is not None and need.step.near_boiling:
                return DUE_LATE_S  # it waits for the water, not for him
            if need.step is not None and is_glass(need.step) and asked.times >= DUE_TIMES:
                return GLASS_S
            return DUE_S if asked.times < DUE_TIMES else DUE_LATE_S
    own_s = 0.0 if need.step is None else 60.0 * need.step.minutes
    patience = (STEP_S + own_s) * 2.0 ** min(asked.times - 1, 10)
    return min(max(patience, STEP_LEAST_S), max(STEP_MOST_S, own_s))
