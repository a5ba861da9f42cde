"""`check_file` tells what a file is by what it holds, and everything that is wrong with it."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from assistant.commands.file_check import check_file, file_kind_of
from assistant.config import paths
from assistant.config.engine_file import find_engine
from assistant.errors import InputWrongError
from assistant.journal.header import Header
from assistant.journal.writer import Journal
from assistant.messages import Tick

SHIPPED = [
    *sorted(paths.engines_folder().glob("*.yaml")),
    *sorted(paths.checklists_folder().glob("*.yaml")),
]


@pytest.mark.parametrize("path", SHIPPED, ids=lambda path: path.stem)
def test_every_shipped_file_is_right(path: Path) -> None:
    assert check_file(path) == ()
    engine = path.parent == paths.engines_folder()
    other = "emergencies" if path.stem == "emergencies" else "checklist"
    assert file_kind_of(path) == ("engine" if engine else other)


@pytest.mark.parametrize(
    ("name", "text", "kind", "expected"),
    [
        ("a.txt", "time,what,value,unit\n00:00:00,fire,litt,\n", "readings", "2:15: fire is not"),
        ("a.csv", "", "readings", "0:0: the file is empty"),
        ("a.yaml", "boiler:\n  volume: 3\n", "engine", "1:1: 'name' is missing"),
        ("a.yaml", "steps: []\n", "checklist", "1:1: 'name' is missing"),
        ("a.x", "calibration_of: X\n", "calibration", "1:1: 'points' is missing"),
        ("a.x", "emergencies: []\n", "emergencies", "1:1: 'general' is missing"),
        ("a.jsonl", "{}\n", "journal", "1:1: altered: record 0 is no longer"),
        ("a.jsonl", '{"n":0', "journal", "1:1: cut: record 0 is cut short"),
        ("a.yaml", "hello: world\n", "unknown", "0:0: neither an engine"),
        ("a.yaml", "", "unknown", "0:0: neither an engine"),
    ],
)
def test_kinds_and_their_first_problem(
    tmp_path: Path, name: str, text: str, kind: str, expected: str
) -> None:
    path = tmp_path / name
    path.write_text(text)
    assert file_kind_of(path) == kind
    assert str(check_file(path)[0]).startswith(f"{path}:{expected}"), check_file(path)


def test_a_whole_journal_is_right_and_an_altered_one_is_told_by_its_line(tmp_path: Path) -> None:
    path = tmp_path / "book.jsonl"
    header = Header("Practice engine", "2026-05-02T08:15:00+01:00", 1, 101_325.0, ())
    with Journal.create(path, header) as journal:
        journal.event(Tick(1.0))
        journal.event(Tick(2.0))
    assert check_file(path) == ()
    path.write_bytes(path.read_bytes().replace(b'"Tick","at":1.0', b'"Tick","at":7.0'))
    assert str(check_file(path)[0]) == f"{path}:2:1: altered: record 1 (event) was changed"


def test_a_record_that_is_no_message_is_told(tmp_path: Path) -> None:
    path = tmp_path / "book.jsonl"
    header = Header("Practice engine", "2026-05-02T08:15:00+01:00", 1, 101_325.0, ())
    with Journal.create(path, header) as journal:
        journal.append("event", {"event": {"is": "Nonsense"}})
    assert "unknown message 'Nonsense'" in str(check_file(path)[0])


def test_the_emergencies_must_end_as_they_should(tmp_path: Path) -> None:
    text = (paths.checklists_folder() / "emergencies.yaml").read_text(encoding="utf-8")
    path = tmp_path / "e.yaml"
    path.write_text(text.replace("a competent person", "luck"), encoding="utf-8")
    assert "the ending must name" in str(check_file(path)[0])


def test_with_an_engine_its_gauges_are_asked(tmp_path: Path) -> None:
    path = tmp_path / "r.csv"
    path.write_text("time,what,value,unit\n00:00:00,pressure,250,psi\n")
    assert check_file(path) == ()
    told = check_file(path, find_engine("practice").engine)
    assert str(told[0]) == f"{path}:2:19: 250 psi is off the gauge"


def test_no_such_file(tmp_path: Path) -> None:
    with pytest.raises(InputWrongError, match="no such file"):
        check_file(tmp_path / "none.yaml")


@settings(max_examples=150, deadline=None)
@given(
    st.sampled_from(SHIPPED),
    st.integers(0, 10_000),
    st.integers(0, 40),
    st.text(alphabet=" \n\t:-[]{}&*'\"#,ab1.", max_size=12),
)
def test_a_shipped_file_damaged_anywhere_is_right_or_told(
    tmp_path_factory: pytest.TempPathFactory, path: Path, place: int, cut: int, put: str
) -> None:
    text = path.read_text(encoding="utf-8")
    place %= len(text)
    damaged = tmp_path_factory.mktemp("damaged") / path.name
    damaged.write_text(text[:place] + put + text[place + cut :], encoding="utf-8")
    for problem in check_file(damaged):
        assert problem.message
        assert "\n" not in problem.message
