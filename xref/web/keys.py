"""Who is let in: one-time codes that pair a device, and the keys that paired devices carry.

Neither codes nor keys are kept, only their hashes: both are random and too long to be tried out.
"""

from __future__ import annotations

import hashlib
import json
import os
import secrets
import threading
import time
from base64 import b32encode
from collections.abc import Callable
from dataclasses import asdict, dataclass, replace
from pathlib import Path

CODE_BYTES = 16
"""128 bits: no guess in five minutes comes near."""
CODE_SECONDS = 300
MOST_TRIES = 5
KEY_BYTES = 32
MOST_NAME = 60
SEEN_EVERY = 3600
"""Seconds between two notes of when a device was last here."""


@dataclass(frozen=True, slots=True)
class Device:
    """A paired device; times in seconds since 1970, ``digest`` is the hash of its key."""

    ident: str
    digest: str
    name: str
    since: int
    seen: int


@dataclass(slots=True)
class _Code:
    until: float
    tries: int = MOST_TRIES


class Keyring:
    """Codes in memory, and the devices in a file that only its owner may read."""

    def __init__(self, file: Path, clock: Callable[[], float] = time.time) -> None:
        self._file = file
        self._clock = clock
        self._lock = threading.RLock()
        self._codes: dict[str, _Code] = {}
        self._devices: dict[str, Device] = {}
        self._stamp: tuple[int, int] | None = None

    def new_code(self) -> str:
        """A code that lets one device in, once, within five minutes."""
        code = b32encode(secrets.token_bytes(CODE_BYTES)).decode().rstrip("=")
        with self._lock:
            self._codes[_digest(code)] = _Code(self._clock() + CODE_SECONDS)
        return code

    def holds(self, code: str) -> bool:
        """Whether ``code`` would let a device in. It is used up; a wrong one counts as a try.

        Nobody can say which code a wrong one was meant for: it counts against each there is.
        """
        with self._lock:
            now = self._clock()
            self._codes = {d: c for d, c in self._codes.items() if c.until > now}
            if self._codes.pop(_digest(code.strip().upper()), None):
                return True
            for one in self._codes.values():
                one.tries -= 1
            self._codes = {d: c for d, c in self._codes.items() if c.tries > 0}
            return False

    def let_in(self, name: str) -> str:
        """Pair a device and return the key that it is to carry."""
        key = secrets.token_urlsafe(KEY_BYTES)
        now = int(self._clock())
        with self._lock:
            self._read()
            device = Device(secrets.token_hex(4), _digest(key), _name(name), now, now)
            self._devices[device.ident] = device
            self._write()
        return key

    def device(self, key: str) -> Device | None:
        """The device that carries ``key``; None where it was never paired or was sent away."""
        digest = _digest(key)
        with self._lock:
            self._read()
            found = next((d for d in self._devices.values() if d.digest == digest), None)
            now = int(self._clock())
            if found and now - found.seen >= SEEN_EVERY:
                found = self._devices[found.ident] = replace(found, seen=now)
                self._write()
        return found

    def devices(self) -> list[Device]:
        """Every paired device, the one that was here last first."""
        with self._lock:
            self._read()
            return sorted(self._devices.values(), key=lambda d: (-d.seen, -d.since, d.ident))

    def send_away(self, ident: str) -> Device | None:
        """Let a device in no more; it itself, or None where it is not there."""
        with self._lock:
            self._read()
            gone = self._devices.pop(ident, None)
            if gone:
                self._write()
        return gone

    def call(self, ident: str, name: str) -> Device | None:
        """Give a device another name."""
        with self._lock:
            self._read()
            if ident not in self._devices:
                return None
            found = self._devices[ident] = replace(self._devices[ident], name=_name(name))
            self._write()
        return found

    def _read(self) -> None:
        """Take in what another run of the page has written."""
        try:
            held = self._file.stat()
        except OSError:
            self._devices, self._stamp = {}, None
            return
        stamp = (held.st_mtime_ns, held.st_ino)
        if stamp == self._stamp:
            return
        try:
            rows = json.loads(self._file.read_text("utf-8"))
            self._devices = {row["ident"]: Device(**row) for row in rows}
        except (OSError, ValueError, TypeError, KeyError):
            self._devices = {}  # whoever was in it pairs once more
        self._stamp = stamp

    def _write(self) -> None:
        self._file.parent.mkdir(parents=True, exist_ok=True)
        new = self._file.with_name(f"{self._file.name}.{secrets.token_hex(4)}")
        held = os.open(new, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600)
        with os.fdopen(held, "w", encoding="utf-8") as stream:
            json.dump([asdict(device) for device in self._devices.values()], stream)
        os.replace(new, self._file)
        self._stamp = None


def _digest(text: str) -> str:
    return hashlib.sha256(text.encode("utf-8", "surrogatepass")).hexdigest()


def _name(text: str) -> str:
    """What a device is called, in one line."""
    return " ".join(text.split())[:MOST_NAME] or "-"


def keys_file(where: str) -> Path:
    """Where the devices of the store at ``where`` are kept: in the user's own data folder."""
    from xref.settings import data_folder

    return data_folder() / f"devices-{_digest(where)[:16]}.json"
