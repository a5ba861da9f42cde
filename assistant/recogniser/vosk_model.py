"""vosk's model on this machine: where it lies, whether it is whole, how it is fetched.

The only module that imports vosk. A broken model may end the process, so one is tried in a process
of its own.
"""

from __future__ import annotations

import hashlib
import os
import re
import subprocess
import sys
import tempfile
import types
import zipfile
from collections.abc import Callable, Iterable, Mapping
from pathlib import Path
from typing import Any

from assistant.errors import WorldFailedError
from assistant.messages import SPEECH_RATE_HZ

MODELS = Path("models/speech")
ENGLISH = "vosk-model*-en*"

_NAME = re.compile(r"vosk-model-[a-z0-9][A-Za-z0-9-]*(\.[A-Za-z0-9-]+)*")
_MD5 = re.compile(r"[0-9a-f]{32}")

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
    """Fetch the small English model from where vosk keeps its models, and try it.

    The only use of a network. Returns its folder. Raises WorldFailedError with one line if it
    cannot be had, is not what the list says, or does not load.
    """
    vosk = vosk_library()
    progress("asking vosk for its list of models")
    try:
        import requests

        answer = requests.get(vosk.MODEL_LIST_URL, timeout=10)
        answer.raise_for_status()
        name, md5 = _small_english(answer.json())
        progress(f"fetching {name}")
        into.mkdir(parents=True, exist_ok=True)
        with requests.get(f"{vosk.MODEL_PRE_URL}{name}.zip", timeout=60, stream=True) as archive:
            archive.raise_for_status()
            _unpack(archive.iter_content(2**20), md5, into, name)
    except WorldFailedError:
        raise
    except Exception as error:  # requests, zipfile and the socket each raise their own
        reason = str(error).splitlines()[0] if str(error) else type(error).__name__
        raise WorldFailedError(f"the vosk model cannot be fetched: {reason[:160]}") from error
    progress(f"trying {name}")
    check_model(into / name)
    return into / name


def _small_english(listed: Iterable[Mapping[str, Any]]) -> tuple[str, str]:
    """Name and checksum of the first small English model of vosk's list."""
    for model in listed:
        wanted = ("en-us", "small", "false")
        if tuple(model.get(key) for key in ("lang", "type", "obsolete")) != wanted:
            continue
        name, md5 = str(model.get("name")), str(model.get("md5")).lower()
        if not _NAME.fullmatch(name):  # it becomes the name of a folder
            raise WorldFailedError(f"vosk lists a model of a strange name: {name[:80]!r}")
        if not _MD5.fullmatch(md5):
            raise WorldFailedError(f"vosk lists {name} without a checksum: it is not fetched")
        return name, md5
    raise WorldFailedError("vosk lists no small English model any more")


def _unpack(pieces: Iterable[bytes], md5: str, into: Path, name: str) -> None:
    """Write, compare with the checksum, unpack; nothing of an archive is kept that is not right.

    The checksum comes from the same place as the archive: it shows a broken download, and an
    archive put in its place elsewhere; it cannot vouch for the place itself.
    """
    found = hashlib.md5(usedforsecurity=False)
    with tempfile.TemporaryFile(dir=into) as archive:
        for piece in pieces:
            found.update(piece)
            archive.write(piece)
        if found.hexdigest() != md5:
            raise WorldFailedError(
                f"{name}: what came is not what vosk's list says; fetch it again"
            )
        with zipfile.ZipFile(archive) as packed:
            strange = [n for n in packed.namelist() if not n.startswith(f"{name}/") or ".." in n]
            if strange:
                raise WorldFailedError(f"{name}: its archive holds {strange[0][:80]!r}")
            packed.extractall(into)
