"""Inch tapers: a cone and a cup with numbers of their own, together or either half alone."""

from __future__ import annotations

from collections.abc import Iterator

from xref.designation.basic import Basic, pattern

_LETTERS = "JLM|JHM|JHH|JLL|XUA|HH|HM|LL|LM|JL|JM|JH|JF|JW|JP|JD|JS|A|F|H|J|L|M|Y"
_HALF = rf"(?:{_LETTERS})?[ -]?[0-9]{{2,6}}(?![0-9])[A-Z]{{0,2}}(?![A-Z0-9])"
_SINGLE = pattern(rf"(?P<half>{_HALF})(?P<tail>$|[ ].*|-[A-Z].*)")
_PAIR = pattern(rf"(?P<cone>{_HALF})[ ]*[/+&-][ ]*(?P<cup>{_HALF})(?P<tail>$|[ ].*)")


def _number(half: str) -> str:
    return half.replace(" ", "").replace("-", "")


def _basic(number: str, tail: str, note: str) -> Basic:
    return Basic(
        number,
        "tapered roller, inch",
        "inch series",
        tail,
        numbering="inch",
        note=note,
        needs_table=True,
    )


def read_taper(text: str) -> Iterator[Basic]:
    """Inch taper pairs and halves; nothing in the digits is a size, so only a table confirms one.

    A pair is read whichever half stands first; the tables write cone/cup.
    """
    pair = _PAIR.match(text)
    if pair:
        cone, cup = _number(pair["cone"]), _number(pair["cup"])
        yield _basic(f"{cone}/{cup}", pair["tail"], "cone and cup")
        yield _basic(f"{cup}/{cone}", pair["tail"], "written with the cup first")
        return
    single = _SINGLE.match(text)
    if single:
        yield _basic(_number(single["half"]), single["tail"], "")
