"""The model of vosk: a broken one is one clear line, and where a whole one is looked for."""

from __future__ import annotations

import hashlib
import io
import shutil
import zipfile
from pathlib import Path

import pytest

from assistant.errors import WorldFailedError
from assistant.recogniser import vosk_model
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


def archive(*names: str) -> bytes:
    packed = io.BytesIO()
    with zipfile.ZipFile(packed, "w") as file:
        for name in names:
            file.writestr(name, "content")
    return packed.getvalue()


NAME = "vosk-model-small-en-us-0.15"
ENTRY = {"lang": "en-us", "type": "small", "obsolete": "false", "name": NAME, "md5": "0" * 32}


def test_the_model_is_what_the_list_says(tmp_path: Path) -> None:
    raw = archive(f"{NAME}/am/final.mdl")
    pieces = [raw[:50], raw[50:]]
    with pytest.raises(WorldFailedError, match="not what vosk's list says"):
        vosk_model._unpack(pieces, "0" * 32, tmp_path, NAME)
    assert list(tmp_path.iterdir()) == []
    vosk_model._unpack(pieces, hashlib.md5(raw).hexdigest(), tmp_path, NAME)
    assert (tmp_path / NAME / "am" / "final.mdl").read_text() == "content"


@pytest.mark.parametrize("inside", ["../out.txt", "/etc/out.txt", f"{NAME}/../../out.txt", "b"])
def test_an_archive_stays_in_its_own_folder(tmp_path: Path, inside: str) -> None:
    raw = archive(f"{NAME}/am/final.mdl", inside)
    with pytest.raises(WorldFailedError, match="its archive holds"):
        vosk_model._unpack([raw], hashlib.md5(raw).hexdigest(), tmp_path, NAME)
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize(
    ("change", "told"),
    [
        ({"name": "../../home"}, "strange name"), ({"name": "vosk-model-a/../b"}, "strange name"),
        ({"name": "vosk-model-.."}, "strange name"), ({"md5": ""}, "without a checksum"),
        ({"obsolete": "true"}, "no small English model"),
    ],
)  # fmt: skip
def test_what_the_list_says_is_not_believed(change: dict[str, str], told: str) -> None:
    assert vosk_model._small_english([{}, ENTRY]) == (NAME, "0" * 32)
    with pytest.raises(WorldFailedError, match=told):
        vosk_model._small_english([ENTRY | change])
