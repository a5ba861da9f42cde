"""Files of weights that ship or come with a package: where they are, and whether they are those.

A file with another checksum would hear other words: it is refused. Knows files, no network.
"""

from __future__ import annotations

import hashlib
from functools import lru_cache
from pathlib import Path

from assistant.errors import WorldFailedError
from assistant.shipped_folder import SHIPPED

SPEECH = SHIPPED / "models" / "speech"
DETECTOR = SPEECH / "silero_vad.onnx"
TUNED = SPEECH / "tuned_encoder.npz"

# SHA-256 of what this program was measured with.
SHA256 = {
    "silero_vad.onnx": "1a153a22f4509e292a94e67d6f9b85e8deb25b4988682b7e174c65279d8788e3",
    "model.bin": "1a5afae06a4db91c975c9a9d78be5cc110ee4ea022ad57d55492e4550e936b2a",
    "tokenizer.json": "929c5252409436dce1b38a75d1abbcb5e132d170d8e324e4e04ed915fa2d22df",
}


@lru_cache(maxsize=8)
def proved(file: Path) -> Path:
    """The file, once its checksum was compared; WorldFailedError when it is another or missing."""
    try:
        with file.open("rb") as opened:
            found = hashlib.file_digest(opened, "sha256").hexdigest()
    except OSError as trouble:
        raise WorldFailedError(f"{file}: {trouble.strerror or trouble}") from trouble
    if found != SHA256[file.name]:
        raise WorldFailedError(
            f"{file} is not the file that this program was measured with (SHA-256 {found[:16]}...):"
            " run the set-up again"
        )
    return file
