"""Streams that write what they can of any text: no terminal's encoding may end a command."""

from __future__ import annotations

import codecs
import io
import sys

PLAIN = {
    "→": "->",
    "↔": "<->",
    "…": "...",
    "×": "x",
    "−": "-",
    "–": "-",
    "—": "-",
    "·": ".",
    "≈": "~",
    "±": "+-",
    "π": "pi",
    "°": " deg",
    "Ø": "dia ",
    "½": "1/2",
    "¼": "1/4",
    "¾": "3/4",
}
"""Signs of ours that not every encoding has, in those that all have."""


def forgiving() -> None:
    """Let stdout and stderr write a sign they have not in plain ones, or as its code."""
    codecs.register_error("xref", _plain)
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper) and stream.errors in ("strict", "backslashreplace"):
            stream.reconfigure(errors="xref")


def _plain(error: UnicodeError) -> tuple[str | bytes, int]:
    if not isinstance(error, UnicodeEncodeError):
        raise error
    signs = error.object[error.start : error.end]
    return "".join(PLAIN.get(c) or f"\\u{ord(c):04x}" for c in signs), error.end


def writes(text: str) -> bool:
    """Whether stdout has every sign of ``text``."""
    try:
        text.encode(sys.stdout.encoding or "utf-8")
    except UnicodeEncodeError:
        return False
    return True
