"""Files that hold what a person said or did: readable by their owner only. Knows no contents."""

from __future__ import annotations

from pathlib import Path

PRIVATE_FILE = 0o600
PRIVATE_FOLDER = 0o700


def make_private_folder(folder: Path) -> None:
    """Make a folder and those above it that are missing, each for its owner only. OSError.

    A folder that is there keeps its permissions: it may be shared on purpose.
    """
    if folder.is_dir():
        return
    if folder.parent != folder:
        make_private_folder(folder.parent)
    folder.mkdir(mode=PRIVATE_FOLDER, exist_ok=True)
