"""Inch tapered rollers: a cone and a cup, each with a number of its own (common usage)."""

from __future__ import annotations

import re

from xref.designation.basic import GAP, Basic

_TYPE, _STANDARD = "tapered roller, inch", "inch series (ABMA)"
_LETTERS = r"[A-Z]{0,3}"
_HALF = rf"{_LETTERS}{GAP}\d{{2,6}}[A-Z]{{0,2}}"
_PAIR = re.compile(
    rf"(?P<cone>{_HALF})\s*(?P<sep>/|\+|&|-|\s)\s*(?P<cup>{_HALF})(?![0-9A-Z.]|/[0-9])(?P<rest>.*)",
    re.S,
)
_ALONE = re.compile(rf"(?P<half>{_LETTERS}{GAP}\d{{2,6}}[A-Z]{{0,2}})(?P<rest>)\Z")
_LETTERED = re.compile(r"(?P<series>[A-Z]{1,3}\d+?)(?P<last>\d\d)[A-Z]{0,2}\Z")
_BETWEEN = re.compile(GAP)
_CONES, _CUPS = range(30, 50), range(10, 20)
"""In numbers that begin with letters the last two digits are 30 to 49 on the cone and 10 to 19 on
the cup. Common usage; numbers without letters do not follow it."""


def half_of(number: str) -> str:
    """ "cone" or "cup" by the last two digits of a lettered number, "" where it does not say."""
    found = _LETTERED.match(number)
    if not found:
        return ""
    last = int(found["last"])
    return "cone" if last in _CONES else "cup" if last in _CUPS else ""


def _joined(half: str) -> str:
    return _BETWEEN.sub("", half)


def _cup_in_full(cone: str, cup: str) -> str:
    """LM11949/10 is short for LM11949/LM11910 (common practice, no published source)."""
    if half_of(cone) == "cone" and re.fullmatch(r"1\d", cup):
        found = _LETTERED.match(cone)
        return f"{found['series']}{cup}" if found else cup
    return cup


def pair(text: str) -> tuple[Basic, ...]:
    """25580/25520, LM11949/LM11910, LM11949/10: cone, then cup.

    A pair parted by anything but a stroke, or whose numbers do not show by their last digits that
    they are cone and cup, is worth showing only where a table has it.
    """
    found = _PAIR.match(text)
    if not found:
        return ()
    cone = _joined(found["cone"])
    cup = _cup_in_full(cone, _joined(found["cup"]))
    sure = found["sep"] == "/" and half_of(cone) == "cone" and half_of(cup) == "cup"
    short = f"{cone}/{cup[-2:]}" if sure and cone[:-2] == cup[:-2] else ""
    return (
        Basic(
            f"{cone}/{cup}",
            _TYPE,
            found["rest"],
            numbering="inch",
            standard=_STANDARD,
            aliases=(short,) if short else (),
            note="cone, then cup: the bore belongs to the cone, the outside diameter to the cup",
            needs_table=not sure,
            whole=not sure,
        ),
    )


def half(text: str) -> tuple[Basic, ...]:
    """25580, LM11949, JLM506849A: a cone or a cup alone; only a table says which it is."""
    found = _ALONE.match(text)
    if not found:
        return ()
    number = _joined(found["half"])
    which = half_of(number)
    note = f"by its last two digits it is a {which} (common usage)" if which else ""
    return (
        Basic(
            number,
            _TYPE,
            "",
            numbering="inch",
            standard=_STANDARD,
            note=note,
            needs_table=True,
            takes_suffix=False,
        ),
    )
