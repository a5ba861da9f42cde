"""`footplate devices`: lists microphones and speakers, tests a microphone, records noise."""

from __future__ import annotations

import argparse
from pathlib import Path

from assistant.commands import record_noise
from assistant.commands.output import Out
from assistant.devices.device_list import Device
from assistant.devices.microphone import CardSource
from assistant.devices.recorder import record
from assistant.devices.sound_card import SoundCard
from assistant.errors import NotRightError

LISTEN_S = 6.0


def add(parser: argparse.ArgumentParser) -> None:
    """The arguments of `devices`."""
    what = parser.add_mutually_exclusive_group()
    what.add_argument(
        "--test", action="store_true", help="listen for six seconds and judge the microphone"
    )
    what.add_argument(
        "--record-noise", type=record_noise.seconds, nargs="?", const=record_noise.DEFAULT_S,
        metavar="SECONDS", help="record your engine alone, nobody speaking, to test with it "
        f"(default {record_noise.DEFAULT_S:.0f} s)",
    )  # fmt: skip
    parser.add_argument("--microphone", metavar="NAME", help="which one to test or to record with")
    parser.add_argument(
        "--out", type=Path, metavar="PLACE",
        help="record-noise: another folder, or a name ending in .flac or .wav",
    )  # fmt: skip
    parser.add_argument("--json", action="store_true", help="JSON lines")


def run(given: argparse.Namespace, out: Out) -> int:
    """List, test or record; returns 0, raises NotRightError for an unfit microphone."""
    card = SoundCard()
    if given.test:
        return _test(card, given.microphone, out)
    if given.record_noise is not None:
        device = card.find(given.microphone, "microphone")
        source = CardSource(card, given.microphone)
        record_noise.record_noise(source, device.name, given.record_noise, given.out, out)
        return 0
    devices = card.devices()
    for device in devices:
        out.record(
            {"index": device.index, "name": device.name, "through": device.through,
             "microphone": device.fits("microphone"), "speaker": device.fits("speaker"),
             "rate_hz": device.rate_hz, "default": device.default}
        )  # fmt: skip
        out.line(_line(device))
    if not devices:
        out.line("no sound devices: practice and typed lines work without")
    return 0


def _line(device: Device) -> str:
    uses = [use for use in ("microphone", "speaker") if device.fits(use)]
    mark = "*" if device.default else " "
    return (
        f"{mark}{device.index:3}  {device.name}  "
        f"({', '.join(uses)}; {device.rate_hz} Hz; {device.through})"
    )


def _test(card: SoundCard, name: str | None, out: Out) -> int:
    from assistant.devices.mic_check import check_lines, measure_microphone

    device = card.find(name, "microphone")
    out.tell(f"{device.name}: two seconds of quiet, then say: pressure seventy five, water half")
    measured = measure_microphone(record(CardSource(card, name, own_rate=True), LISTEN_S))
    out.record(
        {"name": device.name, "usable": measured.usable, "speech_db": measured.speech_db,
         "noise_db": measured.noise_db, "ratio_db": measured.ratio_db,
         "findings": [finding.what for finding in measured.findings]}
    )  # fmt: skip
    for line in check_lines(measured):
        out.line(line)
    if not measured.usable:
        raise NotRightError(f"{device.name}: not fit for spoken readings")
    return 0
