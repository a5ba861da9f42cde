"""How well forecasts hold on unseen simulated steam-ups, beside straight-line baselines."""

from __future__ import annotations

import time
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Protocol

import numpy as np

from assistant.belief import estimate, forecast
from assistant.belief.bands import Array
from assistant.belief.temperature_grid import COLD_K
from assistant.boiler.figures import Engine
from assistant.boiler.scales import PRESSURE_PA
from assistant.boiler.vessel import boiling_k
from assistant.lab.benches.table import Column, ResultTable
from assistant.simulator.steam_up import Rows, draw_habits, invented_engine, steam_up

LEAST_LEFT_S = 120.0  # nearer than this the operator looks at the gauge, not at a forecast


@dataclass(frozen=True, slots=True)
class ForecastCase:
    """One question: how many minutes to working pressure, and the answers."""

    left_min: float  # what it took in truth
    low: float | None  # the forecast's band; None where there was no forecast
    mid: float | None
    high: float | None
    baselines: tuple[float | None, ...] = ()  # the answer of each of `BASELINES`
    stage: str = ""  # of the steam-up: "lit", "needle at rest" or "moving"
    crps: float | None = None  # continuous ranked probability score [min]; None: no forecast
    ruler: float | None = None  # the answer of `mean_rise_minutes`


BASELINES = ("psi, last 2", "saturation, last 2", "saturation, last 4")


class Called(Protocol):
    """A steam-up as it was called."""

    @property
    def rows(self) -> Rows:
        """The reports with their times."""

    @property
    def reached_s(self) -> float | None:
        """When working pressure was reached; None: it was not."""


def cases_of(
    engine: Engine, run: Called, past: tuple[Rows, ...], per_run: int, seed: int
) -> list[ForecastCase]:
    """Questions at the lighting and at some of the moments when pressure was called."""
    if run.reached_s is None:
        return []
    reached_s = run.reached_s
    moments = [i for i, (at, report) in enumerate(run.rows)
               if report.what == "pressure" and at < reached_s - LEAST_LEFT_S]  # fmt: skip
    lit = next(i for i, (_, report) in enumerate(run.rows) if report.value == "lit")
    rng = np.random.default_rng([seed, 14])
    chosen = {lit} | {int(i) for i in rng.permutation(moments)[: per_run - 1]}
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


def _case(engine: Engine, belief: estimate.Belief, run: Called, i: int, stage: str) -> ForecastCase:
    assert run.reached_s is not None
    left_min = (run.reached_s - run.rows[i][0]) / 60.0
    rows, target = run.rows[: i + 1], engine.working_pressure_gauge_pa
    return answered(belief, target, left_min, rows, stage)


def answered(
    belief: estimate.Belief, target_gauge_pa: float, left_min: float, rows: Rows, stage: str = ""
) -> ForecastCase:
    """One question put to the forecast, the lines and the ruler, with the true answer [min]."""
    engine = belief.engine
    lines = straight_lines(rows, engine, target_gauge_pa)
    ruler = mean_rise_minutes(rows, engine, target_gauge_pa)
    answer = forecast.minutes_to(belief, target_gauge_pa).band
    if answer is None:
        return ForecastCase(left_min, None, None, None, lines, stage, None, ruler)
    draws = forecast.minute_draws(belief, target_gauge_pa)
    score = ranked_score(draws, belief.outlook.weight, left_min)
    band = answer.low, answer.mid, answer.high
    return ForecastCase(left_min, *band, lines, stage, score, ruler)


def ranked_score(draws: Array, weight: Array, true: float) -> float:
    """Continuous ranked probability score of weighted draws, in their unit; 0 is perfect.

    Mean distance to the truth less half the mean distance of two draws (Gneiting and Raftery,
    Strictly proper scoring rules, 2007).

    >>> round(ranked_score(np.array([1.0, 3.0]), np.array([0.5, 0.5]), 2.0), 3)
    0.5
    """
    order = np.argsort(draws, kind="stable")
    x, w = draws[order], weight[order] / weight.sum()
    below = np.cumsum(w) - w
    spread = float(np.sum(w * x * (2.0 * below + w - 1.0)))
    return float(np.sum(w * np.abs(x - true))) - spread


def straight_lines(
    rows: Rows, engine: Engine, target_gauge_pa: float | None = None
) -> tuple[float | None, ...]:
    """Minutes to a pressure, the working one by default, by each of `BASELINES`."""
    pressures = _pressures_pa(rows)

    def kelvin(gauge_pa: float) -> float:
        return boiling_k(gauge_pa, engine.atmosphere_pa)

    target = target_gauge_pa or engine.working_pressure_gauge_pa
    temperatures = [(at, kelvin(p)) for at, p in pressures]
    return (
        _line(pressures[-2:], target, 2),
        _line(temperatures[-2:], kelvin(target), 2),
        _line(temperatures[-4:], kelvin(target), 4),
    )


def mean_rise_minutes(rows: Rows, engine: Engine, target_gauge_pa: float) -> float | None:
    """Minutes to a pressure by the plainest ruler: the mean rise of the boiling temperature since
    lighting goes on. None before the needle has moved."""
    lit = [at for at, r in rows if (r.what, r.value) == ("fire", "lit")]
    pressures = _pressures_pa(rows)
    if not lit or not pressures or pressures[-1][1] <= 0.0 or pressures[-1][0] <= lit[0]:
        return None
    at_s, now_pa = pressures[-1]
    now_k, target_k = (boiling_k(p, engine.atmosphere_pa) for p in (now_pa, target_gauge_pa))
    k_per_s = (now_k - COLD_K) / (at_s - lit[0])
    return max(target_k - now_k, 0.0) / k_per_s / 60.0


def _pressures_pa(rows: Rows) -> list[tuple[float, float]]:
    """Times [s] and pressures [Pa gauge] of the calls of the gauge."""
    return [
        (at, float(r.value) * PRESSURE_PA[r.unit or ""])
        for at, r in rows
        if r.what == "pressure" and not isinstance(r.value, str)
    ]


def _line(points: list[tuple[float, float]], target: float, least: int) -> float | None:
    if len(points) < least:
        return None
    at, value = np.array([p[0] for p in points]), np.array([p[1] for p in points])
    slope = float(np.polyfit(at - at[-1], value, 1)[0]) if np.ptp(at) > 0.0 else 0.0
    return (target - float(value[-1])) / slope / 60.0 if slope > 1e-9 else None


@dataclass(frozen=True, slots=True)
class ForecastScore:
    """How well one method answered."""

    name: str
    cases: int
    median: float  # of |error| / minutes left
    ninetieth: float  # 90th percentile of the same
    held: float | None  # share of the bands that held the truth; None for a baseline
    unanswered: float  # share of the cases


def score_cases(
    name: str, cases: Iterable[ForecastCase], baseline: int | None = None
) -> ForecastScore:
    """The score of the forecasts, or of one of the baselines, on the same cases."""
    all_cases = list(cases)
    mids = [c.mid if baseline is None else c.baselines[baseline] for c in all_cases]
    errors = [
        abs(mid - c.left_min) / c.left_min
        for c, mid in zip(all_cases, mids, strict=True)
        if mid is not None
    ]
    held = [
        c.low <= c.left_min <= c.high for c in all_cases if c.low is not None and c.high is not None
    ]
    return ForecastScore(
        name,
        len(all_cases),
        float(np.median(errors)) if errors else float("nan"),
        float(np.quantile(errors, 0.9)) if errors else float("nan"),
        float(np.mean(held)) if baseline is None and held else None,
        1.0 - len(errors) / max(len(all_cases), 1),
    )


_TABLE = ResultTable(
    34,
    Column("cases", 6),
    Column("median", 8, ".3f"),
    Column("90 %", 8, ".3f"),
    Column("held", 7, ".2f"),
    Column("open", 7, ".2f"),
    corner="method",
)


@dataclass(frozen=True)
class ForecastBench:
    """All cases, and the time of an update."""

    by_past: dict[int, list[ForecastCase]]  # by how many earlier runs were known
    update_ms: float

    def scores(self) -> list[ForecastScore]:
        """The forecasts for each number of earlier runs, then the baselines on the same cases."""
        forecasts = [
            score_cases(f"forecast, {past} earlier runs", cases)
            for past, cases in self.by_past.items()
        ]
        every = next(iter(self.by_past.values()))
        return forecasts + [
            score_cases(f"line in {name}", every, i) for i, name in enumerate(BASELINES)
        ]

    def lines(self) -> Iterator[str]:
        """The scores as a table, and the time of an update."""
        yield _TABLE.header()
        for s in self.scores():
            yield _TABLE.row(s.name, s.cases, s.median, s.ninetieth, s.held, s.unanswered)
        yield f"an update and a forecast: {self.update_ms:.1f} ms"


HELD_OUT_ENGINES = range(
    17000, 17200
)  # engines on which nothing was tuned; take new ones once something is


def measure_forecasts(
    engine_seeds: Iterable[int] = HELD_OUT_ENGINES,
    pasts: tuple[int, ...] = (0, 3),
    runs: int = 1,
    per_run: int = 8,
) -> ForecastBench:
    """Steam-ups of invented engines; the earlier runs are of the same engine and operator."""
    by_past: dict[int, list[ForecastCase]] = {past: [] for past in pasts}
    for engine_seed in engine_seeds:
        engine = invented_engine(engine_seed)
        operator = draw_habits(engine_seed, (1.0, 1.3, 2.0)[engine_seed % 3])
        earlier = [
            steam_up(engine, engine_seed, 100 + day, operator).rows for day in range(max(pasts))
        ]
        for day in range(runs):
            run = steam_up(engine, engine_seed, day, operator)
            for past in pasts:
                known = tuple(earlier[:past])
                by_past[past] += cases_of(engine, run, known, per_run, 10 * engine_seed + day)
    return ForecastBench(by_past, update_ms())


def bench_lines(engine_seeds: Iterable[int] = HELD_OUT_ENGINES, runs: int = 1) -> Iterator[str]:
    """The table, once all of it is measured."""
    yield from measure_forecasts(engine_seeds, runs=runs).lines()


def update_ms() -> float:
    """Milliseconds for one update and the forecast after it, over a long run. Reads the clock."""
    engine = invented_engine(1)
    run = steam_up(engine, 1, 1, draw_habits(1, 1.3))
    belief = estimate.begin(engine, 0.0)
    seconds = []
    for at_s, report in run.rows:
        began = time.perf_counter()
        belief = estimate.update(belief, report, at_s)
        forecast.minutes_to(belief, engine.working_pressure_gauge_pa)
        seconds.append(time.perf_counter() - began)
    return 1000.0 * float(np.median(seconds))
