"""What tests of several rooms share."""

from __future__ import annotations

import os
import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest
from guards import guard
from hypothesis import settings

from assistant.errors import WorldFailedError
from assistant.lab import outside
from assistant.simulator import voices
from assistant.simulator.voices import SynthesiserVoice

# Files are read from a disk that others use too: no example of a property has a deadline.
settings.register_profile("no deadline", deadline=None)
settings.load_profile("no deadline")


# Libraries keep their own caches where they always do.
os.environ.setdefault("MPLCONFIGDIR", str(Path.home() / ".cache" / "matplotlib"))


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Files that wait for the clock first, two others after each: no processor waits with them.

    Examples in docstrings last: they are short, and end on all processes together.
    """
    files: dict[Path, list[pytest.Item]] = {}
    for item in items:
        files.setdefault(item.path, []).append(item)
    tests = Path(__file__).parent
    waiting = [f for f in files if any(i.get_closest_marker("real") for i in files[f])]
    others = [f for f in files if f not in waiting and tests in f.parents]
    order = [f for n, wait in enumerate(waiting) for f in (wait, *others[2 * n : 2 * n + 2])]
    order += others[2 * len(waiting) :]
    order += [f for f in files if f not in waiting and tests not in f.parents]
    items[:] = [item for f in order for item in files[f]]


@pytest.fixture(autouse=True)
def _nothing_real(
    request: pytest.FixtureRequest,
    monkeypatch: pytest.MonkeyPatch,
    tmp_path_factory: pytest.TempPathFactory,
) -> Iterator[None]:
    """The clock, sleep, the sound card and the home folder are for tests marked `real` only."""
    if request.node.get_closest_marker("real"):
        yield
        return
    home = tmp_path_factory.getbasetemp() / "no home"
    guard(monkeypatch, home, Path(__file__).parent)
    yield
    if home.exists():
        written = sorted(str(path.relative_to(home)) for path in home.rglob("*"))
        shutil.rmtree(home)
        pytest.fail(f"writes to the home folder, and is not marked `real`: {written}")


@pytest.fixture
def voice() -> SynthesiserVoice:
    """The first of the practice operator's voices; skipped with a word where there is none."""
    try:
        return voices.available()[0]
    except WorldFailedError as missing:
        pytest.skip(str(missing))


@pytest.fixture(scope="session")
def recordings() -> Path:
    """The folder of human recordings, which are no part of the project."""
    folder = outside.speech_folder()
    if not (folder / "commands" / "labels.json").is_file():
        pytest.skip(f"no human recordings here: {outside.VARIABLE} names the folder they are in")
    return folder
