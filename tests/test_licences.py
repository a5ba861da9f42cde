"""Every file that ships says under which licence it is, and all documents say the same."""

from __future__ import annotations

import re
import tomllib
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[1]
FOLDERS = ("checklists", "models", "tests/data", "tests/stories/days", "assistant/board/page")
NOTE = ".license"
# In two pieces: a tool that reads licences must not take this file for a note.
IDENTIFIER, COPYRIGHT = "SPDX-License-" + "Identifier", "SPDX-File" + "CopyrightText"


def data_files() -> list[Path]:
    """What is no program, below the folders that hold it."""
    found = (file for folder in FOLDERS for file in (ROOT / folder).rglob("*"))
    return sorted(f for f in found if f.is_file() and f.suffix != NOTE and f.name[0] != ".")


def pattern_of(path: str) -> re.Pattern[str]:
    """A path of REUSE.toml: `*` stays within a folder, `**` does not.

    >>> bool(pattern_of("a/*").fullmatch("a/b")), bool(pattern_of("a/*").fullmatch("a/b/c"))
    (True, False)
    """
    parts = (re.escape(part).replace(r"\*", "[^/]*") for part in path.split("**"))
    return re.compile(".*".join(parts))


def licences_of(file: Path) -> list[str]:
    """By the note beside it, else by REUSE.toml."""
    note = file.with_name(file.name + NOTE)
    if note.is_file():
        return re.findall(f"^{IDENTIFIER}: (.+)$", note.read_text(), re.MULTILINE)
    name = file.relative_to(ROOT).as_posix()
    given = tomllib.loads((ROOT / "REUSE.toml").read_text())["annotations"]
    paths = [([a["path"]] if isinstance(a["path"], str) else a["path"], a) for a in given]
    return [
        annotation[IDENTIFIER]
        for several, annotation in paths
        if any(pattern_of(path).fullmatch(name) for path in several)
    ]


@pytest.mark.parametrize("file", data_files(), ids=lambda file: file.name)
def test_a_file_of_data_has_one_licence_and_its_text_is_there(file: Path) -> None:
    (licence,) = licences_of(file)
    assert (ROOT / "LICENSES" / f"{licence}.txt").is_file()


def test_weights_have_a_note_of_their_own() -> None:
    weights = [f for f in data_files() if f.suffix in (".npz", ".onnx", ".bin", ".wav", ".flac")]
    assert weights
    for file in weights:
        text = file.with_name(file.name + NOTE).read_text()
        assert f"{COPYRIGHT}: " in text


def test_a_file_that_nobody_noted_has_none() -> None:
    assert licences_of(ROOT / "models" / "speech" / "other.bin") == []


def test_the_documents_name_the_licence_of_the_tuned_ear_alike() -> None:
    assert licences_of(ROOT / "models" / "speech" / "tuned_encoder.npz") == ["MIT"]
    licence = (ROOT / "LICENSE").read_text()
    assert "and so is models/speech/tuned_encoder.npz" in licence
    assert "General Public License" not in licence
    for document in (ROOT / "README.md", ROOT / "models" / "speech" / "tuned_encoder.md"):
        assert "under the MIT licence" in document.read_text()
