"""How many steps the last run takes, when a run stops, what the tables and the card say."""

from __future__ import annotations

import math
from pathlib import Path

import numpy as np
import pytest

from assistant.enrolment.clip_corpus import READER, Corpus, LabelledClip
from assistant.enrolment.spec_augment import SpecAugment
from assistant.enrolment.torch_whisper import torch
from assistant.enrolment.training import (
    Evaluation,
    TrainingSettings,
    _pace,
    _past_best,
    best_evaluation,
)
from assistant.errors import WorldFailedError
from assistant.lab.tuning import card, evaluation
from assistant.lab.tuning.evaluation import (
    NO_ADAPTER,
    EvaluationSet,
    TrialResult,
    calibration,
    passed_at,
    result_row,
)
from assistant.lab.tuning.runs import TrainingRun, evaluation_after, steps_for
from assistant.lab.tuning.weight_averaging import averaged
from assistant.recogniser.adapter import apply_adapter, read_adapter, write_adapter
from assistant.recogniser.whisper_weights import Float32Array

NOTHING = np.zeros(8, np.float32)


def curve(who: str, *nats: float) -> TrainingRun:
    return TrainingRun(
        who, TrainingSettings(), tuple(Evaluation(10 * n, 0.0, x, {}) for n, x in enumerate(nats))
    )


def test_nobody_is_judged_by_a_choice_made_on_himself() -> None:
    runs = [
        curve("anna", 2.0, 1.0, 0.5, 0.1),  # alone she would choose 30
        curve("bert", 2.0, 1.0, 1.2, 1.5),
        curve("carl", 2.0, 1.1, 1.2, 1.5),
    ]
    assert steps_for("anna", runs) == 10
    assert steps_for("bert", runs) == 30
    assert evaluation_after(runs[0], 25).step == 20


def test_a_run_without_anybody_kept_out_is_as_long_as_was_asked() -> None:
    looks = [Evaluation(step, 1.0, math.nan, {}) for step in (0, 10, 20)]
    assert best_evaluation(looks).step == 20
    assert not _past_best(looks, 1)


def test_a_run_stops_after_so_many_looks_without_a_better_one() -> None:
    looks = list(curve("anna", 2.0, 1.0, 1.1, 1.2).looks)
    assert _past_best(looks, 2)
    assert not _past_best(looks, 3)
    assert best_evaluation(looks).step == 10


def test_the_pace_warms_up_and_goes_to_nothing() -> None:
    settings = TrainingSettings(steps=100, warm_up=10)
    paces = [_pace(step, settings) for step in range(101)]
    assert paces[0] < 0.2 < 0.9 < max(paces)
    assert paces[100] == pytest.approx(0, abs=1e-9)


def small_change(seed: int, rank: int = 2) -> dict[str, Float32Array]:
    rng = np.random.default_rng(seed)
    return {
        "x/A": rng.normal(size=(rank, 6)).astype(np.float32),
        "x/B": rng.normal(size=(5, rank)).astype(np.float32),
        "x/bias": rng.normal(size=3).astype(np.float32),
    }


def effect(change: dict[str, Float32Array]) -> dict[str, Float32Array]:
    weights = {"x/weight": np.zeros((5, 6), np.float32), "x/bias": np.zeros(3, np.float32)}
    return apply_adapter(weights, change)


def test_a_blend_does_its_share_of_the_mean_of_what_each_does() -> None:
    first, second = small_change(0), small_change(1, rank=1)
    one, two = effect(first), effect(second)
    for rank in (None, 3, 7):
        both = effect(averaged([first, second], 0.6, rank))
        for name in ("x/weight", "x/bias"):
            assert both[name] == pytest.approx(0.3 * one[name] + 0.3 * two[name], abs=1e-5)


def test_a_thinner_blend_is_the_nearest_of_its_rank() -> None:
    # Eckart and Young (1936): what is left out is the smallest singular values.
    changes = [small_change(seed) for seed in range(2)]
    whole = effect(averaged(changes, 1.0))["x/weight"]
    adapter_rate = averaged(changes, 1.0, 2)
    assert adapter_rate["x/A"].shape == (2, 6) and adapter_rate["x/B"].shape == (5, 2)
    left = np.linalg.norm(whole - effect(adapter_rate)["x/weight"])
    sizes = np.linalg.svd(whole, compute_uv=False)
    assert left == pytest.approx(float(np.sqrt((sizes[2:] ** 2).sum())), rel=1e-4)


def test_a_file_of_differences_comes_back_at_half_the_figures(tmp_path: Path) -> None:
    written = {"a/b/A": np.array([[0.1, -3.0]], np.float32), "a/bias": np.ones(3, np.float32)}
    write_adapter(tmp_path / "deep" / "some.npz", written)
    back = read_adapter(tmp_path / "deep" / "some.npz")
    assert set(back) == set(written)
    assert back["a/b/A"] == pytest.approx(written["a/b/A"], rel=1e-3)


def outcome(right: bool, probability: float, log_ratio: float = 0.0) -> TrialResult:
    return TrialResult(right, probability, log_ratio, -0.5)


def test_sure_and_wrong_is_counted_apart() -> None:
    told = result_row("some", [outcome(True, 0.999), outcome(False, 0.999), outcome(True, 0.5),
                        outcome(True, 0.999, -2.0)])  # fmt: skip
    assert told.split() == ["some", "4", "75.0", "25.0", "25.0"]


def test_calibration_sets_what_is_said_beside_what_is_true() -> None:
    lines = calibration([outcome(n < 6, 0.85) for n in range(10)])
    assert len(lines) == 1
    assert "10 times, says  85.0 %, is right  60.0 %" in lines[0]


def test_what_is_not_ours_is_counted_at_a_gate_that_passes_as_many_of_ours() -> None:
    mine = [outcome(True, 0.99, ratio) for ratio in (-0.5, -1.0, -2.0, -3.0)]
    others = [outcome(False, 0.99, ratio) for ratio in (-0.8, -2.5, -6.0, -9.0)]
    assert passed_at(mine, others, 0.5) == (0.25, -1.0)
    assert passed_at(mine, others, 1.0) == (0.5, -3.0)


def test_a_table_names_both_ears() -> None:
    test = EvaluationSet("digits anna", None, 1)
    found = {
        (NO_ADAPTER, test): [outcome(True, 0.5)],
        (Path("x.npz"), test): [outcome(True, 0.999)],
    }
    lines = list(evaluation.result_table([test], found))
    assert any("digits anna, clean, plain" in line for line in lines)
    assert any(line.startswith("calibration, x") for line in lines)


def test_the_card_names_sources_licences_recipe_and_limits(tmp_path: Path) -> None:
    corpus = Corpus(
        (
            LabelledClip(NOTHING, ("latte",), "one.wav", "orders", ""),
            LabelledClip(NOTHING, ("ready",), "flite:slt", "statistical", ""),
            LabelledClip(NOTHING, ("horse",), "flite:slt", "statistical", "", ours=False),
            LabelledClip(NOTHING, ("sixty",), READER, READER, ""),
        ),
        {"anna": {}, "statistical/flite:slt": {}, f"{READER}/{READER} 1": {}},
    )
    told = card.Card(
        card.Recipe(
            "footplate train --seed 3", "2026-11-25",
            [TrainingSettings(seed=3), TrainingSettings(seed=3, rank=32, veil=SpecAugment(0.1))],
            0.75, 48,
        ),
        corpus, [curve("anna", 2.0, 1.0).line()], ["digits 95 %"],
    )  # fmt: skip
    text = card.write(tmp_path / "some.npz", told).read_text(encoding="utf-8")
    assert (tmp_path / "some.md").is_file()
    for wanted in (
        "CC BY-SA 4.0", "Apache-2.0", "flite", "espeak-ng", "of 1 people", "1 spoken orders",
        "1 sentences of this program's own grammar and 1 that are none", "seed 3", "2026-11-25",
        "rank 48 at most", "2 side by side", "75% of their mean",
        "1 more people joined to 1 numbers",
        "0:2.000 10:1.000", "digits 95 %", "Known limits", "footplate train --seed 3",
    ):  # fmt: skip
        assert wanted in text, wanted


def test_without_torch_it_says_how_to_get_it() -> None:
    try:
        import torch as library  # noqa: F401
    except ImportError:
        with pytest.raises(WorldFailedError, match=r"\.\[tune\]"):
            torch()
    else:
        assert hasattr(torch(), "no_grad")


@pytest.mark.speech
@pytest.mark.ear
def test_an_ear_is_judged_on_people(recordings: Path) -> None:
    from assistant.lab.tuning.gather import people_digits
    from assistant.simulator.noise import engine_noise

    person = sorted(people_digits(recordings))[0]
    test = EvaluationSet(f"digits {person}", None, 3)
    found = evaluation.evaluate(
        [test], [NO_ADAPTER], evaluation.SoundFolders(recordings, None, engine_noise), 0
    )
    assert len(found[NO_ADAPTER, test]) == 3
    assert all(0 <= one.probability <= 1 for one in found[NO_ADAPTER, test])
