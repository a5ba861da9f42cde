"""vosk's model on this machine: where it lies, whether it is whole, how it is fetched.

The only module that imports vosk. A broken model may end the process, so one is tried in a process
of its own.
"""

from __future__ import annotations

import os
import subprocess
import sys
import types
from collections.abc import Callable, Iterable
from pathlib import Path
from typing import Any

from assistant.errors import WorldFailedError
from assistant.messages import SPEECH_RATE_HZ

MODELS = Path("models/speech")
ENGLISH = "vosk-model*-en*"

# A folder without one of these makes vosk end the process or fail late.
_NEEDED = ("am/final.mdl", "conf/mfcc.conf")
_GRAPHS = (("graph/HCLr.fst", "graph/Gr.fst"), ("graph/HCLG.fst",))


def vosk_library() -> Any:
    """vosk itself. `srt`, which only its subtitle writer uses, is not installed."""
    try:
        sys.modules.setdefault("srt", types.ModuleType("srt"))
        import vosk
    except (ImportError, OSError) as error:
        raise WorldFailedError(f"vosk cannot be loaded ({error})") from error
    vosk.SetLogLevel(-1)
    return vosk


def model_folders() -> tuple[Path, ...]:
    """Folders in which a model may lie: beside the engines, then vosk's own."""
    named = os.environ.get("VOSK_MODEL_PATH")
    return (
        MODELS,
        *([Path(named)] if named else []),
        Path("/usr/share/vosk"),
        Path.home() / ".cache" / "vosk",
    )


def find_model(where: Iterable[Path] | None = None, pattern: str = ENGLISH) -> Path | None:
    """The folder of an English model, a small one first; None: there is none."""
    for folder in where if where is not None else model_folders():
        if looks_whole(folder):
            return folder
        models = sorted(path for path in folder.glob(pattern) if path.is_dir())
        small_first = sorted(models, key=lambda path: "small" not in path.name)
        if small_first:
            return small_first[0]
    return None


def looks_whole(folder: Path) -> bool:
    """Whether the files are there without which vosk cannot even begin."""
    return not missing_files(folder)


def missing_files(folder: Path) -> tuple[str, ...]:
    """The files a model lacks."""

    def there(name: str) -> bool:
        return (folder / name).is_file() and (folder / name).stat().st_size > 0

    lacking = tuple(name for name in _NEEDED if not there(name))
    if any(all(there(name) for name in graph) for graph in _GRAPHS):
        return lacking
    return (*lacking, _GRAPHS[0][0])


def check_model(folder: Path, timeout_s: float = 120.0) -> None:
    """Load the model once in a separate process, because a broken one may end it.

    Raises WorldFailedError with one line if it cannot be used.
    """
    lacking = missing_files(folder)
    if lacking:
        raise WorldFailedError(f"{folder}: not a whole vosk model, it lacks {', '.join(lacking)}")
    trial = (
        "import sys; from pathlib import Path; "
        "from assistant.recogniser.vosk_model import _trial; _trial(Path(sys.argv[1]))"
    )
    try:
        done = subprocess.run(
            [sys.executable, "-c", trial, str(folder)],
            capture_output=True, timeout=timeout_s, check=False,
        )  # fmt: skip
    except subprocess.TimeoutExpired:
        raise WorldFailedError(
            f"{folder}: this vosk model does not load in {timeout_s:.0f} s"
        ) from None
    if done.returncode:
        raise WorldFailedError(f"{folder}: a broken vosk model; fetch it again")


def _trial(folder: Path) -> None:
    """Load it and hear half a second of nothing."""
    vosk = vosk_library()
    recognizer = vosk.KaldiRecognizer(vosk.Model(str(folder)), SPEECH_RATE_HZ)
    recognizer.AcceptWaveform(bytes(SPEECH_RATE_HZ))
    recognizer.FinalResult()


def fetch_model(progress: Callable[[str], None], into: Path = MODELS) -> Path:
    """Fetch the small English model with vosk's own downloader, and try it.

    The only use of a network. Returns its folder. Raises WorldFailedError with one line if it
    cannot be had or does not load.
    """
    vosk = vosk_library()
    progress("asking vosk for its list of models")
    try:
        import requests

        answer = requests.get(vosk.MODEL_LIST_URL, timeout=10)
        answer.raise_for_status()
        names = [
            model["name"]
            for model in answer.json()
            if model["lang"] == "en-us"
            and model["type"] == "small"
            and model["obsolete"] == "false"
        ]
        if not names:
            raise WorldFailedError("vosk lists no small English model any more")
        folder = into / str(names[0])
        progress(f"fetching {names[0]}")
        into.mkdir(parents=True, exist_ok=True)
        vosk.Model.download_model(_Downloader(), folder)
    except WorldFailedError:
        raise
    except Exception as error:  # requests, urllib, zipfile and the socket each raise their own
        reason = str(error).splitlines()[0] if str(error) else type(error).__name__
        raise WorldFailedError(f"the vosk model cannot be fetched: {reason[:160]}") from error
    progress(f"trying {folder.name}")
    check_model(folder)
    return folder


class _Downloader:
    """What vosk's downloader asks of a model object: a hook for its progress bar."""

    def download_progress_hook(self, bar: Any) -> Callable[..., Any]:
        done = [0]

        def update(blocks: int = 1, size: int = 1, total: int | None = None) -> Any:
            if total not in (None, -1):
                bar.total = total
            moved = bar.update((blocks - done[0]) * size)
            done[0] = blocks
            return moved

        return update
