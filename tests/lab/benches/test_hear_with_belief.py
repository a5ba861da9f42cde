"""People's digits with a boiler's belief beside: the chance of a value, and the table."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from assistant.lab.benches import hear_with_belief
from assistant.lab.benches import recordings as bench_sounds
from assistant.lab.benches.hear_with_belief import (
    SPREAD_PSI,
    BeliefBench,
    bench_lines,
    chance_of,
    jump_objection,
    mean_psi_for,
)
from assistant.messages import Report
from assistant.recogniser.base import Sound
from assistant.simulator.noise import engine_noise


def of(value: float) -> Report:
    return Report("pressure", value, "psi")


def test_chances_of_all_values_add_up_and_are_widest_at_the_middle() -> None:
    every = [chance_of(100.0, of(float(value))) or 0.0 for value in range(201)]
    assert sum(every) == pytest.approx(1.0, abs=0.01)
    assert int(np.argmax(every)) == 100
    # NIST/SEMATECH e-handbook, 1.3.6.7.1: the normal distribution up to 2.1 is 0.98214.
    assert sum(every[90:111]) == pytest.approx(0.8 * (2 * 0.98214 - 1) + 0.2 * 21 / 200, abs=0.002)
    assert chance_of(100.0, Report("water", 0.5)) is None


def test_a_piece_of_a_number_is_a_jump() -> None:
    assert jump_objection(96.0, of(6.0)) == "96 to 6"
    assert jump_objection(96.0, of(84.0)) is None
    assert jump_objection(96.0, Report("water", 0.5)) is None


def test_the_belief_is_off_by_what_it_says_of_itself() -> None:
    off = [mean_psi_for(number, 100.0) - 100.0 for number in range(400)]
    assert float(np.std(off)) == pytest.approx(SPREAD_PSI, rel=0.1)
    assert abs(float(np.mean(off))) < 0.6
    assert mean_psi_for(3, 0.0) >= 0.0


def test_a_person_without_a_file_of_his_own_is_left_out(recordings: Path, tmp_path: Path) -> None:
    wanted = BeliefBench(engine_noise, recordings, tmp_path, (20.0,), 1)
    lines = list(bench_lines(wanted, lambda sound: [sound]))
    people = bench_sounds.speakers(recordings)
    assert sum("left out" in line for line in lines) == len(people)


@pytest.mark.ear
@pytest.mark.speech
def test_the_table_counts_everybody(recordings: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def whole(sound: Sound) -> list[Sound]:
        return [sound]

    monkeypatch.setattr(bench_sounds, "speakers", lambda folder: ["a"])
    rows = [
        line.split()
        for line in bench_lines(BeliefBench(engine_noise, recordings, None, (20.0,), 2), whole)
    ]
    own, everybody = (next(r for r in rows if r[0] == name) for name in ("a", "all"))
    assert own[3] == everybody[3] == "2"
    assert float(own[-1]) >= float(own[4])
    assert hear_with_belief.BELIEF_LEVELS_DB == (20.0, 10.0)
