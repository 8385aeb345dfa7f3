"""Whether a cell that no heading explains may say for which serials a row holds."""

from __future__ import annotations

import re
from functools import lru_cache

from xref.domain import serial_words as w
from xref.domain.serial import read_serials
from xref.domain.serial_tokens import tokens
from xref.errors import InputError

_ENDS = frozenset({w.FROM, w.TO, w.BEFORE, w.AFTER, w.ONWARD, w.EARLIER})
_SERIAL_WORDS = re.compile(
    r"S/N|SN|VIN|CHASSIS.*|WORKS N.*|.*(?:SERI|MATR|FABR|FAHRG|MASCH|TILLV|STEL|FRAME|MACH|M/C).*"
)
_PLAIN_NUMBER = re.compile(r"[0-9]{1,12}[A-Z]{0,2}", re.IGNORECASE)


def perhaps_serials(heading: str, text: str) -> bool:
    """Whether ``text`` under a heading that means nothing else may be serials or their range.

    The heading has to be words of serials and nothing more ("Engine No", "Masch.-Nr.", "From"), or
    the text has to be a range in words ("4512 on", "up to QW499").
    """
    if not any(sign.isdigit() for sign in text):
        return False
    return _names_serials(heading) or _is_range_in_words(text)


def component_of(heading: str, text: str) -> str:
    """The component whose serials a range under this heading counts: "engine" for "Engine No" over
    "4512 on"; "" where the heading names none or several, or the text is no range in words."""
    if not (_names_serials(heading) and _is_range_in_words(text)):
        return ""
    found = tokens(re.sub(r"[_|:]| / ", " ", heading), ())
    named = {name for token in found for name in token.means & w.COMPONENTS}
    return named.pop() if len(named) == 1 else ""


@lru_cache(maxsize=1024)
def _names_serials(heading: str) -> bool:
    try:
        found = tokens(re.sub(r"[_|:]| / ", " ", heading), ())
    except InputError:
        return False
    if not found or any(not t.means or t.serial for t in found):
        return False
    return any(_speaks(t.text, t.means) for t in found)


def _speaks(words: str, means: frozenset[str]) -> bool:
    """Whether words of a heading are those of serials: "No" alone numbers the lines of a list."""
    if means & _ENDS:
        return True
    plain = w.plain_letters(words.rstrip(".:"))
    if w.LABEL in means:
        return bool(_SERIAL_WORDS.fullmatch(plain)) and plain not in ("MACHINE", "MACHINES")
    # "Engine" alone names the engine and not its number.
    numbered = re.search(r"N[OR°º]\b|NUM|S/N|SERI|[A-Z]NR$|\bN$", plain)
    return bool(means & w.COMPONENTS) and numbered is not None


@lru_cache(maxsize=4096)
def _is_range_in_words(text: str) -> bool:
    if _PLAIN_NUMBER.fullmatch(text.strip()) or not re.search(r"[0-9]{3}", text):
        return False
    try:
        words = tokens(text, ())
        read_serials(text)
    except InputError:
        return False
    return any(t.means & _ENDS and any(map(str.isalpha, t.text)) for t in words)
