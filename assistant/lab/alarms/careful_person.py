"""By which reports a careful person with the engine's file would know each trouble.

Pure. Each rule gives the times of the reports that show the trouble, first to last. None reads the
boiler's truth. Common practice, no source, as far as no other is named; figures are judgement.
"""

from __future__ import annotations

from collections.abc import Callable
from itertools import pairwise

from assistant.boiler.scales import PSI_PA
from assistant.lab.alarms.called import STEP, Called

Rule = Callable[[Called], list[float]]

_SHOWS_ABOVE = 1.5 * STEP  # a gain that must be seen
_FALL_ROUNDED = STEP  # what two levels called in eighths may be wrong by together
_SAME_LEVEL, _EQUAL_LEVELS = 0.02, 3
_PSI_ROUNDED = 10.0
_STILL_S = 300.0  # after which what was shut should be felt
_STARVED_S = 120.0
_LIFTS_AGAIN_S = 600.0


def any_of(*rules: Rule) -> Rule:
    """What one of them shows."""
    return lambda called: sorted({at for rule in rules for at in rule(called)})


def reported(what: str, *states: str) -> Rule:
    """The thing itself is called."""
    return lambda called: called.states(what, *states)


def feed_gives_little(called: Called) -> list[float]:
    """Fed long enough for a gain that must be seen, the glass gained less than half of it."""
    shown = set()
    for (begin, before), (end, after) in called.water_pairs():
        wanted = min(called.gain_wanted(begin, end), 1.0 - before)  # a full glass shows no more
        if wanted >= _SHOWS_ABOVE and after - before < 0.5 * wanted:
            shown.add(end)
    return sorted(shown)


def glass_still(called: Called) -> list[float]:
    """Three or more equal levels running, while the feed should have moved them."""
    shown, run = [], list[float]()
    level = -1.0
    for at, now in called.readings("water"):
        if abs(now - level) >= _SAME_LEVEL:
            run, level = [], now
        run.append(at)
        if len(run) >= _EQUAL_LEVELS and called.gain_wanted(run[0], at) >= _SHOWS_ABOVE:
            shown.append(at)
    return shown


def glass_climbs(called: Called) -> list[float]:
    """Unfed and in steam, the glass rises by two steps while the pressure does not explain it."""
    working_psi = called.engine.working_pressure_gauge_pa / PSI_PA
    shown = set()
    for (begin, before), (end, after) in called.water_pairs():
        first, last = called.pressure_at(begin), called.pressure_at(end)
        if first is None or last is None or not called.unfed(begin, end):
            continue
        if first[1] < 0.1 * working_psi:
            continue  # below, the water swells more than the gauge tells
        if after - before >= 2 * STEP and last[1] - first[1] < 0.4 * working_psi:
            shown.add(end)
    return sorted(shown)


def water_lost(called: Called) -> list[float]:
    """Unfed, the glass falls by more than steam can have taken."""
    shown = set()
    for (begin, before), (end, after) in called.water_pairs():
        fall = before - after
        if end - begin < 60.0 or fall < STEP or not called.unfed(begin, end):
            continue
        if not called.watched(begin, end):
            continue  # the valve may have blown untold
        first, last = called.pressure_at(begin), called.pressure_at(end)
        shrinks = first is not None and last is not None and last[1] < first[1] - 15.0
        if fall > called.use(begin, end) + _FALL_ROUNDED and not shrinks:
            shown.add(end)
    return sorted(shown)


def gauge_dead(called: Called) -> list[float]:
    """The valve moves, or the vent blew steam five minutes ago, and the gauge rests."""
    rests_psi = 0.1 * called.engine.working_pressure_gauge_pa / PSI_PA
    valve = called.states("valve", "lifting", "feathering")
    shown = {at for at in valve if (last := called.pressure_at(at)) and last[1] <= rests_psi}
    steam = called.states("vent", "blows steam")
    for at, psi in called.pressures():
        if psi <= rests_psi and any(at - 300.0 <= moved <= at for moved in valve):
            shown.add(at)
        if psi <= 1.0 and any(blew + _STILL_S <= at for blew in steam):
            shown.add(at)
    return sorted(shown)


def valve_early(part: float) -> Rule:
    """The valve feathers or lifts with the gauge, read within a minute and a half, under this part
    of where the file has it do that."""

    def rule(called: Called) -> list[float]:
        engine = called.engine
        figures = {
            "feathering": engine.valve_moves_gauge_pa, "lifting": engine.valve_lifts_gauge_pa,
        }  # fmt: skip
        shown = set()
        for state, figure in figures.items():
            for moved in called.states("valve", state):
                near = [(at, psi) for at, psi in called.pressures() if abs(at - moved) <= 90.0]
                if near:
                    at, psi = min(near, key=lambda each: abs(each[0] - moved))
                    shown |= {max(at, moved)} if psi < part * figure / PSI_PA else set()
        return sorted(shown)

    return rule


def valve_overdue(called: Called) -> list[float]:
    """The gauge is a fiftieth above the lift, and the valve not called lifting."""
    over = 1.02 * called.engine.valve_lifts_gauge_pa / PSI_PA
    return [
        at for at, psi in called.pressures()
        if psi >= over and called.state("valve", at) != "lifting"
    ]  # fmt: skip


def pressure_falls(called: Called) -> list[float]:
    """Three gauge readings falling, a fire in, and neither feed nor valve nor engine at work."""
    read, shown = called.pressures(), []
    for (begin, first), (_, second), (end, third) in zip(read, read[1:], read[2:], strict=False):
        quiet = (
            called.unfed(begin, end)
            and called.never("valve", {"lifting", "feathering"}, begin, end)
            and called.never("regulator", {"open"}, begin, end)
            and called.never("fire", {"drawn", "banked"}, begin, end)
        )
        if quiet and first > second > third and first - third >= _PSI_ROUNDED:
            shown.append(end)
    return shown


def rises_with_draught_shut(called: Called) -> list[float]:
    """Damper called shut and no blower for five minutes, and the pressure still comes up."""
    shown = []
    for at, psi in called.pressures():
        shut = called.since("damper", {"shut"}, at)
        if shut is None or at - shut < _STILL_S or called.state("blower", at) in ("half", "open"):
            continue
        then = called.pressure_at(shut + 60.0)
        if then is not None and psi - then[1] >= _PSI_ROUNDED:
            shown.append(at)
    return shown


def lifts_again(called: Called) -> list[float]:
    """Damper called shut or nearly, blower not on, and the valve lifts twice within ten minutes:
    the fire makes more than she uses.
    """
    return [
        after for before, after in pairwise(called.states("valve", "lifting"))
        if after - before <= _LIFTS_AGAIN_S
        and called.since("damper", {"shut", "crack"}, before) is not None
        and called.state("blower", after) not in ("half", "open")
    ]  # fmt: skip


def lifts_with_damper_shut(called: Called) -> list[float]:
    """Damper called shut for two minutes, blower not on, and then two lifts within five minutes:
    a shut damper starves a fire.
    """
    shown = []
    for before, after in pairwise(called.states("valve", "lifting")):
        shut = called.since("damper", {"shut"}, before)
        if shut is None or called.state("blower", after) in ("half", "open"):
            continue
        if before - shut >= _STARVED_S and after - before <= _STILL_S:
            shown.append(after)
    return shown


def rises_too_fast(called: Called) -> list[float]:
    """Faster than the owner allows, below half of the working pressure."""
    limit = called.engine.rise_limit_pa_per_s
    if limit is None:
        return []
    half = 0.5 * called.engine.working_pressure_gauge_pa / PSI_PA
    read = called.pressures()
    return [
        end for (begin, first), (end, last) in pairwise(read)
        if end - begin >= 60.0 and last <= half
        and (last - first) / (end - begin) > 1.1 * limit / PSI_PA
    ]  # fmt: skip


def tank_empty(called: Called) -> list[float]:
    """The tank is called empty."""
    return [at for at, left in called.readings("tank") if left <= 0.05]
