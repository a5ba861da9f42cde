"""What is installed from a wheel works in any folder, without the checkout beside it."""

from __future__ import annotations

import os
import subprocess
import sys
import tomllib
import zipfile
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[1]
pytestmark = pytest.mark.real  # builds, and runs the program in processes of their own


@pytest.fixture(scope="module")
def installed(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with nothing in it but what the wheel holds."""
    folder = tmp_path_factory.mktemp("wheel")
    subprocess.run(
        [sys.executable, "-m", "pip", "wheel", "-q", "--no-deps", "--no-build-isolation",
         "--no-index", "-w", str(folder), str(ROOT)],
        check=True, capture_output=True, timeout=300,
    )  # fmt: skip
    (wheel,) = folder.glob("*.whl")
    site = folder / "site"
    with zipfile.ZipFile(wheel) as packed:
        packed.extractall(site)
    return site


def footplate(installed: Path, folder: Path, *words: str, typed: str = "") -> str:
    """What the program prints, run in a folder of its own; it must end well."""
    code = (
        f"import sys; sys.path.insert(0, {str(installed)!r}); "
        "import assistant; assert 'site' in assistant.__file__, assistant.__file__; "
        "from assistant.cli import main; sys.exit(main(sys.argv[1:]))"
    )
    home = {**os.environ, "FOOTPLATE_HOME": str(folder / "home")}
    run = subprocess.run(
        [sys.executable, "-P", "-c", code, *words], cwd=folder, input=typed, text=True,
        capture_output=True, timeout=300, env=home,
    )  # fmt: skip
    assert run.returncode == 0, run.stdout + run.stderr
    return run.stdout


def test_every_package_of_the_tree_is_in_it() -> None:
    """The list in pyproject.toml is written by hand."""
    named = tomllib.loads((ROOT / "pyproject.toml").read_text())["tool"]["setuptools"]["packages"]
    found = {
        ".".join(file.parent.relative_to(ROOT).parts)
        for file in (ROOT / "assistant").rglob("__init__.py")
    }
    assert {name for name in named if ".shipped." not in name} == found


def test_engines_lists_card_and_report(installed: Path, tmp_path: Path) -> None:
    footplate(installed, tmp_path, "check", "practice")
    footplate(installed, tmp_path, "card", "--engine", "practice", "--out", "card.pdf")
    assert (tmp_path / "card.pdf").read_bytes().startswith(b"%PDF")
    lines = "that's right\nwater half\n"
    words = ["run", "--engine", "practice", "--typed", "--mute", "--out", "books"]
    footplate(installed, tmp_path, *words, typed=lines)
    (book,) = (tmp_path / "books").glob("*.jsonl")
    footplate(installed, tmp_path, "report", str(book), "--out", "page.html")
    assert "Practice engine" in (tmp_path / "page.html").read_text()
    footplate(installed, tmp_path, "replay", str(book))


@pytest.mark.ear
def test_the_bundled_ear_hears(installed: Path, tmp_path: Path) -> None:
    import numpy as np
    import soundfile

    quiet = np.random.default_rng(1).normal(0.0, 1e-4, 16_000).astype(np.float32)
    soundfile.write(tmp_path / "quiet.wav", quiet, 16_000)
    heard = footplate(installed, tmp_path, "hear", "quiet.wav", "--json")
    assert '"decision": "ignore"' in heard
