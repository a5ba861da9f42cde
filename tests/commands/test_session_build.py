"""A session is built from the texts in a header, whatever has become of the files since."""

from __future__ import annotations

import shutil
from dataclasses import replace
from pathlib import Path

import pytest

from assistant.commands.session_build import checked_session_config, header_of, session_config_of
from assistant.config import paths
from assistant.config.calibration_file import write_calibration
from assistant.config.engine_file import find_engine, load_engine
from assistant.errors import FileWrongError, InputWrongError
from assistant.journal.header import ROLES

STARTED = "2026-05-01T09:00:00+00:00"


@pytest.fixture
def engine_path(tmp_path: Path) -> Path:
    return Path(shutil.copy(paths.engines_folder() / "practice.yaml", tmp_path / "mine.yaml"))


def test_the_engine_is_first_and_every_text_has_a_known_role() -> None:
    header = header_of(find_engine("practice"), STARTED, 1, "script")
    roles = [kept.role for kept in header.kept]
    assert roles[0] == "engine"
    assert set(roles) == {"engine", "checklist", "emergencies"} < set(ROLES)
    assert all(not Path(kept.file).is_absolute() for kept in header.kept)


def test_the_texts_count_not_the_files(engine_path: Path) -> None:
    write_calibration(engine_path, load_engine(engine_path).engine, [(0.0, 60.0), (1.0, 90.0)])
    header = header_of(load_engine(engine_path), STARTED, 1, "script")
    engine_path.unlink()
    engine_path.with_suffix(".calibration").unlink()
    engine = session_config_of(replace(header, atmosphere_pa=90_000.0)).engine
    assert engine.glass.points == ((0.0, 60.0), (1.0, 90.0))
    assert engine.atmosphere_pa == 90_000.0


def test_earlier_readings_are_kept_and_those_that_teach_nothing_are_not(tmp_path: Path) -> None:
    useful, useless = tmp_path / "useful.csv", tmp_path / "useless.csv"
    head = "time,what,value,unit\n"
    useless.write_text(head + "00:00:00,water,0.5,glass\n")
    useful.write_text(
        head + "00:00:00,fire,lit,\n00:30:00,pressure,5,psi\n00:40:00,pressure,20,psi\n"
        "00:50:00,pressure,45,psi\n01:00:00,pressure,80,psi\n"
    )
    header = header_of(find_engine("practice"), STARTED, 1, "live", past=[useful, useless])
    assert [kept.file for kept in header.texts_of("past")] == ["useful.csv"]


def test_an_owners_emergencies_take_the_place_of_those_that_ship(tmp_path: Path) -> None:
    own = tmp_path / "own.yaml"
    shipped = (paths.checklists_folder() / "emergencies.yaml").read_text(encoding="utf-8")
    own.write_text(shipped.replace("a competent person", "luck"), encoding="utf-8")
    header = header_of(find_engine("practice"), STARTED, 1, "script", own=[own])
    (kept,) = header.texts_of("emergencies")
    assert kept.file == str(own)
    session_config_of(header)  # readable, but not fit to begin a session with
    with pytest.raises(FileWrongError, match="the ending must name"):
        checked_session_config(header)


def test_without_an_engine_there_is_no_session() -> None:
    header = header_of(find_engine("practice"), STARTED, 1, "script")
    with pytest.raises(InputWrongError, match="keeps no engine file"):
        session_config_of(replace(header, kept=header.kept[1:]))


def test_an_owners_emergencies_are_told_in_the_unit_of_the_dial(tmp_path: Path) -> None:
    own = tmp_path / "own.yaml"
    shipped = (paths.checklists_folder() / "emergencies.yaml").read_text(encoding="utf-8")
    act = "Damper shut, blower shut. No firing. Away from the firehole."
    changed = shipped.replace(act, "Damper shut above 20 psi.", 1)
    own.write_text(changed.replace("Bare plates weaken", "15 psi remain. They", 1))
    header = header_of(find_engine("practice"), STARTED, 1, "script", own=[own])
    told = []
    for dial in ("psi", "bar"):
        emergencies = session_config_of(header, dial).emergencies
        low = emergencies.called("low water") if emergencies else None
        assert low is not None
        told.append((low.acts[0], low.why.partition(" remain")[0]))
    assert told == [
        ("Damper shut above twenty pounds.", "fifteen pounds"),
        ("Damper shut above one point four bar.", "one bar"),
    ]
