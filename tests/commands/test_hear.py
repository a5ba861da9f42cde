"""`footplate hear`: one decision a file, weighed with what the boiler is believed to be at."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest
import soundfile
from shell import records, run

from assistant.commands import options
from assistant.messages import SPEECH_RATE_HZ, Alternative, Expected, Heard, Report

pytestmark = pytest.mark.real  # tells how long it took


class FixedRecogniser:
    """Hears the same in every sound."""

    def prepare(self, expected: Expected) -> None: ...

    def warm(self, expected: Expected) -> None: ...

    def heard(self, sound: object, expected: Expected, at: float) -> Heard:
        report = Report("pressure", 75.0, "psi")
        best = Alternative(report, "pressure seventy five", 0.9999)
        return Heard(at, "fixed", (best,), -0.1, -0.2, 1.5, "pressure seventy five")


@pytest.fixture
def files(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> list[Path]:
    monkeypatch.setattr(options, "hearer", lambda given, out: FixedRecogniser())
    names = [tmp_path / "one.wav", tmp_path / "two.wav"]
    for name in names:
        soundfile.write(name, np.zeros(SPEECH_RATE_HZ, np.float32), SPEECH_RATE_HZ)
    return names


def test_one_json_object_a_file_in_their_order(
    files: list[Path], capsys: pytest.CaptureFixture[str]
) -> None:
    code, out, _ = run(capsys, "hear", *files, "--expect", "pressure", "--json")
    found = records(out)
    assert code == 0
    assert [record["file"] for record in found] == [str(file) for file in files]
    assert {record["audio_s"] for record in found} == {1.0}
    assert found[0]["heard"] == "pressure seventy five"
    assert found[0]["meaning"]["value"] == 75.0
    assert found[0]["decision"] == "accept"


def test_what_the_boiler_cannot_be_at_is_not_accepted(
    files: list[Path], capsys: pytest.CaptureFixture[str]
) -> None:
    code, out, _ = run(capsys, "hear", files[0], "--pressure-now", "5", "--json")
    (record,) = records(out)
    assert code == 0
    assert record["decision"] != "accept"
    assert record["reason"]


def test_a_file_that_is_no_sound_is_refused(
    files: list[Path], capsys: pytest.CaptureFixture[str]
) -> None:
    files[0].write_text("no sound")
    code, out, err = run(capsys, "hear", *files, "--json")
    assert (code, out) == (2, "")
    assert str(files[0]) in err
