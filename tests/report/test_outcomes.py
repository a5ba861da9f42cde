"""What the report says of a test: passed, failed or not proved, by the record and not by a word."""

from __future__ import annotations

from pathlib import Path

import pytest
from report_books import keep, reading

from assistant.messages import AlarmChanged, Effect, Grade, StepDone
from assistant.report import log_tables
from assistant.report.findings import made_tests
from assistant.report.page import TablePart
from assistant.report.story import read_story
from assistant.report.terms import Terms

Said = list[tuple[float, Effect]]


def outcomes(folder: Path, said: Said) -> list[str]:
    return [test.outcome for test in made_tests(read_story(keep(folder, said)))]


@pytest.mark.parametrize(
    ("what", "value", "outcome"),
    [
        ("glass", "comes back at once", "passed"),
        ("glass", "comes back slowly", "failed"),
        ("glass", "stays empty", "failed"),
        ("glass", "cracked", "not proved"),
        ("safety valve", "free", "passed"),
        ("safety valve", "stuck", "failed"),
        ("injector", "works", "not proved"),
        ("injector", "fails", "failed"),
        ("delivery", "gaining", "not proved"),
        ("delivery", "hot", "failed"),
        ("lubricator", "stands still", "failed"),
    ],
)
def test_by_the_call_alone(tmp_path: Path, what: str, value: str, outcome: str) -> None:
    assert outcomes(tmp_path, [(10.0, reading(what, value))]) == [outcome]


def test_a_feed_is_passed_by_two_readings_and_failed_by_none_that_gains(tmp_path: Path) -> None:
    works: Said = [(100.0, reading("hand pump", "works"))]
    proved: Effect = StepDone("pumping", "feed proved", "water 0.6 glass")
    dead: Effect = AlarmChanged("feed dead", Grade.WARNING, "raised", "no gain")
    assert outcomes(tmp_path / "a", [*works, (400.0, proved)]) == ["passed"]
    assert outcomes(tmp_path / "b", [(50.0, proved), *works]) == ["not proved"]
    assert outcomes(tmp_path / "c", [*works, (400.0, dead)]) == ["failed"]


@pytest.mark.parametrize(
    ("event", "psi", "after_s", "outcome"),
    [
        ("lifting", 145.0, 20.0, "passed"),
        ("lifting", 134.0, 20.0, "failed"),
        ("lifting", 100.0, 20.0, "failed"),
        ("lifting", 145.0, 200.0, "not proved"),
        ("feathering", 134.0, 20.0, "passed"),
    ],
)
def test_the_valve_is_passed_by_a_gauge_that_fits(
    tmp_path: Path, event: str, psi: float, after_s: float, outcome: str
) -> None:
    said: Said = [
        (1000.0, reading("valve", event)),
        (1000.0 + after_s, reading("pressure", psi, "psi")),
    ]
    assert outcomes(tmp_path, said) == [outcome]


def test_it_stands_in_the_table(tmp_path: Path) -> None:
    story = read_story(keep(tmp_path, [(10.0, reading("glass", "stays empty"))]))
    shown = log_tables.tests(story, Terms())
    assert isinstance(shown, TablePart)
    assert shown.head[3] == "by the record" and shown.rows[0].cells[3] == "failed"
