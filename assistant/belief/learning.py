"""What earlier runs of one engine say about all its steam-ups. Knows no file."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace

import numpy as np

from assistant.belief.bands import Array
from assistant.belief.draught import is_logged
from assistant.belief.history import Acts, History, fact_of
from assistant.belief.prior import (
    SPREADS,
    Shared,
    first_shared,
    run_covariance,
    run_mean,
    typical_rise_s,
)
from assistant.belief.rate_fit import Posterior, posterior
from assistant.belief.segments import segments_of
from assistant.belief.temperature_grid import COLD_K, grid_of
from assistant.boiler import glass
from assistant.boiler.figures import Engine
from assistant.boiler.vessel import boiling_k
from assistant.messages import Report

EarlierRun = Sequence[tuple[float, Report]]


def past_run(rows: Iterable[tuple[float, Report]]) -> tuple[tuple[float, Report], ...]:
    """One earlier run, in order of time.

    Raises ValueError when it can teach nothing: no fire lit, or fewer than two pressures after it.
    """
    run = tuple(sorted(rows, key=lambda row: row[0]))
    lit = [at for at, report in run if (report.what, report.value) == ("fire", "lit")]
    if not lit:
        raise ValueError("an earlier run without the time of lighting teaches nothing")
    if sum(1 for at, report in run if report.what == "pressure" and at > lit[0]) < 2:
        raise ValueError("an earlier run with fewer than two pressures teaches nothing")
    return run


def filled_kg(engine: Engine, history: History) -> float:
    """Water at the start [kg]: by the last glass before lighting, otherwise the first while cold.

    An engine taken over warm: by its first glass at its first pressure. No glass: the cold fill.
    """
    levels = [w for w in history.waters if w.height is not None]
    risen = [p for p in history.pressures if p.gauge_pa > 0.0]
    lit_s, kelvin = history.lit_s, COLD_K
    height: float | None = engine.glass.cold_fill
    before = [w for w in levels if lit_s is not None and w.at_s <= lit_s]
    if before:
        height = before[-1].height
    elif levels and lit_s is None and risen:
        height, kelvin = levels[0].height, boiling_k(risen[0].gauge_pa, engine.atmosphere_pa)
    elif levels and (not risen or levels[0].at_s < risen[0].at_s):
        height = levels[0].height
    return glass.water_shown_kg(engine, float(height or 0.0), kelvin)


def history_of(engine: Engine, run: EarlierRun) -> History:
    """The usable part of a run."""
    history = History()
    for at_s, report in run:
        fact = fact_of(engine, report, at_s)
        history = history if fact is None else history.with_fact(fact)
    return history


def learned(engine: Engine, past: Sequence[EarlierRun]) -> Shared:
    """What all steam-ups of this engine share, after these runs.

    In two passes: how alike the runs are is known only when all of them were seen.
    """
    filled = glass.water_shown_kg(engine, engine.glass.cold_fill, COLD_K)
    first = first_shared(engine, grid_of(engine, filled))
    histories = [_raising(engine, history_of(engine, run)) for run in past]
    usable = [h for h in histories if h.lit_s is not None and len(h.pressures) > 1]
    logs = _after_runs(engine, first, usable, None).logs
    return replace(_after_runs(engine, first, usable, logs), logs=logs)


def _after_runs(
    engine: Engine, shared: Shared, histories: Sequence[History], logs: Array | None
) -> Shared:
    """The shared part conditioned on each run in turn. logs: of the spreads, where known."""
    for history in histories:
        grid = grid_of(engine, filled_kg(engine, history))
        segmented = segments_of(engine, history, grid, history.last_s)
        draught = segmented.draught(history, shared.typical_draught)
        run = posterior(grid, shared, segmented.segments, segmented.bounds, draught)
        if logs is not None:
            weight = np.exp(logs - logs.max())
            run = replace(run, weight=weight / weight.sum())
        after = _conditioned(shared, run, draught)
        logged = is_logged(history)
        typical = shared.typical_draught.after(draught) if logged else shared.typical_draught
        shared = replace(after, typical_draught=typical)
    return shared


def _raising(engine: Engine, history: History) -> History:
    """The part up to working pressure: beyond it the fire is held back."""
    full = (p.at_s for p in history.pressures if p.gauge_pa >= engine.working_pressure_gauge_pa)
    end = next(full, history.last_s)
    return replace(
        history,
        pressures=tuple(p for p in history.pressures if p.at_s <= end),
        acts=Acts(a for a in history.acts if a.at_s <= end),
    )


def _conditioned(shared: Shared, run: Posterior, draught: Array) -> Shared:
    """Gaussian conditioning of the shared part on one run, for each spread, then one Gaussian."""
    typical, typical_covariance, design = shared.run_prior(draught)
    size = len(typical)
    means, covariances = [], []
    for g, spread in enumerate(SPREADS):
        prior = (
            typical_covariance
            + run_covariance(spread, typical_rise_s(run.grid, typical))
            + 1e-9 * np.eye(size)
        )
        gain = np.linalg.solve(prior, design @ shared.covariance).T
        moved = run.mean[g, :size] - run_mean(typical, spread)
        means.append(shared.mean + gain @ moved)
        left = prior - run.covariance[g, :size, :size]
        covariances.append(shared.covariance - gain @ left @ gain.T)
    mean = sum(w * m for w, m in zip(run.weight, means, strict=True))
    covariance = sum(
        w * (c + np.outer(m - mean, m - mean))
        for w, m, c in zip(run.weight, means, covariances, strict=True)
    )
    symmetric = (np.asarray(covariance) + np.asarray(covariance).T) / 2.0
    logs = shared.logs + run.logs
    return Shared(np.asarray(mean), symmetric, shared.typical_draught, shared.runs + 1, logs)
