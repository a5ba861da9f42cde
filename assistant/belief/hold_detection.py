"""How things stand with the fire: let down, drawn, steam taken, feed on. From what was reported."""

from __future__ import annotations

from assistant.belief import water_balance
from assistant.belief.history import History, Pressure
from assistant.boiler.figures import Engine
from assistant.boiler.scales import PSI_PA

HELD = (
    0.1  # part of its rise that a fire with the damper in still makes: common practice, no source
)


def let_down_s(history: History) -> float | None:
    """Since when the fire is let down (banked, drawn, or the damper in on a fire that burnt)."""
    lit_s = history.lit_s
    damped = history.since("damper", "shut")
    if damped is not None and lit_s is not None and damped <= lit_s:
        damped = None  # the ash pan was shut when the match was put to it: not let down
    if damped is not None and not any(
        p.gauge_pa > 0.0 for p in history.pressures if p.at_s <= damped + 60.0
    ):
        damped = None
    begun = [t for t in (damped, history.since("fire", "banked", "drawn")) if t is not None]
    return min(begun, default=None)


def held_since(history: History) -> float | None:
    """Since when pressure is held rather than rises: fire down, steam taken; None: it is not."""
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
    """Seconds between two times in which pressure held, not rose."""
    begun = held_since(history)
    return 0.0 if begun is None else max(to_s - max(from_s, begun), 0.0)


def taken_w(engine: Engine, history: History, full_w: float) -> float:
    """Heat that open regulator and drains take as things stand [W], if no readings show it yet."""
    begun = history.since("regulator", "open")
    if begun is None or sum(1 for p in history.pressures if p.at_s > begun) > 1:
        return 0.0
    kg_per_s = water_balance.TICK_OVER + (
        water_balance.DRAINS if history.state("drains") == "open" else 0.0
    )
    return kg_per_s * full_w


def against(
    engine: Engine,
    history: History,
    believed: tuple[Pressure, ...],
    target_pa: float,
    now_pa: float,
) -> str | None:
    """Why a pressure above this one will not come as things stand; None when it may."""
    if history.state("fire") == "drawn":
        return "the fire is drawn"
    if history.lit_s is None and not any(p.gauge_pa > 0.0 for p in history.pressures):
        return "no fire is lit"
    if target_pa > 1.03 * engine.valve_lifts_gauge_pa:
        return f"the valve lifts at {pounds(engine.valve_lifts_gauge_pa)} and holds it there"
    begun = let_down_s(history)
    if begun is not None:
        since = [p for p in believed if p.at_s > begun]
        step = history.step_pa
        rose = len(since) > 1 and since[-1].gauge_pa > since[0].gauge_pa + 0.6 * step
        if not rose:
            how = "the fire is banked" if history.state("fire") == "banked" else "the damper is in"
            return f"{how}: {pounds(now_pa)} holds or falls and does not reach {pounds(target_pa)}"
    return _falling(history, believed)


def _falling(history: History, believed: tuple[Pressure, ...]) -> str | None:
    last = believed[-3:]
    if len(last) < 3 or last[-1].at_s - last[0].at_s < 300.0:
        return None
    step = history.step_pa
    falls = last[0].gauge_pa - last[-1].gauge_pa
    if falls < 1.6 * step or last[-1].gauge_pa > last[-2].gauge_pa:
        return None
    fed = any(
        a.what == "feed" and a.state == "on" and last[0].at_s - 60.0 <= a.at_s for a in history.acts
    )
    if fed and history.state("feed") != "on":
        return None  # the fall was the feed's, and that is over
    minutes = (last[-1].at_s - last[0].at_s) / 60.0
    return f"pressure fell by {pounds(falls)} in {minutes:.0f} minutes"


def pounds(gauge_pa: float) -> str:
    """A pressure as the trade speaks it."""
    return f"{gauge_pa / PSI_PA:.0f} pounds"
