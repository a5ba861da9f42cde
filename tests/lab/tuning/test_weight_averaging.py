"""Averaged adapters: a share of the mean of their effects, of any rank."""

from __future__ import annotations

import numpy as np
import pytest

from assistant.lab.tuning.weight_averaging import averaged
from assistant.recogniser.adapter import apply_adapter
from assistant.recogniser.whisper_weights import Float32Array


def small_adapter(seed: int, rank: int = 2) -> dict[str, Float32Array]:
    rng = np.random.default_rng(seed)
    return {
        "x/A": rng.normal(size=(rank, 6)).astype(np.float32),
        "x/B": rng.normal(size=(5, rank)).astype(np.float32),
        "x/bias": rng.normal(size=3).astype(np.float32),
    }


def effect(adapter: dict[str, Float32Array]) -> dict[str, Float32Array]:
    weights = {"x/weight": np.zeros((5, 6), np.float32), "x/bias": np.zeros(3, np.float32)}
    return apply_adapter(weights, adapter)


def test_the_average_has_its_share_of_the_mean_effect() -> None:
    first, second = small_adapter(0), small_adapter(1, rank=1)
    one, two = effect(first), effect(second)
    for rank in (None, 3, 7):
        both = effect(averaged([first, second], 0.6, rank))
        for name in ("x/weight", "x/bias"):
            assert both[name] == pytest.approx(0.3 * one[name] + 0.3 * two[name], abs=1e-5)


def test_an_average_of_lower_rank_is_the_nearest() -> None:
    # Eckart and Young (1936): what is left out is the smallest singular values.
    adapters = [small_adapter(seed) for seed in range(2)]
    whole = effect(averaged(adapters, 1.0))["x/weight"]
    lower = averaged(adapters, 1.0, 2)
    assert lower["x/A"].shape == (2, 6) and lower["x/B"].shape == (5, 2)
    missing = np.linalg.norm(whole - effect(lower)["x/weight"])
    sizes = np.linalg.svd(whole, compute_uv=False)
    assert missing == pytest.approx(float(np.sqrt((sizes[2:] ** 2).sum())), rel=1e-4)
