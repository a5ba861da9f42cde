"""The training loop: its schedule, when it stops, and that a small run on the CPU learns."""

from __future__ import annotations

import math
from pathlib import Path

import numpy as np
import pytest
from training_words import WORDS, chirp

from assistant.enrolment.augmentation import Augmentation
from assistant.enrolment.clip_corpus import Corpus, LabelledClip
from assistant.enrolment.examples import Examples, MixtureWeights, with_texts
from assistant.enrolment.teacher import Teacher
from assistant.enrolment.torch_whisper import torch
from assistant.enrolment.training import (
    Evaluation,
    TrainingSettings,
    batches,
    best_evaluation,
    past_best,
    rate_factor,
    train,
)
from assistant.recogniser.adapter import apply_adapter, read_adapter, write_adapter
from assistant.recogniser.mel import log_mel
from assistant.recogniser.whisper_encoder import Encoder
from assistant.recogniser.whisper_weights import Float32Array

CORPUS = Corpus(
    tuple(
        LabelledClip(chirp(number), words, "nobody", "spliced", "Water half.")
        for number, words in enumerate(WORDS)
    )
)


def curve(*nats: float) -> list[Evaluation]:
    return [Evaluation(10 * n, 0.0, nll, {}) for n, nll in enumerate(nats)]


def test_without_anybody_held_out_a_run_goes_on_to_its_end() -> None:
    evaluations = curve(math.nan, math.nan, math.nan)
    assert best_evaluation(evaluations).step == 20
    assert not past_best(evaluations, 1)


def test_a_run_stops_after_so_many_evaluations_without_a_better_one() -> None:
    evaluations = curve(2.0, 1.0, 1.1, 1.2)
    assert past_best(evaluations, 2)
    assert not past_best(evaluations, 3)
    assert best_evaluation(evaluations).step == 10


def test_the_learning_rate_warms_up_and_goes_to_nothing() -> None:
    settings = TrainingSettings(steps=100, warm_up=10)
    factors = [rate_factor(step, settings) for step in range(101)]
    assert factors[0] < 0.2 < 0.9 < max(factors)
    assert factors[100] == pytest.approx(0, abs=1e-9)


def small_run(teacher: Teacher, seed: int, steps: int = 10) -> list[Evaluation]:
    corpus = with_texts(CORPUS, teacher.best)
    gentle = Augmentation(speed=(1.0, 1.0), talk=0, snr_db=(15, 30))
    examples = Examples(corpus, gentle, MixtureWeights(nothing=0.0), seed)
    settings = TrainingSettings(
        steps=steps,
        batch=4,
        rank=4,
        adapter_rate=3e-3,
        full_rate=1e-3,
        warm_up=2,
        evaluate_every=5,
        last_layers=2,
        seed=seed,
    )
    held_out = Examples(corpus, gentle, MixtureWeights(nothing=0.0), 77).batch(0, 8)
    return train(teacher, batches(examples, 4, 0), settings, held_out)


@pytest.mark.ear
def test_a_small_run_learns_and_its_file_makes_the_numpy_model_do_the_same(
    teacher: Teacher, weights: dict[str, Float32Array], tmp_path: Path
) -> None:
    evaluations = small_run(teacher, seed=0)
    assert [one.step for one in evaluations] == [0, 5, 10]
    assert evaluations[-1].held_out_nll < 0.8 * evaluations[0].held_out_nll, (
        "better in noise it never saw"
    )
    assert best_evaluation(evaluations) is evaluations[-1]

    adapter = evaluations[-1].adapter
    write_adapter(tmp_path / "small.npz", adapter)
    adapted = apply_adapter(weights, read_adapter(tmp_path / "small.npz"))
    spectrogram = log_mel(chirp(2), 1000)
    by_torch = teacher.model.encode(
        torch().from_numpy(spectrogram)[None],
        {n: torch().from_numpy(v) for n, v in adapter.items()},
    )[0].numpy()
    by_numpy, plain = (Encoder(w).encode(spectrogram) for w in (adapted, weights))
    assert np.abs(by_numpy - by_torch).max() < 0.05 * np.abs(plain - by_torch).max()


@pytest.mark.ear
def test_the_same_seed_learns_the_same(teacher: Teacher) -> None:
    first, again, other = (small_run(teacher, seed, 2)[-1] for seed in (1, 1, 2))
    for name, value in first.adapter.items():
        assert value == pytest.approx(again.adapter[name], abs=1e-5)
    assert first.training_nll != other.training_nll


def test_batches_made_by_other_processes_are_the_same_to_float16() -> None:
    examples = Examples(CORPUS, Augmentation(), MixtureWeights(), 0)
    here, there = batches(examples, 2, 0), batches(examples, 2, 1)
    for _ in range(2):
        for one, other in zip(next(here), next(there), strict=True):
            assert (one.prompt, one.text) == (other.prompt, other.text)
            assert one.sound == pytest.approx(other.sound, abs=1e-3)
    there.close()
