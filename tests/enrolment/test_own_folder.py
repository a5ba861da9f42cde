"""The folder of an owner's voice: what is kept comes back, and all of it can be deleted."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest
from small_corpus import hum

from assistant.enrolment.own_folder import VoiceFolder


def test_recordings_come_back_in_order_and_the_last_take_stands(tmp_path: Path) -> None:
    folder = VoiceFolder(tmp_path / "voice")
    folder.keep(3, ("ready",), hum(300))
    folder.keep(1, ("not", "yet"), hum(400))
    folder.keep(3, ("say", "again"), hum(500))
    recordings = list(folder.recordings())
    assert [(number, words) for number, words, _ in recordings] == [
        (1, ("not", "yet")), (3, ("say", "again")),
    ]  # fmt: skip
    assert recordings[1][2] == pytest.approx(hum(500), abs=1e-3)
    assert np.abs(recordings[0][2]).max() > 0.1


def test_forgetting_deletes_recordings_and_adapter(tmp_path: Path) -> None:
    folder = VoiceFolder(tmp_path / "voice")
    folder.keep(3, ("ready",), hum(300))
    folder.adapter.write_bytes(b"adapter")
    assert folder.forget()
    assert not folder.path.exists()
    assert not folder.forget()
    assert list(folder.recordings()) == []


def test_an_owners_voice_is_for_its_owner_only(tmp_path: Path) -> None:
    folder = VoiceFolder(tmp_path / "voice")
    folder.path.mkdir(mode=0o755)
    folder.keep(1, ("pressure", "sixty"), np.zeros(1600, np.float32))
    assert folder.path.stat().st_mode & 0o777 == 0o700
    files = sorted(folder.path.iterdir())
    assert [file.name for file in files] == ["01.flac", "01.json"]
    assert [file.stat().st_mode & 0o777 for file in files] == [0o600, 0o600]
