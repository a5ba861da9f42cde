"""What a learner was told: comes back as it was written, for its owner only, one file a person."""

from __future__ import annotations

import stat
from pathlib import Path

import pytest

from assistant.errors import InputWrongError
from assistant.journal.learner_file import learner_path, read_learner, write_learner
from assistant.messages import Learner

ANN = Learner("Ann", ("firing/water before the match",), (("preparation/oiled round", 2),))


def test_it_comes_back_and_nobody_else_may_read_it(tmp_path: Path) -> None:
    folder = tmp_path / "books"
    assert read_learner(folder, "No. 4", "Ann") == Learner("Ann")
    path = write_learner(folder, "No. 4", ANN)
    assert read_learner(folder, "No. 4", "Ann") == ANN == read_learner(folder, "No. 4", "ann")
    assert stat.S_IMODE(path.stat().st_mode) == 0o600
    assert stat.S_IMODE(folder.stat().st_mode) == 0o700
    assert read_learner(folder, "No. 5", "Ann") == Learner("Ann")
    assert read_learner(folder, "No. 4", "Bob") == Learner("Bob")


def test_names_that_the_slug_leaves_letters_out_of_have_files_of_their_own(tmp_path: Path) -> None:
    paths = {learner_path(tmp_path, "No. 4", name) for name in ("Маша", "Даша", "A B", "A-B!")}
    assert len(paths) == 4
    assert all(path.parent == tmp_path for path in paths)


@pytest.mark.parametrize(
    "content", ["", "{", "[]", '{"is": "Tick", "at": 1.0}', '{"is": "Learner", "name": 4}',
                '{"is": "Learner", "name": "Bob"}'],
)  # fmt: skip
def test_a_damaged_file_is_named(tmp_path: Path, content: str) -> None:
    path = learner_path(tmp_path, "No. 4", "Ann")
    path.write_text(content, encoding="utf-8")
    with pytest.raises(InputWrongError, match=path.name):
        read_learner(tmp_path, "No. 4", "Ann")
