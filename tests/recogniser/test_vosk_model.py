"""The model of vosk: a broken one is one clear line, and where a whole one is looked for."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from assistant.errors import WorldFailedError
from assistant.recogniser.vosk_model import check_model, fetch_model, find_model


@pytest.mark.ear
@pytest.mark.parametrize("lost", ["graph/Gr.fst", "am/final.mdl", "ivector/final.ie", "*"])
def test_half_a_folder_is_one_clear_line(korean_model: Path, tmp_path: Path, lost: str) -> None:
    broken = tmp_path / "model"
    if lost == "*":
        broken.mkdir()
    else:
        shutil.copytree(korean_model, broken)
        (broken / lost).unlink()
    with pytest.raises(WorldFailedError) as failed:
        check_model(broken)
    assert str(broken) in str(failed.value)
    assert "\n" not in str(failed.value)


@pytest.mark.ear
def test_a_model_cut_short_is_one_clear_line(korean_model: Path, tmp_path: Path) -> None:
    broken = tmp_path / "model"
    shutil.copytree(korean_model, broken)
    graph = broken / "graph" / "HCLr.fst"
    graph.write_bytes(graph.read_bytes()[: graph.stat().st_size // 2])
    with pytest.raises(WorldFailedError, match="broken vosk model"):
        check_model(broken)


def test_where_models_are_looked_for(korean_model: Path, tmp_path: Path) -> None:
    assert find_model([tmp_path]) is None
    for name in (
        "vosk-model-en-us-0.22",
        "vosk-model-small-en-us-0.15",
        "vosk-model-small-ko-0.22",
    ):
        (tmp_path / name).mkdir()
    small = find_model([tmp_path])
    assert small is not None
    assert small.name == "vosk-model-small-en-us-0.15"
    assert find_model([korean_model]) == korean_model


def test_without_a_net_fetching_is_one_clear_line(tmp_path: Path) -> None:
    """The test run has no sockets, which is as good as no network."""
    progress: list[str] = []
    with pytest.raises(WorldFailedError, match="cannot be fetched") as failed:
        fetch_model(progress.append, tmp_path)
    assert "\n" not in str(failed.value)
    assert progress
    assert list(tmp_path.iterdir()) == []
