"""Lead screws, bare threads and tapers: ``Tr20x4``, ``1/2 Acme``, ``1/4-20``, ``16tpi``."""

from __future__ import annotations

from xref.designation.callout import FRACTION, NUMBER, TIMES, dotted, length, reading
from xref.designation.lazy import says, whole
from xref.designation.reading import Reading
from xref.domain.number import plain
from xref.domain.size import NM_PER_INCH

_MM = r"\d{1,2}(?:[.,]\d)?"
_END = r"(?P<rest>(?![0-9.,/X]).*)"
_TR = (
    rf"TR\.?\s?(?P<size>{NUMBER}){TIMES}(?P<pitch>{_MM})"
    rf"(?:\s*\(?P\s?(?P<own>{_MM})\)?)?(?P<hand>\s*-?LH)?{_END}"
)


def _trapezoidal(shown: str) -> list[Reading]:
    """``Tr 40x14(P7)`` is a screw of two starts: lead 14, pitch 7."""
    found = whole(_TR, shown)
    if found is None:
        return []
    lead, own = dotted(found["pitch"]), dotted(found["own"] or found["pitch"])
    size = dotted(found["size"])
    said = [f"lead {lead} mm a turn: more than one start"] if lead != own else []
    if found["hand"]:
        said.append("left-hand")
    what = ("thread", "trapezoidal thread", "ISO 2904")
    sizes = {"diameter": length(size) or 0, "pitch": length(own) or 0}
    number = f"Tr {float(size):g}x{float(own):g}"
    return [reading(number, what, found["rest"], sizes=sizes, note="; ".join(said))]


_ACME = (
    rf"(?P<size>{FRACTION}|[1-5])\s*\"?(?:\s*-\s*(?P<tpi>\d{{1,2}}))?\s*-?\s*ACME"
    rf"(?:\s*-?\s*(?P<after>\d{{1,2}})\s*(?:TPI)?)?{_END}"
)


def _acme(shown: str) -> list[Reading]:
    found = whole(_ACME, shown)
    if found is None:
        return []
    size, tpi = found["size"].replace(" ", "-"), found["tpi"] or found["after"]
    sizes = {"diameter": length(found["size"], "inch") or 0}
    if tpi:
        sizes["pitch"] = round(NM_PER_INCH / int(tpi)) if int(tpi) else 0
    number = f"{size}-{tpi} Acme" if tpi else f"{size} Acme"
    return [reading(number, ("thread", "acme thread", "ASME B1.5"), found["rest"], sizes=sizes)]


_TPI = (
    r"(?:PITCH\s*[=:]?\s*)?"
    r"(?P<tpi>\d{1,3}(?:\.\d)?)\s*(?:TPI|T\.P\.I\.?|THREADS? (?:PER|TO THE|AN) INCH)"
)


def turns_pitch(text: str) -> int | None:
    """The pitch in nanometres of ``20tpi``; None where the text says no turns to the inch."""
    found = whole(_TPI, " ".join(text.upper().split()))
    return round(NM_PER_INCH / float(found["tpi"])) if found and float(found["tpi"]) else None


def _turns(shown: str) -> list[Reading]:
    pitch = turns_pitch(shown)
    if not pitch:
        return []
    found = whole(_TPI, shown)
    number = f"{found['tpi']} tpi" if found else shown
    note = "turns to the inch alone: the diameter over the crests says which thread it is"
    return [reading(number, ("thread", "thread pitch", ""), sizes={"pitch": pitch}, note=note)]


_SYSTEMS = (
    ("UNC", "unified thread", "ASME B1.1"),
    ("UNF", "unified thread", "ASME B1.1"),
    ("UNEF", "unified thread", "ASME B1.1"),
    ("BSW", "whitworth thread", "BS 84"),
    ("BSF", "whitworth thread", "BS 84"),
    ("ME", "whitworth thread", "ME series"),
    ("BSC", "cycle thread", "BS 811"),
    ("Acme", "acme thread", "ASME B1.5"),
)
_BARE = (
    rf"(?:NO\.?\s?|#\s?)?(?P<size>{FRACTION}|\d{{1,2}})\s*\"?\s*[-X×*]\s*"
    r"(?P<tpi>\d{1,2})\s*(?P<word>TPI)?"
)
_GAUGES = 12
"""The numbered sizes of ASME B1.1 end at 12."""


def _bare(shown: str) -> list[Reading]:
    """``1/4-20`` and ``10-32``: every system that a table has it in."""
    found = whole(_BARE, shown)
    if found is None or not int(found["tpi"]):
        return []
    size, tpi = found["size"], found["tpi"]
    spaced = size.replace("-", " ")
    names = [(f"{spaced}-{tpi} {letters}", *what) for letters, *what in _SYSTEMS]
    names += [(f"{spaced} {letters} {tpi}", *what) for letters, *what in _SYSTEMS[6:7]]
    if size.isdigit() and int(size) <= _GAUGES:
        names = [(f"#{size}-{tpi} {name}", *what) for name, *what in _SYSTEMS[:3]] + names
    pitch = round(NM_PER_INCH / int(tpi))
    note = "60° flanks and flat crests are unified, 55° and rounded ones Whitworth"
    return [
        reading(number, ("thread", type_, std), sizes={"pitch": pitch}, note=note, certain=False)
        for number, type_, std in names
    ]


_NUMBERED = rf"(?: TAPER)?\s*(?:NO\.?|#)?\s*(?P<size>\d{{1,2}})(?: TAPER)?{_END}"
_BROWN = rf"(?:BROWN (?:&|AND) SHARPE|B ?& ?S|B ?AND ?S){_NUMBERED}"
_JARNO = rf"JARNO{_NUMBERED}"
_MORSE = r"(?:MT|MK|MORSE(?: TAPER)?)\s?(?:NO\.?\s?)?4(?:[ -]1/2|\.5|½)(?P<rest>(?![0-9.,/X]).*)"


def _tapers(shown: str) -> list[Reading]:
    for text, name, type_, standard in (
        (_BROWN, "Brown & Sharpe", "brown & sharpe taper", "Brown & Sharpe taper"),
        (_JARNO, "Jarno", "jarno taper", "Jarno taper"),
        (_MORSE, "MT", "morse taper", "ASME B5.10"),
    ):
        found = whole(text, shown)
        if found:
            size = "4 1/2" if name == "MT" else str(int(found["size"]))
            return [reading(f"{name} {size}", ("other", type_, standard), found["rest"])]
    return []


def read(text: str) -> tuple[Reading, ...]:
    """What ``text`` may name of these; () where nothing. Raises InputError as ``plain`` does."""
    shown = plain(text)
    readers = (
        (_trapezoidal, ("TR",)),
        (_acme, ("ACME",)),
        (_turns, ("TPI", "T.P.I", "INCH")),
        (_bare, ("-", "X", "×", "*")),
        (_tapers, ("SHARPE", "B&S", "B & S", "B AND S", "JARNO", "MT", "MORSE", "MK")),
    )
    return tuple(r for reader, words in readers if says(shown, *words) for r in reader(shown))
