"""The board's own certificate for https in the local net: made once, kept, known by its print."""

from __future__ import annotations

import hashlib
import ssl
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from assistant.config.atomic_write import write_whole

PRIVATE = 0o600


@dataclass(frozen=True, slots=True)
class Certificate:
    """A certificate and its key, as PEM."""

    chain: bytes
    key: bytes

    @property
    def fingerprint(self) -> str:
        """SHA-256 of the certificate, as browsers show it."""
        der = ssl.PEM_cert_to_DER_cert(self.chain.decode("ascii"))
        digest = hashlib.sha256(der).hexdigest().upper()
        return ":".join(digest[i : i + 2] for i in range(0, len(digest), 2))

    def into(self, config: Any, folder: Path) -> None:
        """Load it into a server's configuration, by files in a folder that goes afterwards."""
        chain, key = folder / "board.crt", folder / "board.key"
        write_whole(chain, self.chain, PRIVATE)
        write_whole(key, self.key, PRIVATE)
        config.ssl_certfile, config.ssl_keyfile = str(chain), str(key)
        config.load()


def kept_certificate(folder: Path, host: str) -> Certificate:
    """The certificate for a host, kept in a folder; made where there is none."""
    chain, key = folder / f"{host}.crt", folder / f"{host}.key"
    if not (chain.is_file() and key.is_file()):
        made = _made(host)
        folder.mkdir(parents=True, exist_ok=True, mode=0o700)
        write_whole(chain, made.chain, PRIVATE)
        write_whole(key, made.key, PRIVATE)
    return Certificate(chain.read_bytes(), key.read_bytes())


def _made(host: str) -> Certificate:
    import trustme

    authority = trustme.CA(organization_name="Footplate board")
    issued = authority.issue_cert(host)
    chain = b"".join(blob.bytes() for blob in issued.cert_chain_pems)
    return Certificate(chain, issued.private_key_pem.bytes())
