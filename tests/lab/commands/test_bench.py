"""What the benches that listen refuse before anything slow is begun."""

from __future__ import annotations

import argparse
from pathlib import Path

import pytest
from kept_output import KeptOutput

from assistant.cli import main
from assistant.lab import results_file
from assistant.lab.commands import bench


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (
            ["hear", "--part", "teens"],
            "bench hear has no part 'teens'; it has people, numbers, kinds",
        ),
        (["talk", "--part", "memory"], "bench talk has no part 'memory'"),
        (["talk", "--share", "0"], "--share must be 1 or more"),
        (["hear", "--part", "latency", "--utterances", "0"], "--utterances must be 1 or more"),
        (["hear", "--part", "kinds", "--ear", "golden"], "no ear called 'golden'"),
        (["hear", "--part", "kinds", "--kind", "blowr"], "did you mean 'blower'"),
        (["hear", "--part", "bogus"], "bogus"),
        (["talk", "--only-table", "named"], "belong to talk --part anytime"),
        (["hear", "--part", "kinds", "--level", "clean"], "belong to talk --part anytime"),
        (["talk", "--part", "anytime", "--only-table", "bogus"], "invalid choice: 'bogus'"),
        (["talk", "--part", "anytime", "--level", "loud"], "--level"),
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
    words = ["talk", "--part", "anytime", "--level", "clean", "--level", "5", "--only-table", "yes"]
    assert bench.command_of(parser.parse_args(words)) == [
        "bench", "talk", "--part", "anytime", "--level", "clean", "--level", "5.0",
        "--only-table", "yes",
    ]  # fmt: skip


def test_the_help_tells_of_the_tables_of_what_nobody_asked_about() -> None:
    parser = argparse.ArgumentParser()
    bench.add(parser)
    told = " ".join(parser.format_help().split())
    assert "talk: one of sentences, others, teens, noise, wake, anytime" in told
    assert "named, nearest, others, yes, change" in told
    assert "`clean` is a quiet room" in told


@pytest.mark.real  # the file says when and where it was measured
def test_a_table_that_is_measured_alone_is_kept_in_a_file_of_its_own(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    monkeypatch.setattr(results_file, "FOLDER", tmp_path)
    monkeypatch.setattr(bench.listening, "bench_lines", lambda given: iter(["one line"]))
    parser = argparse.ArgumentParser()
    bench.add(parser)
    words = ["talk", "--part", "anytime", "--record"]
    for more in ([], ["--only-table", "yes"]):
        assert bench.run(parser.parse_args([*words, *more]), KeptOutput()) == 0
    assert sorted(file.name for file in tmp_path.iterdir()) == [
        "talk-anytime-yes.md",
        "talk-anytime.md",
    ]
    assert "one line" in (tmp_path / "talk-anytime.md").read_text(encoding="utf-8")
