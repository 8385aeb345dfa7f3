"""Streams that write what they can of any text, and nothing that a terminal would obey.

No terminal's encoding may end a command, and no stored text (a supplier's name, a column that was
kept) may move the cursor, change its title or turn the order of what is read.
"""

from __future__ import annotations

import codecs
import io
import json
import sys
import unicodedata
from typing import TextIO

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


OBEYED = frozenset({"Cc", "Cf", "Zl", "Zp"})
"""General categories of Unicode (its standard, chapter 4.5) whose signs are not seen: controls,
marks of direction and of joining, ends of lines and paragraphs. A terminal may do anything at
them."""


class Terminal(io.TextIOWrapper):
    """A stream to a screen: what cannot be seen is written as its code, but for \\n and \\t."""

    def write(self, text: str) -> int:
        """Write ``text`` so that all of it is seen and none of it is obeyed."""
        super().write(seen(text))
        return len(text)


def forgiving() -> None:
    """Let stdout and stderr write a sign they have not in plain ones, or as its code.

    Where they are a terminal, signs that it would obey are written as their codes too. What xref
    itself draws on a terminal goes to :func:`screen`.
    """
    codecs.register_error("xref", _plain)
    for name in ("stdout", "stderr"):
        stream = getattr(sys, name)
        if not isinstance(stream, io.TextIOWrapper):
            continue
        if stream.errors in ("strict", "backslashreplace"):
            stream.reconfigure(errors="xref")
        if stream.isatty() and not isinstance(stream, Terminal):
            setattr(sys, name, _guarded(stream))


def _guarded(stream: io.TextIOWrapper) -> Terminal:
    return Terminal(
        stream.buffer, encoding=stream.encoding, errors=stream.errors, line_buffering=True
    )


def screen() -> TextIO | None:
    """Stderr as it was before it was guarded, for what xref itself draws; None where there is none.

    Text of the store never goes there.
    """
    return sys.__stderr__


def seen(text: str) -> str:
    """``text`` with each sign that is not seen as its code: ``\\x9b``, ``\\u202e``."""
    if text.isascii() and text.isprintable():
        return text
    return "".join(_code(c) if _hidden(c) else c for c in text)


def escaped(text: str) -> str:
    """A JSON text in which every sign that is not seen is escaped: it reads back the same."""
    return "".join(json.dumps(c)[1:-1] if _hidden(c) else c for c in text)


def _hidden(c: str) -> bool:
    return c not in "\n\t" and unicodedata.category(c) in OBEYED


def _code(c: str) -> str:
    return f"\\x{ord(c):02x}" if ord(c) < 256 else f"\\u{ord(c):04x}"


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
