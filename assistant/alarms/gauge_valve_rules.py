"""Alarm conditions for the pressure gauge against the safety valve. Pure; reads the picture."""

from __future__ import annotations

import math

from assistant.alarms.condition import psi
from assistant.alarms.inputs import AlarmInputs
from assistant.alarms.water_rules import hot
from assistant.picture.part import ago
from assistant.picture.picture import Picture

EARLY = 0.9  # of the lift: valves are seldom set nearer than this to what is told. Judgement
NEARLY = 0.93  # ... and one that moves under so much of its figure is light, or the gauge slow
ASKED_S = 60.0  # the gauge, asked for as the valve moves, is a warning after this
BLOW_DOWN = 0.12  # of the lift: a pop valve's is some 5 to 10 % (from memory), and the calling
BLOWS_S = 600.0  # told to lift longer ago, it has shut again untold. Judgement
UNREAD_S = 120.0  # and a danger after this


def over_a_dead_gauge(inputs: AlarmInputs, at: float) -> str | None:
    """The valve moved over a gauge that showed nothing like it, and the heat is not stopped."""
    if _grade(inputs) != "danger" or _acted(inputs):
        return None
    low = inputs.engine.valve_moves_gauge_pa
    return f"the valve moves at {psi(low)} or more, and the gauge was called far below"


def disagree(inputs: AlarmInputs, at: float) -> str | None:
    """The valve moved somewhat under its own figure by the gauge, and the heat is not stopped."""
    if _grade(inputs) != "warning" or _acted(inputs):
        return None
    return (
        f"the valve moves at {psi(inputs.engine.valve_moves_gauge_pa)}, the gauge was called lower"
    )


def unsettled(inputs: AlarmInputs, at: float) -> str | None:
    """Gauge and valve contradict each other, whatever was done about the heat."""
    return None if _grade(inputs) is None else "gauge and valve have not agreed since they differed"


def told_wrong(inputs: AlarmInputs, at: float) -> str | None:
    """The gauge was told to be wrong or stuck over heat, and the valve does not speak yet."""
    seen = inputs.picture
    if seen is None or seen.gauge.told_wrong_since is None or not hot(seen):
        return None
    if _grade(inputs) is not None or stands_still(inputs, at):
        return None
    return f"the gauge was told to be wrong, {ago(at - seen.gauge.told_wrong_since)}"


def stands_still(inputs: AlarmInputs, at: float) -> str | None:
    """The gauge stands still, with all that should move it, and the valve does not speak yet."""
    seen = inputs.picture
    if seen is None or seen.gauge.still_since is None or seen.gauge.conflict is not None:
        return None
    pressure = seen.gauge.pressure_pa
    minutes = (at - seen.gauge.still_since) / 60.0
    return None if pressure is None else f"gauge at {psi(pressure)} for {minutes:.0f} minutes"


def lifts_early(inputs: AlarmInputs, at: float) -> str | None:
    """The valve was told to move well under its figure, by a gauge that is not far from it."""
    valve, engine = inputs.states.get("valve"), inputs.engine
    figures = {
        "feathering": engine.valve_moves_gauge_pa, "lifting": engine.valve_lifts_gauge_pa,
    }  # fmt: skip
    if valve is None or valve.value not in figures or "valve figure" in inputs.states:
        return None
    figure, near = figures[str(valve.value)], _called_nearest(inputs, valve.at)
    if near is None or not EARLY * engine.valve_moves_gauge_pa <= near < NEARLY * figure:
        return None
    return f"{valve.value} with the gauge at {psi(near)}, set at {psi(figure)}"


def _called_nearest(inputs: AlarmInputs, to_s: float) -> float | None:
    """The gauge called nearest to a time, within a minute of it [Pa gauge].

    A valve that blows lets the pressure fall: what is called later tells not where it lifted.
    """
    called = inputs.numbers("pressure")[::-1]
    near = min(called, key=lambda each: abs(each[1] - to_s), default=None)
    return near[0] if near is not None and abs(near[1] - to_s) <= ASKED_S else None


def does_not_reseat(inputs: AlarmInputs, at: float) -> str | None:
    """The valve lifted near its figure, was not told to be shut, and lets the pressure fall by more
    than its blow-down.
    """
    valve, seen, lift = (
        inputs.states.get("valve"),
        inputs.picture,
        inputs.engine.valve_lifts_gauge_pa,
    )
    if seen is None or valve is None or valve.value != "lifting" or not seen.valve.lifts:
        return None
    lifted = _called_nearest(inputs, valve.at)
    if lifted is None or lifted < EARLY * lift or seen.gauge.conflict is not None:
        return None
    told_at, now = seen.valve.lifts[-1], inputs.number("pressure")
    under = (
        r.value
        for r in inputs.pressure
        if valve.at < r.at <= told_at + BLOWS_S
        and isinstance(r.value, float)
        and r.value < (1.0 - BLOW_DOWN) * lift
    )
    fallen = next(under, None)
    if fallen is None or now is None or now >= (1.0 - BLOW_DOWN) * lift:
        return None
    return f"lifted at {psi(lifted)}, and still lifting at {psi(fallen)}"


def unread(inputs: AlarmInputs, at: float) -> str | None:
    """The gauge was asked for as the valve moved, and not called for a minute."""
    return _unread_for(inputs, at, ASKED_S)


def unread_long(inputs: AlarmInputs, at: float) -> str | None:
    """The same for two minutes, and the heat is not stopped."""
    return None if _acted(inputs) else _unread_for(inputs, at, UNREAD_S)


def read(inputs: AlarmInputs, at: float) -> bool:
    return _unread_since(inputs) is None


def read_or_acted(inputs: AlarmInputs, at: float) -> bool:
    return read(inputs, at) or _acted(inputs)


def unread_due(inputs: AlarmInputs) -> float:
    since = _unread_since(inputs)
    return math.inf if since is None else since + ASKED_S


def unread_long_due(inputs: AlarmInputs) -> float:
    since = _unread_since(inputs)
    return math.inf if since is None else since + UNREAD_S


def heat_stopped_since(picture: Picture, since: float) -> bool:
    """Whether damper shut or fire out was told since a time [s], and no heat was put on after.

    A damper that is shut stops no heat while the blower is known to be on.
    """
    damper, blower, fire = picture.damper, picture.blower, picture.fire
    stops = (
        damper.age_s if damper.value == "shut" else None,
        fire.age_s if fire.value == "drawn" else None,
    )
    heats = (
        damper.age_s if damper.value in ("half", "open") else None,
        blower.age_s if blower.value in ("half", "open") else None,
        fire.age_s if fire.value in ("lit", "coal") else None,
    )
    if blower.value in ("half", "open") and fire.value != "drawn":
        return False
    stopped_s = min((age for age in stops if age is not None), default=math.inf)
    heated_s = min((age for age in heats if age is not None), default=math.inf)
    return stopped_s <= picture.at - since and stopped_s <= heated_s


def _grade(inputs: AlarmInputs) -> str | None:
    return None if inputs.picture is None else inputs.picture.gauge.conflict


def _unread_since(inputs: AlarmInputs) -> float | None:
    return None if inputs.picture is None else inputs.picture.gauge.unread_since


def _unread_for(inputs: AlarmInputs, at: float, seconds: float) -> str | None:
    since = _unread_since(inputs)
    if since is None or at < since + seconds:
        return None
    return f"the valve moved {(at - since) / 60:.0f} minutes ago, and the gauge was not called"


def _acted(inputs: AlarmInputs) -> bool:
    picture = inputs.picture
    if picture is None:
        return False
    began = (picture.gauge.conflict_since, picture.gauge.unread_since)
    since = min((at for at in began if at is not None), default=None)
    return since is not None and heat_stopped_since(picture, since)
