"""What `footplate bench hear --part belief` measures: people's digits and a boiler's belief.

The belief stands for a boiler that is known to about 10 psi (two standard deviations), its middle
off by as much; a value's chance is worked out as `boiler.estimate` does it, and what lies four
deviations off is a jump that is asked about (the house does so sooner). Each person is heard by
an ear that never learnt from him where there is such a file. Knows recordings, ears and decisions.
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
from assistant.lab.benches.hear_in_noise import digits_in_noise
from assistant.lab.benches.hear_people import level_name
from assistant.lab.benches.talk_decisions import HEADER, DecisionTrial, Outcomes, Utterances, judged
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
    """What to measure. runs: a folder of files `without_PERSON.npz`, as `footplate train` leaves
    them; None for the ear as it ships, which has learnt from everybody. count: for each person and
    level."""

    noise: Noise
    recordings: Path
    runs: Path | None
    levels: tuple[float, ...] = BELIEF_LEVELS_DB
    count: int = 80


def chance_of(middle_psi: float, report: Report) -> float | None:
    """How probable a pressure [psi] is to a belief that stands there; None for any other report."""
    if report.what != "pressure" or not isinstance(report.value, float):
        return None
    belief = NormalDist(middle_psi, SPREAD_PSI)
    low, high = report.value - STEP_PSI / 2, report.value + STEP_PSI / 2
    inside = belief.cdf(high) - belief.cdf(low)
    return (1.0 - FLAT) * inside + FLAT * STEP_PSI / DIAL_TOP_PSI


def objection_to(middle_psi: float, report: Report) -> str | None:
    """Why a pressure [psi] is no place for the boiler to be; None where it may be one."""
    if report.what != "pressure" or not isinstance(report.value, float):
        return None
    far = abs(report.value - middle_psi) > JUMP * SPREAD_PSI
    return f"{middle_psi:.0f} to {report.value:.0f}" if far else None


def middle_for(number: int, value_psi: float) -> float:
    """Where the belief stands when that value is said [psi]."""
    off = np.random.default_rng([29, number]).normal(0.0, SPREAD_PSI)
    return max(0.0, value_psi + float(off))


def bench_lines(wanted: BeliefBench, utterances: Utterances) -> Iterator[str]:
    """The tables, line by line; at the end what was taken wrongly."""
    yield (
        "people's digits as pressures, a boiler known to about 10 psi; best: right at once or, "
        "asked about, the right one"
    )
    yield f"{HEADER}{'best%':>8}"
    everybody: dict[float, list[Outcomes]] = {}
    wrong: list[str] = []
    for person in bench_sounds.speakers(wanted.recordings):
        file = wanted.runs / f"without_{person}.npz" if wanted.runs else BUNDLED
        if not file.is_file():
            yield f"{person}: no {file.name}; left out"
            continue
        hearer = RecognitionPipeline(ConstrainedWhisper(load_model(adapters=file)))
        for level in wanted.levels:
            found = _judged(hearer, utterances, wanted, person, level)
            everybody.setdefault(level, []).append(found)
            wrong += [f"{person}, {level_name(level)}: {line}" for line in found.wrong]
            yield _row(f"{person} {level_name(level)}", [found])
    for level, several in everybody.items():
        yield _row(f"all {level_name(level)}", several)
    yield from (f"wrong: {line}" for line in wrong)


def _judged(
    hearer: RecognitionPipeline,
    utterances: Utterances,
    wanted: BeliefBench,
    person: str,
    level: float,
) -> Outcomes:
    where = Surroundings(level, "mix", wanted.noise)
    found = Outcomes()
    for number, trial in enumerate(_said(wanted.recordings, person, where, wanted.count)):
        assert isinstance(trial.meant, Report) and isinstance(trial.meant.value, float)
        middle = middle_for(number, trial.meant.value)
        found.add(
            judged(
                hearer,
                utterances,
                [trial],
                partial(chance_of, middle),
                partial(objection_to, middle),
            )
        )
    return found


def _said(
    recordings: Path, person: str, where: Surroundings, count: int
) -> Iterable[DecisionTrial]:
    """So many pressures said digit by digit by one person."""
    return (digits_in_noise(recordings, person, where, [31, number]) for number in range(count))


def _row(name: str, several: list[Outcomes]) -> str:
    """One row of the table, in per cent."""
    whole = Outcomes()
    for found in several:
        whole.add(found)
    trials = max(1, sum(whole.counts.values()))
    best = 100 * (whole.counts["right"] + whole.counts["asked"]) / trials
    return f"{whole.line(name)}{best:>8.1f}"
