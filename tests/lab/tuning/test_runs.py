"""Runs with somebody held out: how many steps the last run takes, and the row of the table."""

from __future__ import annotations

import math

from assistant.enrolment.spec_augment import SpecAugment
from assistant.enrolment.training import Evaluation, TrainingSettings
from assistant.lab.tuning.runs import TrainingRun, evaluation_after, steps_for


def run_without(who: str, *nats: float) -> TrainingRun:
    evaluations = tuple(Evaluation(10 * n, 0.0, nll, {}) for n, nll in enumerate(nats))
    return TrainingRun(who, TrainingSettings(), evaluations)


def test_the_steps_of_a_fold_are_chosen_by_the_other_folds() -> None:
    runs = [
        run_without("anna", 2.0, 1.0, 0.5, 0.1),  # alone she would choose 30
        run_without("bert", 2.0, 1.0, 1.2, 1.5),
        run_without("carl", 2.0, 1.1, 1.2, 1.5),
    ]
    assert steps_for("anna", runs) == 10
    assert steps_for("bert", runs) == 30
    assert evaluation_after(runs[0], 25).step == 20


def test_the_row_of_a_run() -> None:
    held_out = run_without("anna", 2.0, 1.0).line()
    assert held_out.startswith("anna ") and held_out.endswith("best   10  0:2.000 10:1.000")
    settings = TrainingSettings(masking=SpecAugment(0.1))
    nobody = TrainingRun("", settings, (Evaluation(0, 1.0, math.nan, {}),)).line()
    assert nobody.startswith("nobody ") and " veiled " in nobody and nobody.endswith("  0")
