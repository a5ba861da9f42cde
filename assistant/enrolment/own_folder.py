"""An owner's recordings and the adapter trained on them: one folder of this machine.

Knows files; knows no grammar.
"""

from __future__ import annotations

import json
import shutil
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from assistant.config.private_files import PRIVATE_FILE, PRIVATE_FOLDER, make_private_folder
from assistant.devices.sound import read_samples
from assistant.grammar.numbers import Words
from assistant.messages import SPEECH_RATE_HZ
from assistant.recogniser.adapter import OWN_FILE
from assistant.recogniser.base import Sound


@dataclass(frozen=True, slots=True)
class VoiceFolder:
    """Where they are."""

    path: Path

    @property
    def adapter(self) -> Path:
        """The adapter that was kept; it may not be there."""
        return self.path / OWN_FILE

    def keep(self, number: int, words: Words, sound: Sound) -> None:
        """Write one phrase; an earlier one of that number is overwritten."""
        import soundfile

        make_private_folder(self.path)
        self.path.chmod(PRIVATE_FOLDER)
        spoken, text = (self.path / f"{number:02}{suffix}" for suffix in (".flac", ".json"))
        for file in (spoken, text):
            file.touch(PRIVATE_FILE)
            file.chmod(PRIVATE_FILE)
        soundfile.write(spoken, sound, SPEECH_RATE_HZ)
        text.write_text(json.dumps(words), encoding="utf-8")

    def recordings(self) -> Iterator[tuple[int, Words, Sound]]:
        """Number, words and sound of each phrase."""
        for file in sorted(self.path.glob("[0-9][0-9].json")):
            words = tuple(json.loads(file.read_text(encoding="utf-8")))
            yield int(file.stem), words, read_samples(file.with_suffix(".flac"))

    def forget(self) -> bool:
        """Delete everything; False: there was nothing."""
        exists = self.path.is_dir()
        if exists:
            shutil.rmtree(self.path)
        return exists
