"""A live run as systemd starts it, on a virtual card: it listens in time.

The unit restricts sockets to local ones; that the run needs no other is tried here as well.
"""

from __future__ import annotations

import os
import signal
import socket
import subprocess
import sys
import time
from pathlib import Path

import pytest
from shell import own_engine

from assistant.devices.sound_card import SoundCard
from assistant.lab.faults.virtual_card import MICROPHONE, SPEAKER, VirtualCard

# A live session in a process of its own, by the real clock.
pytestmark = [pytest.mark.sound, pytest.mark.ear, pytest.mark.real]

LISTENS_S = 20.0  # promised, from the start of the unit
# The program where the system gives no socket but local ones, as RestrictAddressFamilies does.
LOCAL_ONLY = """
import errno, socket, sys
def refuse(event, given):
    if event == "socket.__new__" and given[1] != socket.AF_UNIX:
        raise OSError(errno.EAFNOSUPPORT, "not supported")
sys.addaudithook(refuse)
from assistant.cli import main
sys.exit(main(sys.argv[1:]))
"""


def test_it_listens_within_twenty_seconds_of_its_start(
    sound_server: VirtualCard, card: SoundCard, tmp_path: Path
) -> None:
    address = str(tmp_path / "notify")
    engine = own_engine(tmp_path)
    with socket.socket(socket.AF_UNIX, socket.SOCK_DGRAM) as notified:
        notified.bind(address)
        notified.settimeout(3 * LISTENS_S)
        began_s = time.monotonic()
        process = subprocess.Popen(
            [sys.executable, "-c", LOCAL_ONLY, "run", "--resume-or-begin", "--engine", str(engine),
             "--microphone", MICROPHONE, "--speaker", SPEAKER, "--out", str(tmp_path / "books")],
            stdin=subprocess.DEVNULL, stdout=subprocess.DEVNULL, stderr=subprocess.PIPE,
            env={**os.environ, "NOTIFY_SOCKET": address},
        )  # fmt: skip
        try:
            told = notified.recv(1000)
            took_s = time.monotonic() - began_s
            assert told.startswith(b"READY=1")
            print(f"listens after {took_s:.1f} s")
            assert took_s < LISTENS_S
            process.send_signal(signal.SIGTERM)
            assert process.wait(60.0) == 0
        finally:
            process.kill()
            process.communicate()
