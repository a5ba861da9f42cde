"""What the one who started us is told, by a socket as systemd gives it."""

from __future__ import annotations

import socket
from pathlib import Path

import pytest

from assistant.devices.supervisor import VARIABLE, Supervisor


def listening(address: str) -> socket.socket:
    listener = socket.socket(socket.AF_UNIX, socket.SOCK_DGRAM)
    listener.bind(address)
    listener.settimeout(5.0)
    return listener


@pytest.mark.parametrize("abstract", [False, True])
def test_what_is_told_arrives(tmp_path: Path, abstract: bool) -> None:
    name = f"{tmp_path}/notify"
    with listening("\0" + name if abstract else name) as listener:
        supervisor = Supervisor("@" + name if abstract else name)
        supervisor.ready("the book is a.jsonl\nREADY=0")
        supervisor.alive()
        supervisor.stopping()
        assert [listener.recv(200) for _ in range(3)] == [
            b"READY=1\nSTATUS=the book is a.jsonl READY=0", b"WATCHDOG=1", b"STOPPING=1",
        ]  # fmt: skip


def test_the_address_is_taken_out_of_the_environment() -> None:
    environment = {VARIABLE: "/nowhere", "HOME": "/"}
    Supervisor.of_environment(environment).alive()  # nobody there: nothing happens
    assert environment == {"HOME": "/"}
    Supervisor.of_environment(environment).ready()


def test_one_who_does_not_read_holds_nobody_up(tmp_path: Path) -> None:
    with listening(f"{tmp_path}/notify"):
        supervisor = Supervisor(f"{tmp_path}/notify")
        for _ in range(5000):
            supervisor.alive()
