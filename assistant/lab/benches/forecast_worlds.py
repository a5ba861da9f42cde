"""How forecasts hold in worlds of different make, on real records and on another's steam-ups."""

from __future__ import annotations

import json
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

import numpy as np

from assistant.belief import estimate
from assistant.boiler.scales import PSI_PA
from assistant.config.engine_file import load_engine
from assistant.config.readings_file import read_readings
from assistant.lab.benches import timed_records
from assistant.lab.benches.forecast_errors import ForecastCase, answered, cases_of
from assistant.lab.benches.table import Column, ResultTable
from assistant.lab.outside import forecast_folder
from assistant.lab.worlds.world_list import WORLDS, World

PER_RUN = 10  # questions of a steam-up at most
FIRST_SEED = 500  # of the engines that judge; those before are for fitting

_TABLE = ResultTable(
    34,
    Column("cases", 6),
    Column("median", 8, ".3f"),
    Column("bias", 8, "+.3f"),
    Column("held", 7, ".2f"),
    Column("above", 7, ".2f"),
    Column("crps", 7, ".3f"),
    Column("ruled", 7),
    Column("ours", 7, ".3f"),
    Column("ruler", 7, ".3f"),
    Column("open", 6, ".2f"),
    corner="world",
)
LEGEND = (
    "median: of |error| / time left; bias: median log(forecast / true); held: true within the "
    "10-90 % band;",
    "above: true above it; crps: mean ranked probability score / time left; ruled: cases that the "
    "ruler answers,",
    "ours and ruler: median |error| / time left on those; open: unanswered.",
)


@dataclass(frozen=True, slots=True)
class WorldScore:
    """How well the forecasts of one world were answered; NaN where nothing was."""

    cases: int
    median: float
    """of |error| / time left"""
    bias: float
    """median log(forecast / true)"""
    held: float
    """share of the 10-90 % bands with the truth inside"""
    above: float
    """share of the bands with the truth above"""
    crps: float
    """mean of the ranked probability score / time left"""
    ruled: int
    """cases that the ruler answers"""
    ours_ruled: float
    """`median` on those"""
    ruler: float
    """the ruler's"""
    unanswered: float
    """share of the cases"""


def scored(cases: Sequence[ForecastCase]) -> WorldScore:
    """The score of these cases."""
    said = [c for c in cases if c.low is not None and c.mid is not None and c.high is not None]
    ruled = [c for c in said if c.ruler is not None]
    inside = [float(c.low or 0.0) <= c.left_min <= float(c.high or 0.0) for c in said]
    over = [c.left_min > float(c.high or 0.0) for c in said]
    return WorldScore(
        len(cases),
        _median(_error(c, c.mid) for c in said),
        _median(np.log(max(c.mid or 0.0, 1e-3) / c.left_min) for c in said),
        _mean(inside),
        _mean(over),
        _mean((c.crps or 0.0) / c.left_min for c in said),
        len(ruled),
        _median(_error(c, c.mid) for c in ruled),
        _median(_error(c, c.ruler) for c in ruled),
        1.0 - len(said) / max(len(cases), 1),
    )


def _error(case: ForecastCase, answer: float | None) -> float:
    return abs((answer or 0.0) - case.left_min) / case.left_min


def _median(values: Iterable[float]) -> float:
    listed = list(values)
    return float(np.median(listed)) if listed else float("nan")


def _mean(values: Iterable[float]) -> float:
    listed = list(values)
    return float(np.mean(listed)) if listed else float("nan")


def _row(name: str, cases: Sequence[ForecastCase]) -> str:
    s = scored(cases)
    values = (s.cases, s.median, s.bias, s.held, s.above, s.crps, s.ruled, s.ours_ruled, s.ruler)
    return _TABLE.row(name, *values, s.unanswered)


def world_cases(
    world: World, seeds: Iterable[int], past: int, per_run: int = PER_RUN
) -> list[ForecastCase]:
    """Questions of one steam-up of each engine, so many earlier ones of it known."""
    cases = []
    for seed in seeds:
        earlier = tuple(world.steam_up(seed, 100 + day).rows for day in range(past))
        run = world.steam_up(seed, 0)
        cases += cases_of(world.engine_of(seed), run, earlier, per_run, seed)
    return cases


def world_lines(steamups: int) -> Iterator[str]:
    """Each world, first time and after three logs."""
    yield _TABLE.header()
    seeds = range(FIRST_SEED, FIRST_SEED + steamups)
    for past in (0, 3):
        for world in WORLDS:
            name = f"{world.name}, {past} earlier runs"
            yield _row(name, world_cases(world, seeds, past))
    yield from LEGEND


def record_lines() -> Iterator[str]:
    """The real records: each half, those of a kept-up fire, and after one earlier run."""
    path = forecast_folder() / "reference" / "records" / "records.yaml"
    if not path.is_file():
        yield f"left out: no {path.name}; FOOTPLATE_OUTSIDE_DATA names the folder that has it"
        return
    records = timed_records.read_records(path)
    asked = timed_records.after_readings(records)
    yield _TABLE.header()
    for name, fitted in (("fitting half", True), ("judging half", False)):
        yield _row(f"records, {name}", [c for r, c in asked if r.fitted is fitted])
    first: dict[str, ForecastCase] = {}
    for record, case in asked:
        first.setdefault(record.name, case)
    yield _row("records, fire kept up", [first[name] for name in timed_records.KEPT_UP])
    again = timed_records.after_an_earlier_run(records)
    yield _row("records, lit, one earlier run", [case for _, case in again])
    cold = [timed_records.question(r, 0) for r in records if r.pairs[0][0] > 0.0]
    yield _row("records, lit, nothing known", cold)
    yield from LEGEND
    yield ""
    for record, case in (*asked, *again):
        yield _one(record, case)


def _one(record: timed_records.TimedRecord, case: ForecastCase) -> str:
    half = "fit" if record.fitted else "judge"
    if case.low is None or case.mid is None or case.high is None:
        said = "no answer"
    else:
        said = (
            f"{case.low:.1f} {case.mid:.1f} {case.high:.1f}, ratio {case.mid / case.left_min:.2f}"
        )
    return f"{half:<6}{record.name:<32} took {case.left_min:6.1f} min, told {said}"


def steamup_lines() -> Iterator[str]:
    """Steam-ups of an independent simulator, first time and after three logs of the engine."""
    folder = forecast_folder() / "steamups"
    if not (folder / "truth.json").is_file():
        yield "left out: no steamups/truth.json; FOOTPLATE_OUTSIDE_DATA names its folder"
        return
    yield _TABLE.header()
    for past in (0, 3):
        yield _row(f"steam-ups, {past} earlier runs", steamup_cases(folder, past))
    yield from LEGEND


def steamup_cases(folder: Path, past: int) -> list[ForecastCase]:
    """The questions of truth.json. Raises the errors of a file that is wrong."""
    cases = []
    for asked in json.loads((folder / "truth.json").read_text(encoding="utf-8")):
        engine = load_engine(folder / f"{asked['engine']}.yaml").engine
        logs = [folder / f"{asked['engine']}_past{i}.csv" for i in range(past)]
        earlier = tuple(read_readings(log, engine).rows for log in logs)
        belief = estimate.begin(engine, 0.0, earlier)
        rows = read_readings(folder / f"{asked['file']}.csv", engine).rows
        for at_s, report in rows:
            belief = estimate.update(belief, report, at_s)
        cases.append(answered(belief, asked["target"] * PSI_PA, asked["left_min"], tuple(rows)))
    return cases


def bench_lines(part: str, steamups: int) -> Iterator[str]:
    """The lines of one of `PARTS`."""
    lines: dict[str, Callable[[], Iterator[str]]] = {
        "worlds": lambda: world_lines(steamups),
        "records": record_lines,
        "steamups": steamup_lines,
    }
    return lines[part]()
