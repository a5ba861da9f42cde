"""What the benches that listen refuse before anything slow is begun."""

from __future__ import annotations

from pathlib import Path

import pytest

from assistant.cli import main


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (["hear", "--part", "teens"], "bench hear has no part 'teens'; it has people, kinds"),
        (["talk", "--part", "memory"], "bench talk has no part 'memory'"),
        (["talk", "--share", "0"], "--share must be 1 or more"),
        (["hear", "--part", "latency", "--utterances", "0"], "--utterances must be 1 or more"),
        (["hear", "--part", "kinds", "--ear", "golden"], "no ear called 'golden'"),
        (["hear", "--part", "kinds", "--kind", "blowr"], "did you mean 'blower'"),
        (["hear", "--part", "bogus"], "bogus"),
    ],
)
def test_trouble_is_one_line(
    words: list[str],
    told: str,
    tmp_path: Path,
    capsys: pytest.CaptureFixture[str],
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setenv("FOOTPLATE_HOME", str(tmp_path))
    try:
        code = main(["bench", *words])
    except SystemExit as left:
        code = int(left.code or 0)
    assert code == 2
    assert told in capsys.readouterr().err
