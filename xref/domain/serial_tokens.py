"""A line of serials cut into serials and the words around them."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Collection, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from xref.domain.number import visible
from xref.domain.serial_range import Serial
from xref.domain.serial_words import (
    AND,
    DASH,
    ONWARD,
    flattened,
    means_matched,
    never_prefix,
    opens_range,
    phrases,
    plain_letters,
)
from xref.errors import InputError

_JOINED = re.compile(
    r"(?P<prefix>(?:(?!/)[A-Z0-9/]*[A-Z/])?)(?P<sep>[-.]?)"
    r"(?P<number>[0-9]{1,12})(?P<suffix>[A-Z]{0,2})(?![^\W_]|/)"
)
_LETTERS = re.compile(r"[A-Z]+(?=[ ])")
_DASHES = re.compile(r"[-–…]+")
_SERIAL_LIKE = re.compile(r"(?:[A-Z0-9/]*[A-Z/])?[0-9]+[A-Z]{1,2}")
_DATE = re.compile(r"[0-9]+/[0-9]+/|(?:0?[1-9]|1[0-2])/(?=(?:19|20)[0-9]{2}$)")
_ONWARD_SUFFIX = frozenset({"ON", "UP", "FF"})
"""4512up, 4512ff: joined to the number these are no suffix."""
EXAMPLES = 'Write for example "QW101-QW499 exc. QW230-QW240", "QW312-up" or "to QW300".'
"""How serials are written."""
MOST_LETTERS = 4
"""Letters of a prefix that stands apart from its number. Judged: longer ones are words."""


@dataclass(frozen=True, slots=True)
class Token:
    """A serial, letters that may be a prefix, or a word with all that it may mean.

    ``doubt``: alone, the serial may be a range as well ("12A-340", "101/499"). ``place`` is where
    it begins and ends in the text as ``line`` has it.
    """

    text: str
    means: frozenset[str] = frozenset()
    serial: Serial | None = None
    letters: bool = False
    doubt: str = ""
    place: tuple[int, int] = (0, 0)


def line(text: str) -> str:
    """``text`` as its tokens are cut from it: in upper case, without brackets."""
    flat = " ".join(re.sub(r"[()\[\]]", " ", flattened(text)).split())
    return flat.rstrip(".") or flat


def tokens(text: str, known: Collection[str]) -> list[Token]:
    """The pieces of ``text``. ``known`` are prefixes of the model. Raises InputError."""
    flat = line(text)
    plain, found, at = plain_letters(flat), list[Token](), 0
    while at < len(flat):
        if flat[at] == " ":
            at += 1
            continue
        start = at
        at, some = _next(flat, plain, at, known, found)
        found += [replace(token, place=(start, at)) for token in some]
    return _prefixed(found, text)


def _next(
    flat: str, plain: str, at: int, known: Collection[str], before: Sequence[Token]
) -> tuple[int, list[Token]]:
    """The token at a place and where the next begins."""
    apart = _known_apart(flat, at, known, before)
    if apart:
        return apart
    joined = _JOINED.match(flat, at)
    word = phrases().match(plain, at)
    if joined and _is_serial(joined, known, word is not None):
        return joined.end(), _joined(joined, known)
    if word:
        return _word_end(flat, word), [Token(word[0], means_matched(word[0]))]
    dashes = _DASHES.match(flat, at)
    if dashes:
        return dashes.end(), [Token(dashes[0], frozenset({DASH}))]
    letters = _LETTERS.match(flat, at)
    if letters and len(letters[0]) <= MOST_LETTERS:
        return letters.end(), [Token(letters[0], letters=True)]
    raise _not_understood(flat[at:].split(" ")[0], flat, joined)


def _word_end(flat: str, word: re.Match[str]) -> int:
    """Where a word ends; the hyphen of pre-4512 goes with it."""
    hyphen = flat[word.end() : word.end() + 1] == "-" and word[0] in ("PRE", "POST")
    return word.end() + hyphen


def _known_apart(
    flat: str, at: int, known: Collection[str], before: Sequence[Token]
) -> tuple[int, list[Token]] | None:
    """A known prefix with its number apart from it: "QW 312", "QW - 312"."""
    for prefix in sorted(known, key=len, reverse=True):
        if not prefix or not flat.startswith(prefix, at):
            continue
        found = re.compile(r"(?: ?[-.] ?| )([0-9]{1,12})([A-Z]{0,2})(?![^\W_]|/)").match(
            flat, at + len(prefix)
        )
        if found is None:
            continue
        if opens_range(prefix) and found[0].startswith(" "):
            shown = f"{prefix}{found[0]}"
            raise InputError(
                f'"{visible(shown)}" may be the prefix {prefix} or the word',
                f"Write {prefix}{found[1]}{found[2]} for the prefix.",
            )
        if before and before[-1].serial and AND in means_matched(prefix):
            continue
        return found.end(), _suffixed(prefix, found[1], found[2], found[0], "")
    return None


def _is_serial(found: re.Match[str], known: Collection[str], word: bool) -> bool:
    prefix, sep = found["prefix"], found["sep"]
    if prefix in known:
        return True
    if not prefix:
        return sep == ""
    if never_prefix(prefix):
        return False
    return not (word and sep == ".")


def _joined(found: re.Match[str], known: Collection[str]) -> list[Token]:
    prefix, sep, number, suffix = found.group("prefix", "sep", "number", "suffix")
    doubt = ""
    if prefix not in known:
        if _DATE.match(f"{prefix}{number}"):
            raise InputError(
                f'"{visible(found[0])}" looks like a date and is no serial',
                "Write the serial, or the words of the book into the note.",
            )
        if sep == "-" and _SERIAL_LIKE.fullmatch(prefix):
            doubt = f"{prefix} to {number}{suffix}"
        elif prefix.endswith("/") and not re.search("[A-Z]", prefix):
            doubt = f"{prefix[:-1]} to {number}{suffix}"
    return _suffixed(prefix, number, suffix, found[0], doubt)


def _suffixed(prefix: str, number: str, suffix: str, text: str, doubt: str) -> list[Token]:
    if suffix in _ONWARD_SUFFIX:
        serial = Serial(prefix, int(number))
        return [
            Token(text[: -len(suffix)], serial=serial, doubt=doubt),
            Token(suffix, frozenset({ONWARD})),
        ]
    return [Token(text, serial=Serial(prefix, int(number), suffix), doubt=doubt)]


def _prefixed(found: list[Token], text: str) -> list[Token]:
    """Letters that stand apart are joined to their number where the text itself shows them to be
    a prefix: they stand before both ends, or joined to another number."""
    pairs = Counter(
        one.text
        for one, two in pairwise(found)
        if one.letters and two.serial and not two.serial.prefix
    )
    shown = {t.serial.prefix for t in found if t.serial}
    done: list[Token] = []
    for token in found:
        last = done[-1] if done else None
        if last is None or not last.letters:
            done.append(token)
            continue
        fits = token.serial is not None and not token.serial.prefix
        if not fits or token.serial is None or not (pairs[last.text] > 1 or last.text in shown):
            raise _apart(last.text, token.text, text)
        serial = replace(token.serial, prefix=last.text)
        place = (last.place[0], token.place[1])
        done[-1] = Token(f"{last.text} {token.text}", serial=serial, place=place)
    if done and done[-1].letters:
        raise _apart(done[-1].text, "", text)
    return done


def _apart(letters: str, number: str, whole: str) -> InputError:
    """Refuses letters of which nothing shows that they belong to the number after them."""
    shown = f"{letters} {number}".strip()
    joined = f"{letters}{number}" if number[:1].isdigit() else f"{letters}312"
    within = f' in "{visible(whole)}"' if len(whole) > len(shown) else ""
    return InputError(
        f'"{visible(shown)}"{within} is not understood as serials',
        f"Write {visible(joined)} if {letters} is part of the serial.",
    )


def _not_understood(piece: str, whole: str, joined: re.Match[str] | None) -> InputError:
    within = f' in "{visible(whole)}"' if piece != whole else ""
    hint = EXAMPLES
    if joined and joined["prefix"]:
        said = joined["prefix"]
        hint = f"{said} is a word and no prefix: write it apart from the number, or leave it out."
    return InputError(f'"{visible(piece)}"{within} is not understood as serials', hint)
