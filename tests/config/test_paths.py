"""Where things live, and how an engine or a checklist is named."""

from __future__ import annotations

from pathlib import Path

import pytest

from assistant.config import paths
from assistant.errors import InputWrongError


def test_what_ships_is_found_from_any_folder(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    monkeypatch.chdir(tmp_path)
    assert "practice" in paths.shipped(paths.engines_folder())
    assert "firing" in paths.shipped(paths.checklists_folder())


def test_the_home_can_be_named(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.setenv("FOOTPLATE_HOME", str(tmp_path))
    assert paths.journals_folder() == tmp_path / "journals"
    monkeypatch.delenv("FOOTPLATE_HOME")
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path / "data"))
    assert paths.journals_folder() == tmp_path / "data" / "footplate" / "journals"


def test_a_file_here_goes_before_the_shipped_one(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    monkeypatch.chdir(tmp_path)
    (tmp_path / "own.yaml").write_text("")
    assert paths.find("own.yaml", paths.engines_folder(), "engine") == Path("own.yaml")
    shipped = paths.engines_folder() / "practice.yaml"
    assert paths.find("practice", paths.engines_folder(), "engine") == shipped
    with pytest.raises(InputWrongError, match=r"engine file 'owm\.yaml': no such file"):
        paths.find("owm.yaml", paths.engines_folder(), "engine")


def test_a_shipped_file_is_named_by_its_place_in_the_project(tmp_path: Path) -> None:
    shipped = paths.engines_folder() / "practice.yaml"
    assert paths.journal_name_of(shipped) == "models/engines/practice.yaml"
    assert paths.journal_name_of(tmp_path / "mine.yaml") == str(tmp_path / "mine.yaml")
