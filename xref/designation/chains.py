"""Chain as it is asked for: ``520 chain``, ``1/2 x 5/16 chain``, ``S45``; light belts ``4L490``."""

from __future__ import annotations

from dataclasses import replace

from xref.designation.callout import FRACTION, TIMES, reading
from xref.designation.lazy import pattern, says, whole
from xref.designation.reading import COMMON, Feature, Reading
from xref.domain.number import plain
from xref.domain.size import NM_PER_INCH

_LINKS = r"(?:\s*(?:[X×*/-]|\s)\s*(?P<links>\d{2,3})\s*(?:L|LINKS?|P)?)?"
_MOTORCYCLE = (
    r"(?P<word>CHAIN\s+)?(?P<number>4(?:15|20|28)|5(?:20|25|30|32)|63[02])"
    rf"(?P<made>H|HD|O|X|V|VO|VX|MX|ER)?{_LINKS}(?P<last>\s+CHAIN)?"
)
_PLATES = {"H": "heavier plates", "HD": "heavier plates", "MX": "for racing"}


def _motorcycle(shown: str) -> list[Reading]:
    found = whole(_MOTORCYCLE, shown)
    if found is None:
        return []
    named = bool(found["word"] or found["last"])
    sizes = {"links": int(found["links"])} if found["links"] else {}
    what = ("chain", "roller chain", "trade numbers of motorcycle chain")
    made = reading(f"chain {found['number']}", what, sizes=sizes, certain=named)
    if code := found["made"]:
        meaning = _PLATES.get(code, "rubber rings seal its pins")
        made = replace(made, features=(Feature(code, meaning, COMMON),))
    return [made]


_BY_INCHES = {
    ("1/4", "1/8"): ("04C-1",),
    ("3/8", "3/16"): ("06C-1",),
    ("3/8", "7/32"): ("06B-1",),
    ("1/2", "1/8"): ("081-1",),
    ("1/2", "3/16"): ("083-1", "chain 415"),
    ("1/2", "1/4"): ("085-1", "chain 420"),
    ("1/2", "5/16"): ("08B-1", "08A-1", "chain 428"),
    ("5/8", "1/4"): ("chain 520",),
    ("5/8", "5/16"): ("chain 525",),
    ("5/8", "3/8"): ("10B-1", "10A-1", "chain 530"),
    ("3/4", "3/8"): ("chain 630",),
    ("3/4", "7/16"): ("12B-1",),
    ("3/4", "1/2"): ("12A-1",),
    ("1", "5/8"): ("16A-1",),
    ("1", "17.02"): ("16B-1",),
    ("1-1/4", "3/4"): ("20B-1", "20A-1"),
    ("1-1/2", "1"): ("24B-1", "24A-1"),
}
"""Chain by pitch and width between the inner plates in inches: common practice, no published
source. Where several are called so, the roller tells them apart."""

_STRANDS = {"SIMPLEX": "1", "DUPLEX": "2", "TRIPLEX": "3"}
_CALLED = (
    rf"(?P<pitch>{FRACTION}|1)\s*\"?{TIMES}(?P<wide>{FRACTION}|1|17\.02)\s*(?:\"|IN)?{_LINKS}"
    r"(?P<rest>(?:\s+(?:ROLLER|DUPLEX|TRIPLEX|SIMPLEX|CHAIN))*)"
)


def _by_inches(shown: str) -> list[Reading]:
    """``1/2 x 5/16``: pitch and inner width. Every chain that is called so, the first one most."""
    found = whole(_CALLED, pattern(r"^(?:ROLLER )?CHAIN\s+").sub("", shown))
    if found is None:
        return []
    called = _BY_INCHES.get((found["pitch"].replace(" ", "-"), found["wide"]), ())
    named = "CHAIN" in shown
    strands = next((n for word, n in _STRANDS.items() if word in shown), "1")
    sizes = {"links": int(found["links"])} if found["links"] else {}
    note = "called by pitch and width between the inner plates; measure the roller to be sure"
    made: list[Reading] = []
    for number in called:
        if number.startswith("chain") and strands != "1":
            continue
        standard = "trade numbers of motorcycle chain" if number.startswith("chain") else "ISO 606"
        full = number if number.startswith("chain") else f"{number[:-1]}{strands}"
        what = ("chain", "roller chain", standard)
        made.append(reading(full, what, sizes=sizes, note=note, certain=named and not made))
    return made


_OLD = {"110044": "083-1", "110046": "chain 428", "110054": "chain 520"}
"""Old British references beside trade sizes, as one trade page has them."""

_FARM = (
    r"(?:CHAIN\s+)?(?P<number>S\s?(?:32|42|45|51|52|55|62|77|88)(?:[LVHRC]|F\d{1,2})*)"
    r"(?:\s+CHAIN)?(?P<rest>(?![0-9A-Z.,/X]).*)"
)


def _farm(shown: str) -> list[Reading]:
    found = whole(_FARM, shown)
    if found is None:
        return []
    number = found["number"].replace(" ", "")
    what = ("chain", "agricultural chain", "ISO 487")
    return [reading(number, what, found["rest"], certain=False)]


_LIGHT = r"(?P<section>[345]L)[ -]?(?P<number>\d{3,4})(?P<rest>(?![0-9.,/X]).*)"
_TOP = {"3L": (3, 8), "4L": (1, 2), "5L": (21, 32)}
"""Top widths in inches (RMA IP-23, from memory)."""


def _light_belts(shown: str) -> list[Reading]:
    found = whole(_LIGHT, pattern(r"^(?:V[ -]?BELT|BELT)\s+").sub("", shown))
    if found is None:
        return []
    over, under = _TOP[found["section"]]
    sizes = {
        "top-width": NM_PER_INCH * over // under,
        "outside-length": int(found["number"]) * NM_PER_INCH // 10,
    }
    note = "light-duty belt: the number is the outside length in tenths of an inch"
    what = ("belt", "v-belt, classical", "RMA IP-23")
    return [
        reading(found[0].removesuffix(found["rest"]), what, found["rest"], sizes=sizes, note=note)
    ]


def read(text: str) -> tuple[Reading, ...]:
    """The chains and belts that ``text`` may name; () where none.

    Raises InputError as ``plain`` does.
    """
    shown = plain(text)
    found: list[Reading] = []
    if shown in _OLD:
        note = "an old British reference, as one trade page has it"
        what = ("chain", "roller chain", "trade numbers of chain")
        found.append(reading(_OLD[shown], what, note=note, certain=False))
    if shown[:1] in ("4", "5", "6") or "CHAIN" in shown:
        found += _motorcycle(shown)
    if says(shown, "/", "17.02") or shown[:1] == "1":
        found += _by_inches(shown)
    if "S" in shown:
        found += _farm(shown)
    if "L" in shown[:8]:
        found += _light_belts(shown)
    return tuple(found)
