"""The bundled ear once more, in torch, so that it can learn: the same sums as our numpy ear.

Knows arrays. The encoder may carry additions (thin products and plain ones); the decoder never
changes. A test holds it to the numpy ear's own output.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from typing import Any

import numpy as np

from assistant.errors import WorldFailedError
from assistant.recogniser.mel import BANDS, HOP, WINDOW, _filters
from assistant.recogniser.whisper_blocks import HEADS
from assistant.recogniser.whisper_weights import Float32Array

Tensor = Any  # torch is not there for the type checker either
FRAMES = 1000  # 10 s, the window the ear uses
_AFTER_S = 1.0  # how much past the speech the decoder may look at, as the ear does
_WIDE = ("self_attention/linear_0", "self_attention/linear_1", "ffn/linear_0", "ffn/linear_1")


def torch() -> Any:
    """The library, or WorldFailedError with what to do."""
    try:
        import torch as library
    except ImportError:
        raise WorldFailedError(
            "learning needs torch, which is not installed: "
            "get the extra with .venv/bin/python -m pip install -e '.[tune]' (it is large)"
        ) from None
    return library


def device_here() -> str:
    """Where to work: "cuda" where there is a card for it, else "cpu"."""
    return "cuda" if torch().cuda.is_available() else "cpu"


class TorchWhisper:
    """Encoder, decoder and log-mel on one device.

    weights: the model's arrays by name, encoder and decoder. tokens: those that may be written; the
    probabilities add up over them, as in our ear.
    """

    def __init__(
        self,
        weights: Mapping[str, Float32Array],
        tokens: Sequence[int],
        device: str,
        frames: int = FRAMES,
    ) -> None:
        library = torch()
        self.device = device
        self.frames = frames
        self._torch, self._f = library, library.nn.functional
        embeddings = weights["decoder/embeddings/weight"]
        self._slot = np.full(len(embeddings), -1)
        self._slot[list(tokens)] = np.arange(len(tokens))
        self.weights: dict[str, Tensor] = {
            name: library.tensor(array, device=device)
            for name, array in weights.items()
            if name != "decoder/embeddings/weight"
        }
        self._embeddings = library.tensor(embeddings[list(tokens)], device=device)
        self._filters = library.tensor(_filters(), device=device)
        self._window = library.hann_window(WINDOW, device=device)
        self.layers = 1 + max(
            int(name.split("_")[1].split("/")[0])
            for name in weights
            if name.startswith("encoder/layer_") and name[14].isdigit()
        )

    def slots(self, tokens: Sequence[int]) -> Float32Array:
        """Places of these tokens among those that may be written; -1: may not."""
        return np.asarray(self._slot[list(tokens)])

    def adapter(self, rank: int, seed: int, last_layers: int | None = None) -> dict[str, Tensor]:
        """What will be learnt, all without effect yet. last_layers: only in so many of the last."""
        library = self._torch
        chance = library.Generator().manual_seed(seed)
        first = 0 if last_layers is None else self.layers - last_layers
        made: dict[str, Tensor] = {}
        for number in range(first, self.layers):
            for part in _WIDE:
                stem = f"encoder/layer_{number}/{part}"
                out, inside = self.weights[f"{stem}/weight"].shape
                adapter_rate = library.randn(rank, inside, generator=chance) / math.sqrt(inside)
                made[f"{stem}/A"] = adapter_rate.to(self.device)
                made[f"{stem}/B"] = library.zeros(out, rank, device=self.device)
        for name, array in self.weights.items():
            if name.startswith("encoder/") and self._is_small(name, first):
                made[name] = library.zeros_like(array)
        for addition in made.values():
            addition.requires_grad_()
        return made

    def _is_small(self, name: str, first_layer: int) -> bool:
        """Biases, norms and the two convolutions; of the given layers and what stands outside."""
        if name.startswith("encoder/layer_") and name[14].isdigit():
            return int(name[14]) >= first_layer and not name.endswith("/weight")
        outside = first_layer == 0 and "position" not in name
        return outside or name.startswith("encoder/layer_norm")

    def sounds(self, sounds: Sequence[Float32Array]) -> tuple[Tensor, Tensor]:
        """[count, samples] and the samples in each; longer ones are cut."""
        library, most = self._torch, self.frames * HOP
        lengths = [min(len(sound), most) for sound in sounds]
        # One long row to the device, laid out there: the quiet need not travel.
        every = library.from_numpy(np.concatenate([sound[:most] for sound in sounds]))
        rows = every.to(self.device).float().split(lengths)
        laid = library.zeros(len(sounds), most, device=self.device)
        for place, row in zip(laid, rows, strict=True):
            place[: len(row)] = row
        return laid, library.tensor(lengths, device=self.device)

    def log_mel(self, sounds: Tensor) -> Tensor:
        """[count, BANDS, frames] of [count, samples]."""
        library = self._torch
        power = library.stft(
            sounds, WINDOW, HOP, window=self._window, center=True, pad_mode="reflect",
            return_complex=True,
        )[:, :, : self.frames].abs() ** 2  # fmt: skip
        logs = library.clamp(self._filters @ power, min=1e-10).log10()
        logs = library.maximum(logs, logs.amax((1, 2), keepdim=True) - 8)
        assert logs.shape[1] == BANDS
        return (logs + 4) / 4

    def encode(self, mel: Tensor, adapter: Mapping[str, Tensor] | None = None) -> Tensor:
        """[count, positions, width]."""
        f, more = self._f, adapter or {}
        own = _Own(self.weights, more, f)
        x = mel
        for stride, name in ((1, "conv1"), (2, "conv2")):
            kernel, bias = own.of(f"encoder/{name}/weight"), own.of(f"encoder/{name}/bias")
            x = f.gelu(f.conv1d(x, kernel, bias, padding=1, stride=stride))
        x = x.transpose(1, 2)
        x = x + self.weights["encoder/position_encodings/encodings"][: x.shape[1]]
        for number in range(self.layers):
            stem = f"encoder/layer_{number}"
            asked = own.norm(x, f"{stem}/self_attention/layer_norm")
            q, k, v = map(_heads, own.linear(asked, f"{stem}/self_attention/linear_0").chunk(3, -1))
            seen = _joined(f.scaled_dot_product_attention(q, k, v))
            x = x + own.linear(seen, f"{stem}/self_attention/linear_1")
            wide = own.linear(own.norm(x, f"{stem}/ffn/layer_norm"), f"{stem}/ffn/linear_0")
            x = x + own.linear(f.gelu(wide), f"{stem}/ffn/linear_1")
        return own.norm(x, "encoder/layer_norm")

    def within(self, lengths: Tensor) -> Tensor:
        """[count, positions]: what the decoder may look at."""
        last = ((lengths / 16_000 + _AFTER_S) * FRAMES / 20).long().clamp(max=self.frames // 2)
        return self._torch.arange(self.frames // 2, device=self.device)[None] < last[:, None]

    def decode(
        self, slots: Tensor, encoded: Tensor, within: Tensor, heard: Tensor | None = None
    ) -> Tensor:
        """Last states [count, length, width] of beginnings [count, length]. heard: which of the
        sounds each listens to, None: one each."""
        f, own = self._f, _Own(self.weights, {}, self._f)
        x = self._embeddings[slots]
        x = x + self.weights["decoder/position_encodings/encodings"][: slots.shape[1]]
        every = slice(None) if heard is None else heard
        look = within[every, None, None, :]
        for number in range(self.layers):
            stem = f"decoder/layer_{number}"
            asked = own.norm(x, f"{stem}/self_attention/layer_norm")
            q, k, v = map(_heads, own.linear(asked, f"{stem}/self_attention/linear_0").chunk(3, -1))
            seen = _joined(f.scaled_dot_product_attention(q, k, v, is_causal=True))
            x = x + own.linear(seen, f"{stem}/self_attention/linear_1")
            asked = own.norm(x, f"{stem}/attention/layer_norm")
            q = _heads(own.linear(asked, f"{stem}/attention/linear_0"))
            k, v = map(_heads, own.linear(encoded, f"{stem}/attention/linear_1").chunk(2, -1))
            k, v = k[every], v[every]
            seen = _joined(f.scaled_dot_product_attention(q, k, v, attn_mask=look))
            x = x + own.linear(seen, f"{stem}/attention/linear_2")
            wide = own.linear(own.norm(x, f"{stem}/ffn/layer_norm"), f"{stem}/ffn/linear_0")
            x = x + own.linear(f.gelu(wide), f"{stem}/ffn/linear_1")
        return own.norm(x, "decoder/layer_norm")

    def losses(
        self,
        begins: Sequence[Sequence[int]],
        texts: Sequence[Sequence[int]],
        encoded: Tensor,
        within: Tensor,
        heard: Sequence[int] | None = None,
    ) -> tuple[Tensor, Tensor]:
        """Nats of every token of every text, and which text each belongs to.

        texts: tokens after the beginning, the end mark with them. heard: see `decode`.
        """
        library = self._torch
        width = max(len(b) + len(t) for b, t in zip(begins, texts, strict=True))
        slots = np.zeros((len(texts), width), np.int64)
        rows, columns, wanted = [], [], []
        for row, (begin, text) in enumerate(zip(begins, texts, strict=True)):
            both = self.slots([*begin, *text])
            assert (both >= 0).all(), "a token that may not be written"
            slots[row, : len(both)] = both
            for column in range(len(begin) - 1, len(both) - 1):
                rows.append(row)
                columns.append(column)
                wanted.append(both[column + 1])
        listening = None if heard is None else library.tensor(heard, device=self.device)
        laid = library.tensor(slots, device=self.device)
        states = self.decode(laid, encoded, within, listening)
        of = library.tensor(rows, device=self.device)
        logits = states[of, library.tensor(columns, device=self.device)] @ self._embeddings.T
        target = library.tensor(np.array(wanted), device=self.device)
        return self._f.cross_entropy(logits.float(), target, reduction="none"), of


class _Own:
    """Weights with what was added to them."""

    def __init__(self, weights: Mapping[str, Tensor], more: Mapping[str, Tensor], f: Any) -> None:
        self._weights, self._more, self._f = weights, more, f

    def of(self, name: str) -> Tensor:
        """One array."""
        array = self._weights[name]
        return array + self._more[name] if name in self._more else array

    def linear(self, x: Tensor, stem: str) -> Tensor:
        """With the thin product worked by itself: two narrow products instead of a wide one."""
        y = self._f.linear(x, self._weights[f"{stem}/weight"], self.of(f"{stem}/bias"))
        if f"{stem}/A" in self._more:
            adapter_rate = self._f.linear(x, self._more[f"{stem}/A"])
            y = y + self._f.linear(adapter_rate, self._more[f"{stem}/B"])
        return y

    def norm(self, x: Tensor, stem: str) -> Tensor:
        """Along the width."""
        gamma, beta = self.of(f"{stem}/gamma"), self.of(f"{stem}/beta")
        return self._f.layer_norm(x, (x.shape[-1],), gamma, beta)


def _heads(x: Tensor) -> Tensor:
    count, length, width = x.shape
    return x.reshape(count, length, HEADS, width // HEADS).transpose(1, 2)


def _joined(x: Tensor) -> Tensor:
    count, heads, length, width = x.shape
    return x.transpose(1, 2).reshape(count, length, heads * width)
