"""What use has done to a size, and what a hand reading of it means.

No published figures for either were found. Every constant in this module and in the wear table is
judged, or common practice with no published source, unless a standard stands beside it.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from xref.domain.number import visible
from xref.domain.part import COUNTS
from xref.domain.size import NM_PER_INCH, NM_PER_MM
from xref.errors import InputError
from xref.standards.seal_rule import press_fit
from xref.tables import read_table

CONDITIONS = ("new", "used", "worn")

_ANY_KIND = "*"


@dataclass(frozen=True, slots=True)
class Wear:
    """A share ``q`` (0..1) of such parts has worn by a mean of ``w_nm`` nanometres.

    ``direction``: +1 grows, −1 shrinks, 0 does not wear (then ``q`` and ``w_nm`` are 0 too).
    """

    q: float
    w_nm: int
    direction: int
    reason: str


@dataclass(frozen=True, slots=True)
class Directness:
    """How a hand reading of a loose part stands to its nominal size.

    It lies ``offset`` nanometres from nominal on average, with a standard deviation of
    ``spread``; both 0 and ``reason`` "" where the reading is the size itself.
    """

    offset: int
    spread: int
    reason: str


@dataclass(frozen=True, slots=True)
class RepairStep:
    """One usual step off nominal: ``nm`` (below zero for undersize) and its name."""

    nm: int
    text: str


_UNWORN = Wear(0.0, 0, 0, "")
_DIRECT = Directness(0, 0, "")


def wear(kind: str, name: str, condition: str) -> Wear:
    """How the size ``name`` of a part of ``kind`` ("" when unknown) wears in ``condition``.

    A kind without a row of its own takes the row for any kind; a size without either, a count,
    and anything new do not wear. Raises InputError for a condition not in CONDITIONS.
    """
    if condition not in CONDITIONS:
        raise InputError(
            f'no condition is called "{visible(condition)}"',
            "Conditions: " + ", ".join(CONDITIONS) + ".",
        )
    if condition == "new" or name in COUNTS:
        return _UNWORN
    table = _table()
    return table.get((kind, name, condition)) or table.get((_ANY_KIND, name, condition)) or _UNWORN


@cache
def _table() -> dict[tuple[str, str, str], Wear]:
    return {
        (row["kind"], row["size"], row["condition"]): Wear(
            float(row["q"]),
            round(float(row["w_mm"]) * NM_PER_MM),
            int(row["direction"]),
            f"{row['reason']} ({row['basis']})",
        )
        for row in read_table("wear")
    }


_LIP = Directness(
    -1_200_000, 600_000, "a free lip is smaller than its shaft: measure the shaft (judged)"
)
_LOOSE_CUP = Directness(
    0,
    150_000,
    "a loose drawn cup is not round and its nominal is the shaft: jaws are weak, a plug in a "
    "ring is good (judged)",
)
_LOOSE_CUP_OUTSIDE = Directness(
    0, 50_000, "a loose drawn cup is not round: measure the housing (judged)"
)
_LOOSE_CAGE = Directness(
    0, 100_000, "needles are slack in a loose cage: measure the shaft and the housing (judged)"
)
_WRAPPED_OUTSIDE = Directness(
    100_000,
    150_000,
    "a free wrapped bush is larger than its housing and springs open: measure the housing (judged)",
)
_WRAPPED_BORE = Directness(
    0,
    150_000,
    "a free wrapped bush has its bore only when pressed in: measure the shaft (judged)",
)

_BY_TYPE = {
    ("drawn cup needle", "bore"): _LOOSE_CUP,
    ("drawn cup needle", "outside"): _LOOSE_CUP_OUTSIDE,
    ("needle cage", "bore"): _LOOSE_CAGE,
    ("needle cage", "outside"): _LOOSE_CAGE,
    ("wrapped bush", "outside"): _WRAPPED_OUTSIDE,
    ("wrapped bush", "bore"): _WRAPPED_BORE,
}


def measured_directly(kind: str, type_: str, name: str, nm: int) -> Directness:
    """What a hand reading of the size ``name``, nominally ``nm`` nanometres, means.

    Readings of shaft and housing are of what the part sits between, and are always direct. An
    unknown ``type_`` ("") of a bearing or bush counts as direct.
    """
    if kind == "shaft seal":
        return _seal(name, nm)
    return _BY_TYPE.get((type_.split(",")[0], name), _DIRECT)


def _seal(name: str, nm: int) -> Directness:
    if name == "bore":
        return _LIP
    if name != "outside":
        return _DIRECT
    allowed = press_fit(nm)
    return Directness(
        (allowed.least + allowed.most) // 2,
        (allowed.most - allowed.least) // 2,
        f"a free seal is {allowed.least / NM_PER_MM:.2f} to {allowed.most / NM_PER_MM:.2f} mm "
        f"larger than its housing bore (DIN 3760 / ISO 6194-1)",
    )


_STEP_KINDS = ("bush", "pin", "other")
_STEP_SIZES = ("bore", "outside", "diameter", "shaft", "housing")
_INCH_STEPS = (10, 20, 30, 40)
_MM_STEPS = (25, 50, 75, 100)


def repair_steps(kind: str, name: str) -> tuple[RepairStep, ...]:
    """The usual steps by which a bore, journal or pin is made over- or undersize.

    0.010 to 0.040 in and 0.25 to 1.00 mm, both ways: common practice, no published source. Only
    for bushes, pins and other parts; () for bearings, seals and every other kind and size.
    """
    return _STEPS if kind in _STEP_KINDS and name in _STEP_SIZES else ()


def _steps() -> tuple[RepairStep, ...]:
    found = []
    for sign, word in ((1, "oversize"), (-1, "undersize")):
        for thou in _INCH_STEPS:
            found.append(RepairStep(sign * thou * NM_PER_INCH // 1000, f"0.{thou:03d} in {word}"))
        for hundredths in _MM_STEPS:
            nm = sign * hundredths * NM_PER_MM // 100
            found.append(RepairStep(nm, f"{hundredths / 100:.2f} mm {word}"))
    return tuple(found)


_STEPS = _steps()

_WHERE = {
    ("bush", "bore"): "identify a worn bush from its smallest bore, the unworn end; judge its "
    "wear by its largest",
    ("*", "shaft"): "measure a worn shaft beside its track, where nothing has run",
}


def where_to_measure(kind: str, name: str) -> str:
    """Where on the part the size is still the maker's; "" where nothing special is known.

    Common practice, no published source.
    """
    return _WHERE.get((kind, name)) or _WHERE.get((_ANY_KIND, name), "")
