"""`footplate bench hear --part belief`: people's digits, recognised beside a boiler's belief.

The belief knows the pressure to about 10 psi (two standard deviations) and its mean is off by as
much; a value's chance is worked out as `belief.estimate` does, and a value four deviations away is
a jump that is asked about (a session asks sooner). Each person is recognised with an adapter that
was not trained on him, where there is such a file.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import partial
from pathlib import Path
from statistics import NormalDist

import numpy as np

from assistant.belief.estimate import FLAT
from assistant.lab.benches import recordings as bench_sounds
from assistant.lab.benches.decision_outcomes import DECISIONS, Outcomes, decide_trials
from assistant.lab.benches.hear_in_noise import digit_trial
from assistant.lab.benches.hear_people import level_name
from assistant.lab.benches.table import Column
from assistant.lab.benches.talk_trials import DecisionTrial, Utterances
from assistant.messages import Report
from assistant.recogniser.adapter import BUNDLED
from assistant.recogniser.constrained_whisper import ConstrainedWhisper, load_model
from assistant.recogniser.pipeline import RecognitionPipeline
from assistant.recogniser.snr import Noise
from assistant.simulator.noise import Surroundings

SPREAD_PSI = 5.0
DIAL_TOP_PSI = 200.0
STEP_PSI = 1.0
JUMP = 4.0  # deviations
BELIEF_LEVELS_DB = (20.0, 10.0)


@dataclass(frozen=True, slots=True)
class BeliefBench:
    """What to measure."""

    noise: Noise
    recordings: Path
    adapters: Path | None  # of files `without_PERSON.npz` that `footplate train` writes; or bundled
    levels: tuple[float, ...] = BELIEF_LEVELS_DB  # speech over noise [dB]
    count: int = 80  # of pressures, for each person and level


def chance_of(mean_psi: float, report: Report) -> float | None:
    """The prior probability of a pressure under a belief with this mean; None for other reports."""
    if report.what != "pressure" or not isinstance(report.value, float):
        return None
    belief = NormalDist(mean_psi, SPREAD_PSI)
    low, high = report.value - STEP_PSI / 2, report.value + STEP_PSI / 2
    inside = belief.cdf(high) - belief.cdf(low)
    return (1.0 - FLAT) * inside + FLAT * STEP_PSI / DIAL_TOP_PSI


def jump_objection(mean_psi: float, report: Report) -> str | None:
    """Why a pressure contradicts a belief with this mean; None where it does not."""
    if report.what != "pressure" or not isinstance(report.value, float):
        return None
    far = abs(report.value - mean_psi) > JUMP * SPREAD_PSI
    return f"{mean_psi:.0f} to {report.value:.0f}" if far else None


def mean_psi_for(number: int, value_psi: float) -> float:
    """The mean of the belief when that value is spoken [psi]."""
    off = np.random.default_rng([29, number]).normal(0.0, SPREAD_PSI)
    return max(0.0, value_psi + float(off))


def bench_lines(plan: BeliefBench, utterances: Utterances) -> Iterator[str]:
    """The tables, line by line; at the end what was taken wrongly."""
    yield (
        "people's digits as pressures, a boiler known to about 10 psi; best: right at once or, "
        "asked about, the right one"
    )
    yield _TABLE.header()
    everybody: dict[float, list[Outcomes]] = {}
    wrong: list[str] = []
    for person in bench_sounds.speakers(plan.recordings):
        file = plan.adapters / f"without_{person}.npz" if plan.adapters else BUNDLED
        if not file.is_file():
            yield f"{person}: no {file.name}; left out"
            continue
        pipeline = RecognitionPipeline(ConstrainedWhisper(load_model(adapters=file)))
        for level in plan.levels:
            outcomes = _outcomes(pipeline, utterances, plan, person, level)
            everybody.setdefault(level, []).append(outcomes)
            wrong += [f"{person}, {level_name(level)}: {line}" for line in outcomes.wrong]
            yield _row(f"{person} {level_name(level)}", [outcomes])
    for level, several in everybody.items():
        yield _row(f"all {level_name(level)}", several)
    yield from (f"wrong: {line}" for line in wrong)


def _outcomes(
    pipeline: RecognitionPipeline,
    utterances: Utterances,
    plan: BeliefBench,
    person: str,
    level: float,
) -> Outcomes:
    where = Surroundings(level, "mix", plan.noise)
    outcomes = Outcomes()
    for number, trial in enumerate(_pressure_trials(plan.recordings, person, where, plan.count)):
        assert isinstance(trial.meant, Report) and isinstance(trial.meant.value, float)
        mean_psi = mean_psi_for(number, trial.meant.value)
        outcomes.add(
            decide_trials(
                pipeline,
                utterances,
                [trial],
                partial(chance_of, mean_psi),
                partial(jump_objection, mean_psi),
            )
        )
    return outcomes


def _pressure_trials(
    recordings: Path, person: str, where: Surroundings, count: int
) -> Iterable[DecisionTrial]:
    """So many pressures, spoken digit by digit by one person."""
    return (digit_trial(recordings, person, where, [31, number]) for number in range(count))


_TABLE = DECISIONS.with_columns(Column("best%", 8, ".1f"))


def _row(name: str, several: list[Outcomes]) -> str:
    """The row of several outcomes together."""
    total = Outcomes()
    for outcomes in several:
        total.add(outcomes)
    trials = max(1, sum(total.counts.values()))
    best = 100 * (total.counts["right"] + total.counts["asked"]) / trials
    return _TABLE.row(name, *total.figures(), best)
