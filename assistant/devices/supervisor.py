"""Tells who started the program that it is ready, alive, or about to end: the sd_notify protocol.

A datagram to the socket that NOTIFY_SOCKET names. Knows nothing of the session; whoever calls
`alive` says by it that the loop goes round.
"""

from __future__ import annotations

import contextlib
import os
import socket
from collections.abc import MutableMapping

VARIABLE = "NOTIFY_SOCKET"


class Supervisor:
    """The one who started us. Nothing here can raise or wait; without an address it does nothing.

    address: a path, or "@" and a name of Linux's abstract sockets.
    """

    def __init__(self, address: str = "") -> None:
        self._address = "\0" + address[1:] if address.startswith("@") else address

    @classmethod
    def of_environment(cls, environment: MutableMapping[str, str] = os.environ) -> Supervisor:
        """The one that the environment names, taken out of it: it is not for our own children."""
        return cls(environment.pop(VARIABLE, ""))

    @property
    def is_there(self) -> bool:
        """Whether somebody started us who starts us again."""
        return bool(self._address)

    def ready(self, status: str = "") -> None:
        """The start is over. status: one line for a person."""
        self._send("READY=1\nSTATUS=" + " ".join(status.split()))

    def alive(self) -> None:
        """The loop went round once more."""
        self._send("WATCHDOG=1")

    def stopping(self) -> None:
        """The end was asked for and is in hand."""
        self._send("STOPPING=1")

    def _send(self, message: str) -> None:
        if not self._address:
            return
        with (
            contextlib.suppress(OSError),
            socket.socket(socket.AF_UNIX, socket.SOCK_DGRAM | socket.SOCK_NONBLOCK) as sender,
        ):
            sender.sendto(message.encode("utf-8", "replace"), self._address)
