"""How much steam an engine at work has taken at the least. Pure; by reports and file alone.

The other bound to `loss.most_used`: what a careful person is sure has gone from the glass. Knows no
alarm.
"""

from __future__ import annotations

from itertools import pairwise

from assistant.boiler.figures import Engine
from assistant.picture.heat import BURNING
from assistant.picture.loss import KG_PER_M3, boiled_per_s
from assistant.picture.readings import pressures
from assistant.picture.report_log import ReportLog

# The least that is taken with the regulator open, in parts of the evaporation at full fire;
# judgement. A tick-over hardly shows. Where the pressure stands under a fire that has air, the
# engine takes what that fire makes, and more after fresh coal: else the pressure would rise.
TICK_OVER, DRAUGHT, COALED = 0.05, 0.25, 0.4
COALED_S = 600.0  # so long fresh coal burns up. Judgement
STEADY = 0.05  # of working pressure: calls this near show a pressure that stands. Judgement
AIR = frozenset({"half", "open"})
HELD = frozenset({"banked", "burning alone"})  # fires that make little


def least_used(log: ReportLog, engine: Engine, from_s: float, to_s: float) -> float:
    """What steam took at the least between two times [of the glass]; 0 where no rate is known."""
    if not engine.fire_rate_w:
        return 0.0
    told = [t for what in ("regulator", "damper", "fire") for t in log.of(what)]
    coaled = [t.at for t in log.of("fire") if t.report.value == "coal"]
    edges = {t.at for t in told} | {at + COALED_S for at in coaled}
    times = [from_s, *sorted(at for at in edges if from_s < at < to_s), to_s]
    steady = _steady(log, engine, from_s, to_s)
    full_s = 0.0
    for began, ended in pairwise(times):
        if _state(log, "regulator", began) == "open":
            full_s += (ended - began) * _part(log, began, steady)
    return full_s * boiled_per_s(engine, KG_PER_M3)


def _part(log: ReportLog, at: float, steady: bool) -> float:
    fire = _state(log, "fire", at)
    burns = fire in BURNING - HELD
    if not steady or not burns or _state(log, "damper", at) not in AIR:
        return TICK_OVER
    coaled = [t.at for t in log.of("fire") if t.report.value == "coal" and t.at <= at]
    return COALED if coaled and at - coaled[-1] < COALED_S else DRAUGHT


def _steady(log: ReportLog, engine: Engine, from_s: float, to_s: float) -> bool:
    """Whether the pressure was called, and stood, from about the one time to about the other."""
    called = pressures(log, engine)
    before = [r for r in called if r.at <= from_s][-1:]
    values = [r.value or 0.0 for r in (*before, *(r for r in called if from_s < r.at <= to_s))]
    near = STEADY * engine.working_pressure_gauge_pa
    return len(values) > 1 and values[-1] > 0.0 and max(values) - min(values) <= near + 1.0


def _state(log: ReportLog, what: str, at: float) -> str:
    """What was last told of it at that time; empty: nothing."""
    told = [t for t in log.of(what) if t.at <= at]
    return str(told[-1].report.value) if told else ""
