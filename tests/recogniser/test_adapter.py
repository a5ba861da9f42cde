"""Changes to the model's numbers: what is added to what, and files that are no changes."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from assistant.errors import WorldFailedError
from assistant.recogniser.adapter import apply_adapter, read_adapter


def test_thin_products_and_plain_additions(tmp_path: Path) -> None:
    weights = {"a/weight": np.eye(3, dtype=np.float32), "a/bias": np.zeros(3, np.float32)}
    thin = {"a|A": np.array([[1, 2, 3]]), "a|B": np.array([[1], [0], [-1]]), "a|bias": np.ones(3)}
    np.savez(tmp_path / "changes.npz", **{k: v.astype(np.float16) for k, v in thin.items()})
    made = apply_adapter(weights, read_adapter(tmp_path / "changes.npz"))
    assert made["a/weight"].tolist() == [[2, 2, 3], [0, 1, 0], [-1, -2, -2]]
    assert made["a/bias"].tolist() == [1, 1, 1]
    assert weights["a/weight"].tolist() == np.eye(3).tolist(), "the weights given stay as they are"


def test_a_file_that_is_none_is_one_clear_line(tmp_path: Path) -> None:
    (tmp_path / "broken.npz").write_bytes(b"PK\x03\x04 not much")
    for name in ("broken.npz", "none.npz"):
        with pytest.raises(WorldFailedError, match="not a tuned ear"):
            read_adapter(tmp_path / name)
