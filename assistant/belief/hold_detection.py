"""Whether the pressure is held rather than rising: fire let down or drawn, steam taken."""

from __future__ import annotations

from assistant.belief import water_balance
from assistant.belief.history import History, Pressure
from assistant.boiler.figures import Engine
from assistant.boiler.scales import PSI_PA

HELD_SHARE = 0.1  # of its rise that a damped fire still makes: common practice, no source


def let_down_s(history: History) -> float | None:
    """Since when the fire is let down (banked, drawn, or the damper in on a fire that burnt)."""
    lit_s = history.lit_s
    damped = history.since("damper", "shut")
    if damped is not None and lit_s is not None and damped <= lit_s:
        damped = None  # the damper was shut when the fire was lit: not let down
    if damped is not None and not any(
        p.gauge_pa > 0.0 for p in history.pressures if p.at_s <= damped + 60.0
    ):
        damped = None
    begun = [t for t in (damped, history.since("fire", "banked", "drawn")) if t is not None]
    return min(begun, default=None)


def held_since(history: History) -> float | None:
    """Since when pressure is held by a fire let down or steam taken; None when it is not."""
    begun = [
        t
        for t in (
            let_down_s(history),
            history.since("regulator", "open"),
            history.since("valve", "lifting"),
        )
        if t is not None
    ]
    return min(begun, default=None)


def held_s(history: History, from_s: float, to_s: float) -> float:
    """For how long between two times pressure was held [s]."""
    begun = held_since(history)
    return 0.0 if begun is None else max(to_s - max(from_s, begun), 0.0)


def steam_draw_w(engine: Engine, history: History, full_fire_w: float) -> float:
    """Heat that open regulator and drains take [W], while no readings show it yet."""
    begun = history.since("regulator", "open")
    if begun is None or sum(1 for p in history.pressures if p.at_s > begun) > 1:
        return 0.0
    kg_per_s = water_balance.TICK_OVER + (
        water_balance.DRAINS if history.state("drains") == "open" else 0.0
    )
    return kg_per_s * full_fire_w


def obstacle(
    engine: Engine,
    history: History,
    accepted: tuple[Pressure, ...],
    target_pa: float,
    now_pa: float,
) -> str | None:
    """Why a pressure above this one will not come if nothing is changed; None when it may."""
    if history.state("fire") == "drawn":
        return "the fire is drawn"
    if history.lit_s is None and not any(p.gauge_pa > 0.0 for p in history.pressures):
        return "no fire is lit"
    if target_pa > 1.03 * engine.valve_lifts_gauge_pa:
        return f"the valve lifts at {in_pounds(engine.valve_lifts_gauge_pa)} and holds it there"
    begun = let_down_s(history)
    if begun is not None:
        since = [p for p in accepted if p.at_s > begun]
        step = history.step_pa
        rose = len(since) > 1 and since[-1].gauge_pa > since[0].gauge_pa + 0.6 * step
        if not rose:
            how = "the fire is banked" if history.state("fire") == "banked" else "the damper is in"
            called_pa = accepted[-1].gauge_pa if accepted else now_pa
            holds = f"{in_pounds(called_pa)} holds or falls"
            return f"{how}: {holds} and does not reach {in_pounds(target_pa)}"
    return _falling(history, accepted)


def _falling(history: History, accepted: tuple[Pressure, ...]) -> str | None:
    """How far the last three readings fall, in words; None when they do not."""
    last = accepted[-3:]
    if len(last) < 3 or last[-1].at_s - last[0].at_s < 300.0:
        return None
    step = history.step_pa
    fall_pa = last[0].gauge_pa - last[-1].gauge_pa
    if fall_pa < 1.6 * step or last[-1].gauge_pa > last[-2].gauge_pa:
        return None
    fed = any(
        a.what == "feed" and a.state == "on" and last[0].at_s - 60.0 <= a.at_s for a in history.acts
    )
    if fed and history.state("feed") != "on":
        return None  # the feed caused the fall, and is off
    minutes = (last[-1].at_s - last[0].at_s) / 60.0
    return f"pressure fell by {in_pounds(fall_pa)} in {minutes:.0f} minutes"


def in_pounds(gauge_pa: float) -> str:
    """A pressure as the trade says it."""
    return f"{gauge_pa / PSI_PA:.0f} pounds"
