"""Adapters: what is added to what, and files that are not adapters."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from assistant.errors import WorldFailedError
from assistant.recogniser.adapter import (
    CALIBRATION,
    apply_adapter,
    read_adapter,
    write_adapter,
)


def test_low_rank_products_and_plain_differences(tmp_path: Path) -> None:
    weights = {"a/weight": np.eye(3, dtype=np.float32), "a/bias": np.zeros(3, np.float32)}
    stored = {"a|A": np.array([[1, 2, 3]]), "a|B": np.array([[1], [0], [-1]]), "a|bias": np.ones(3)}
    np.savez(tmp_path / "adapter.npz", **{k: v.astype(np.float16) for k, v in stored.items()})
    adapted = apply_adapter(weights, read_adapter(tmp_path / "adapter.npz"))
    assert adapted["a/weight"].tolist() == [[2, 2, 3], [0, 1, 0], [-1, -2, -2]]
    assert adapted["a/bias"].tolist() == [1, 1, 1]
    assert weights["a/weight"].tolist() == np.eye(3).tolist(), "the weights given stay as they are"


def test_a_file_that_is_not_one_is_one_clear_line(tmp_path: Path) -> None:
    (tmp_path / "broken.npz").write_bytes(b"PK\x03\x04 not much")
    for name in ("broken.npz", "none.npz"):
        with pytest.raises(WorldFailedError, match="not a tuned ear"):
            read_adapter(tmp_path / name)


def test_what_is_written_is_read_again_as_float16_holds_it(tmp_path: Path) -> None:
    adapter = {"a/b/A": np.array([[0.1, -3.0]], np.float32), "a/bias": np.ones(3, np.float32)}
    write_adapter(tmp_path / "deep" / "some.npz", adapter)
    again = read_adapter(tmp_path / "deep" / "some.npz")
    assert set(again) == set(adapter)
    assert again["a/b/A"] == pytest.approx(adapter["a/b/A"], rel=1e-3)


def test_how_sure_it_is_goes_with_the_file_and_is_no_weight(tmp_path: Path) -> None:
    write_adapter(tmp_path / "some.npz", {CALIBRATION: np.array([1.5, 1.25], np.float32)})
    adapter = read_adapter(tmp_path / "some.npz")
    assert adapter[CALIBRATION].tolist() == [1.5, 1.25]
    assert apply_adapter({"a/bias": np.ones(2, np.float32)}, adapter).keys() == {"a/bias"}
