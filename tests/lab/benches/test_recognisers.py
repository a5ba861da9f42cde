"""The list of ears: each by its name, one at a time, and why there is none of one."""

from __future__ import annotations

from pathlib import Path

import pytest

from assistant.errors import InputWrongError
from assistant.lab.benches import recognisers


def test_an_unknown_ear_is_told_with_those_there_are() -> None:
    with pytest.raises(InputWrongError, match="plain, tuned, vosk, whole"):
        recognisers.recogniser("golden")


@pytest.mark.ear
def test_each_ear_there_is_and_why_one_is_not(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("HOME", str(tmp_path))
    monkeypatch.delenv("VOSK_MODEL_PATH", raising=False)
    found = dict(recognisers.each())
    assert list(found) == list(recognisers.RECOGNISERS)
    assert found["plain"].name == found["tuned"].name == "whisper"  # type: ignore[union-attr]
    assert found["vosk"] == "no vosk model found"
    assert found["whole"] == "the tuned ear alone, on this machine"
    ((name, whole),) = recognisers.each([recognisers.WHOLE])  # asked for, it is measured
    assert (name, whole.name) == ("whole", "whisper")  # type: ignore[union-attr]
