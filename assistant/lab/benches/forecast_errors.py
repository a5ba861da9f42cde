"""How well the forecasts hold on steam-ups that were never seen: scores beside two plain rulers."""

from __future__ import annotations

import time
from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np

from assistant.belief import estimate, forecast
from assistant.boiler.figures import Engine
from assistant.boiler.scales import PRESSURE_PA
from assistant.boiler.steam import saturation_temperature_k
from assistant.simulator.steam_up import Rows, SteamUp, draw_habits, invented_engine, steam_up

LEAST_LEFT_S = 120.0  # below two minutes the person looks at the gauge, not at a forecast


@dataclass(frozen=True, slots=True)
class Case:
    """One question: how long to working pressure; the answer in minutes, or None."""

    left_min: float
    low: float | None
    mid: float | None
    high: float | None
    rulers: tuple[float | None, ...] = ()
    stage: str = ""


RULERS = ("psi, last 2", "saturation, last 2", "saturation, last 4")


def cases_of(
    engine: Engine, run: SteamUp, past: tuple[Rows, ...], per_run: int, seed: int
) -> list[Case]:
    """Questions at some of the moments when pressure was called, and at the lighting."""
    if run.reached_s is None:
        return []
    reached = run.reached_s
    moments = [i for i, (at, report) in enumerate(run.rows)
               if report.what == "pressure" and at < reached - LEAST_LEFT_S]  # fmt: skip
    lit = next(i for i, (_, report) in enumerate(run.rows) if report.value == "lit")
    draw = np.random.default_rng([seed, 14])
    chosen = {lit} | {int(i) for i in draw.permutation(moments)[: per_run - 1]}
    belief = estimate.begin(engine, 0.0, past)
    cases = []
    for i, (at_s, report) in enumerate(run.rows):
        belief = estimate.update(belief, report, at_s)
        if i in chosen:
            cases.append(_case(engine, belief, run, i, _stage(belief)))
    return cases


def _stage(belief: estimate.Belief) -> str:
    pressures = belief.history.pressures
    if not pressures:
        return "lit"
    return "moving" if pressures[-1].gauge_pa > 0.0 else "needle at rest"


def _case(engine: Engine, belief: estimate.Belief, run: SteamUp, i: int, stage: str) -> Case:
    answer = forecast.minutes_to(belief, engine.working_pressure_gauge_pa).band
    assert run.reached_s is not None
    left = (run.reached_s - run.rows[i][0]) / 60.0
    rulers = straight_lines(run.rows[: i + 1], engine)
    if answer is None:
        return Case(left, None, None, None, rulers, stage)
    return Case(left, answer.low, answer.mid, answer.high, rulers, stage)


def straight_lines(rows: Rows, engine: Engine) -> tuple[float | None, ...]:
    """Minutes by a line in psi (last 2) and in saturation temperature (last 2, last 4)."""
    called = [
        (at, float(r.value) * PRESSURE_PA[r.unit or ""])
        for at, r in rows
        if r.what == "pressure" and not isinstance(r.value, str)
    ]

    def kelvin(gauge_pa: float) -> float:
        return float(saturation_temperature_k(gauge_pa + engine.atmosphere_pa))

    target = engine.working_pressure_gauge_pa
    hot = [(at, kelvin(p)) for at, p in called]
    return (
        _line(called[-2:], target, 2),
        _line(hot[-2:], kelvin(target), 2),
        _line(hot[-4:], kelvin(target), 4),
    )


def _line(points: list[tuple[float, float]], target: float, least: int) -> float | None:
    if len(points) < least:
        return None
    at, value = np.array([p[0] for p in points]), np.array([p[1] for p in points])
    slope = float(np.polyfit(at - at[-1], value, 1)[0]) if np.ptp(at) > 0.0 else 0.0
    return (target - float(value[-1])) / slope / 60.0 if slope > 1e-9 else None


@dataclass(frozen=True, slots=True)
class Score:
    """Of one method: |error| / minutes left at the middle and at 90 %, and what was left open."""

    name: str
    cases: int
    median: float
    ninetieth: float
    held: float | None
    unanswered: float


def score(name: str, cases: Iterable[Case], ruler: int | None = None) -> Score:
    """Score of the forecasts, or of one of the rulers, on the same cases."""
    all_cases = list(cases)
    mids = [c.mid if ruler is None else c.rulers[ruler] for c in all_cases]
    errors = [
        abs(mid - c.left_min) / c.left_min
        for c, mid in zip(all_cases, mids, strict=True)
        if mid is not None
    ]
    held = [
        c.low <= c.left_min <= c.high for c in all_cases if c.low is not None and c.high is not None
    ]
    return Score(
        name,
        len(all_cases),
        float(np.median(errors)) if errors else float("nan"),
        float(np.quantile(errors, 0.9)) if errors else float("nan"),
        float(np.mean(held)) if ruler is None and held else None,
        1.0 - len(errors) / max(len(all_cases), 1),
    )


@dataclass(frozen=True)
class Bench:
    """All cases, by how many earlier runs were known, and the time of an update."""

    by_past: dict[int, list[Case]]
    update_ms: float

    def scores(self) -> list[Score]:
        """The forecasts for each number of earlier runs, then the rulers on the same cases."""
        lines = [
            score(f"forecast, {past} earlier runs", cases) for past, cases in self.by_past.items()
        ]
        every = next(iter(self.by_past.values()))
        return lines + [score(f"line in {name}", every, i) for i, name in enumerate(RULERS)]

    def table(self) -> str:
        """The scores as lines of text."""
        head = f"{'method':<34}{'cases':>6}{'median':>8}{'90 %':>8}{'held':>7}{'open':>7}"
        rows = [
            f"{s.name:<34}{s.cases:>6}{s.median:>8.3f}{s.ninetieth:>8.3f}"
            f"{'-' if s.held is None else format(s.held, '.2f'):>7}{s.unanswered:>7.2f}"
            for s in self.scores()
        ]
        return "\n".join([head, *rows, f"an update and a forecast: {self.update_ms:.1f} ms"])


JUDGED = range(17000, 17200)  # engines on which nothing was chosen; take new ones once they were


def bench(
    engine_seeds: Iterable[int] = JUDGED,
    pasts: tuple[int, ...] = (0, 3),
    runs: int = 1,
    per_run: int = 8,
) -> Bench:
    """Simulated steam-ups of invented engines; the earlier runs are of the same engine and hand."""
    by_past: dict[int, list[Case]] = {past: [] for past in pasts}
    for engine_seed in engine_seeds:
        engine = invented_engine(engine_seed)
        of = draw_habits(engine_seed, (1.0, 1.3, 2.0)[engine_seed % 3])
        logged = [steam_up(engine, engine_seed, 100 + day, of).rows for day in range(max(pasts))]
        for day in range(runs):
            run = steam_up(engine, engine_seed, day, of)
            for past in pasts:
                known = tuple(logged[:past])
                by_past[past] += cases_of(engine, run, known, per_run, 10 * engine_seed + day)
    return Bench(by_past, update_ms())


def update_ms() -> float:
    """Milliseconds for one update and the forecast after it, late in a long run. Reads a clock."""
    engine = invented_engine(1)
    run = steam_up(engine, 1, 1, draw_habits(1, 1.3))
    belief = estimate.begin(engine, 0.0)
    took = []
    for at_s, report in run.rows:
        began = time.perf_counter()
        belief = estimate.update(belief, report, at_s)
        forecast.minutes_to(belief, engine.working_pressure_gauge_pa)
        took.append(time.perf_counter() - began)
    return 1000.0 * float(np.median(took))
