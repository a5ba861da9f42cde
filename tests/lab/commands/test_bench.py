"""What the benches that listen refuse before anything slow is begun."""

from __future__ import annotations

import argparse
from pathlib import Path

import pytest

from assistant.cli import main
from assistant.lab.commands import bench


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


def test_the_recorded_command_says_what_was_asked_and_no_path() -> None:
    parser = argparse.ArgumentParser()
    bench.add(parser)
    given = parser.parse_args(
        ["hear", "--part", "kinds", "--kind", "mix", "--kind", "wind", "--share", "7",
         "--left-out", "/somewhere/files", "--record"]
    )  # fmt: skip
    assert bench.command_of(given) == [
        "bench", "hear", "--part", "kinds", "--kind", "mix", "--kind", "wind",
        "--left-out", "files", "--share", "7",
    ]  # fmt: skip
    assert bench.command_of(parser.parse_args(["forecast"])) == ["bench", "forecast"]
