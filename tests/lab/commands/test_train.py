"""`footplate train`: what it says where something is missing, and the mean of adapters."""

from __future__ import annotations

import sys
from pathlib import Path

import numpy as np
import pytest

from assistant.cli import main
from assistant.recogniser.adapter import read_adapter, write_adapter


def test_a_gathered_folder_that_is_broken_is_one_clear_line(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    pytest.importorskip("torch", reason="no torch here: it is asked for first")
    (tmp_path / "clips.json").write_text("{", encoding="utf-8")
    assert main(["train", "--gathered", str(tmp_path), "--recordings", str(tmp_path / "no")]) == 2
    assert "not a gathered folder" in capsys.readouterr().err


def test_without_torch_it_is_said_first_and_how_to_get_it(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setitem(sys.modules, "torch", None)  # an import of it now fails
    assert main(["train", "--gathered", str(tmp_path / "none")]) == 3
    assert ".[tune]" in capsys.readouterr().err
    assert not (tmp_path / "none").exists(), "nothing was gathered for nothing"


def test_the_mean_of_two_adapters(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    rng = np.random.default_rng(0)
    each = []
    for name in ("one", "other"):
        changes = {
            "some/A": rng.standard_normal((4, 6), np.float32),
            "some/B": rng.standard_normal((5, 4), np.float32),
            "bias": rng.standard_normal(5, np.float32),
        }
        write_adapter(tmp_path / f"{name}.npz", changes)
        each.append(changes)
    made = tmp_path / "both.npz"
    files = [str(tmp_path / f"{name}.npz") for name in ("one", "other")]
    assert main(["train", "--mean", files[0], "--mean", files[1], "--out", str(made)]) == 0
    both = read_adapter(made)
    wanted = sum(one["some/B"] @ one["some/A"] for one in each) / 2
    assert np.abs(both["some/B"] @ both["some/A"] - wanted).max() < 1e-2
    assert np.abs(both["bias"] - (each[0]["bias"] + each[1]["bias"]) / 2).max() < 1e-2
    assert "mean of 2" in capsys.readouterr().out
    assert main(["train", "--mean", files[0], "--out", str(made)]) == 2
