"""Whisper in torch, so that an adapter can be trained: the same arithmetic as in numpy.

Knows arrays. The encoder takes an adapter (low-rank products and plain differences); the decoder
never changes. A test compares the output with that of `whisper_encoder` and `whisper_decoder`.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from typing import Any

import numpy as np

from assistant.errors import WorldFailedError
from assistant.recogniser.mel import BANDS, HOP, WINDOW, mel_filters
from assistant.recogniser.whisper_blocks import HEADS
from assistant.recogniser.whisper_weights import Float32Array

Tensor = Any  # torch is not installed for the type checker
FRAMES = 1000  # 10 s
_AFTER_S = 1.0  # as DecodingSettings.after_s
_LOW_RANK = ("self_attention/linear_0", "self_attention/linear_1", "ffn/linear_0", "ffn/linear_1")


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


class TorchWhisper:
    """Encoder, decoder and log-mel on one device.

    weights: the model's arrays by name, encoder and decoder. tokens: those that may be written; the
    probabilities add up over them, as in `whisper_decoder`.
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
        self._filters = library.tensor(mel_filters(), device=device)
        self._window = library.hann_window(WINDOW, device=device)
        self.layers = 1 + max(
            int(name.split("_")[1].split("/")[0])
            for name in weights
            if name.startswith("encoder/layer_") and name[14].isdigit()
        )

    def slots(self, tokens: Sequence[int]) -> Float32Array:
        """Indices of these tokens among those that may be written; -1: may not."""
        return np.asarray(self._slot[list(tokens)])

    def adapter(self, rank: int, seed: int, last_layers: int | None = None) -> dict[str, Tensor]:
        """Trainable parameters, initialised to zero effect. last_layers: only in so many layers."""
        library = self._torch
        generator = library.Generator().manual_seed(seed)
        first = 0 if last_layers is None else self.layers - last_layers
        adapter: dict[str, Tensor] = {}
        for number in range(first, self.layers):
            for part in _LOW_RANK:
                stem = f"encoder/layer_{number}/{part}"
                out, inside = self.weights[f"{stem}/weight"].shape
                a = library.randn(rank, inside, generator=generator) / math.sqrt(inside)
                adapter[f"{stem}/A"] = a.to(self.device)
                adapter[f"{stem}/B"] = library.zeros(out, rank, device=self.device)
        for name, array in self.weights.items():
            if name.startswith("encoder/") and self._is_full(name, first):
                adapter[name] = library.zeros_like(array)
        for parameter in adapter.values():
            parameter.requires_grad_()
        return adapter

    def _is_full(self, name: str, first_layer: int) -> bool:
        """Whether it is trained in full: biases, norms and the convolutions, from that layer on."""
        if name.startswith("encoder/layer_") and name[14].isdigit():
            return int(name[14]) >= first_layer and not name.endswith("/weight")
        outside = first_layer == 0 and "position" not in name
        return outside or name.startswith("encoder/layer_norm")

    def padded(self, sounds: Sequence[Float32Array]) -> tuple[Tensor, Tensor]:
        """[count, samples] and the samples in each; longer ones are cut."""
        library, most = self._torch, self.frames * HOP
        lengths = [min(len(sound), most) for sound in sounds]
        # One long row to the device: the padding is created there.
        every = library.from_numpy(np.concatenate([sound[:most] for sound in sounds]))
        rows = every.to(self.device).float().split(lengths)
        padded = library.zeros(len(sounds), most, device=self.device)
        for target, row in zip(padded, rows, strict=True):
            target[: len(row)] = row
        return padded, library.tensor(lengths, device=self.device)

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
        f = self._f
        adapted = _Adapted(self.weights, adapter or {}, f)
        x = mel
        for stride, name in ((1, "conv1"), (2, "conv2")):
            kernel = adapted.array(f"encoder/{name}/weight")
            bias = adapted.array(f"encoder/{name}/bias")
            x = f.gelu(f.conv1d(x, kernel, bias, padding=1, stride=stride))
        x = x.transpose(1, 2)
        x = x + self.weights["encoder/position_encodings/encodings"][: x.shape[1]]
        for number in range(self.layers):
            stem = f"encoder/layer_{number}"
            normed = adapted.norm(x, f"{stem}/self_attention/layer_norm")
            qkv = adapted.linear(normed, f"{stem}/self_attention/linear_0")
            q, k, v = map(_heads, qkv.chunk(3, -1))
            context = _joined(f.scaled_dot_product_attention(q, k, v))
            x = x + adapted.linear(context, f"{stem}/self_attention/linear_1")
            normed = adapted.norm(x, f"{stem}/ffn/layer_norm")
            hidden = adapted.linear(normed, f"{stem}/ffn/linear_0")
            x = x + adapted.linear(f.gelu(hidden), f"{stem}/ffn/linear_1")
        return adapted.norm(x, "encoder/layer_norm")

    def attended(self, lengths: Tensor) -> Tensor:
        """[count, positions]: what the decoder may attend to."""
        last = ((lengths / 16_000 + _AFTER_S) * FRAMES / 20).long().clamp(max=self.frames // 2)
        return self._torch.arange(self.frames // 2, device=self.device)[None] < last[:, None]

    def decode(
        self, slots: Tensor, encoded: Tensor, attended: Tensor, sound_of: Tensor | None = None
    ) -> Tensor:
        """Last states [count, length, width] of token prefixes [count, length].

        attended: see there. sound_of: which of the sounds each belongs to; None: one each.
        """
        f, plain = self._f, _Adapted(self.weights, {}, self._f)
        x = self._embeddings[slots]
        x = x + self.weights["decoder/position_encodings/encodings"][: slots.shape[1]]
        sounds = slice(None) if sound_of is None else sound_of
        mask = attended[sounds, None, None, :]
        for number in range(self.layers):
            stem = f"decoder/layer_{number}"
            normed = plain.norm(x, f"{stem}/self_attention/layer_norm")
            qkv = plain.linear(normed, f"{stem}/self_attention/linear_0")
            q, k, v = map(_heads, qkv.chunk(3, -1))
            context = _joined(f.scaled_dot_product_attention(q, k, v, is_causal=True))
            x = x + plain.linear(context, f"{stem}/self_attention/linear_1")
            normed = plain.norm(x, f"{stem}/attention/layer_norm")
            q = _heads(plain.linear(normed, f"{stem}/attention/linear_0"))
            k, v = map(_heads, plain.linear(encoded, f"{stem}/attention/linear_1").chunk(2, -1))
            k, v = k[sounds], v[sounds]
            context = _joined(f.scaled_dot_product_attention(q, k, v, attn_mask=mask))
            x = x + plain.linear(context, f"{stem}/attention/linear_2")
            normed = plain.norm(x, f"{stem}/ffn/layer_norm")
            hidden = plain.linear(normed, f"{stem}/ffn/linear_0")
            x = x + plain.linear(f.gelu(hidden), f"{stem}/ffn/linear_1")
        return plain.norm(x, "decoder/layer_norm")

    def losses(
        self,
        prompts: Sequence[Sequence[int]],
        texts: Sequence[Sequence[int]],
        encoded: Tensor,
        attended: Tensor,
        sound_of: Sequence[int] | None = None,
    ) -> tuple[Tensor, Tensor]:
        """Nats of every token of every text, and which text each belongs to.

        texts: tokens after the prompt, with the end of text. attended, sound_of: see `decode`.
        """
        library = self._torch
        width = max(len(b) + len(t) for b, t in zip(prompts, texts, strict=True))
        slots = np.zeros((len(texts), width), np.int64)
        rows, columns, targets = [], [], []
        for row, (prompt, text) in enumerate(zip(prompts, texts, strict=True)):
            both = self.slots([*prompt, *text])
            assert (both >= 0).all(), "a token that may not be written"
            slots[row, : len(both)] = both
            for column in range(len(prompt) - 1, len(both) - 1):
                rows.append(row)
                columns.append(column)
                targets.append(both[column + 1])
        states = self.decode(
            library.tensor(slots, device=self.device),
            encoded,
            attended,
            None if sound_of is None else library.tensor(sound_of, device=self.device),
        )
        of = library.tensor(rows, device=self.device)
        logits = states[of, library.tensor(columns, device=self.device)] @ self._embeddings.T
        target = library.tensor(np.array(targets), device=self.device)
        return self._f.cross_entropy(logits.float(), target, reduction="none"), of


class _Adapted:
    """Weights with an adapter."""

    def __init__(
        self, weights: Mapping[str, Tensor], adapter: Mapping[str, Tensor], f: Any
    ) -> None:
        self._weights, self._adapter, self._f = weights, adapter, f

    def array(self, name: str) -> Tensor:
        """One array."""
        array = self._weights[name]
        return array + self._adapter[name] if name in self._adapter else array

    def linear(self, x: Tensor, stem: str) -> Tensor:
        """The low-rank product is applied as two narrow products."""
        y = self._f.linear(x, self._weights[f"{stem}/weight"], self.array(f"{stem}/bias"))
        if f"{stem}/A" in self._adapter:
            narrow = self._f.linear(x, self._adapter[f"{stem}/A"])
            y = y + self._f.linear(narrow, self._adapter[f"{stem}/B"])
        return y

    def norm(self, x: Tensor, stem: str) -> Tensor:
        """Layer normalisation along the width."""
        gamma, beta = self.array(f"{stem}/gamma"), self.array(f"{stem}/beta")
        return self._f.layer_norm(x, (x.shape[-1],), gamma, beta)


def _heads(x: Tensor) -> Tensor:
    count, length, width = x.shape
    return x.reshape(count, length, HEADS, width // HEADS).transpose(1, 2)


def _joined(x: Tensor) -> Tensor:
    count, heads, length, width = x.shape
    return x.transpose(1, 2).reshape(count, length, heads * width)
