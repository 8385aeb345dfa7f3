"""Row readers for lead screws (Acme and trapezoidal threads) and more tool tapers."""

from __future__ import annotations

from xref.domain.part import Part, Spelling, StoredSize
from xref.domain.size import NM_PER_INCH, NM_PER_MM
from xref.standards.rowreader import decimal_inch, inch, make, mm, noted
from xref.tables import Row

SHORTER = 0.8
"""1/2 Acme for 1/2-10 Acme. Judged."""

STARTS = "count the starts: with two or more, a turn moves the nut by as many pitches"


def lead_screw(row: Row) -> Part:
    """Acme threads by inches and turns to the inch, trapezoidal ones by diameter and pitch."""
    return _acme(row) if row["series"] == "Acme" else _trapezoidal(row)


def _acme(row: Row) -> Part:
    """The diameter's limit is that of ASME B1.5 class 2G, 0.05 of the pitch, from memory."""
    size, tpi = row["size"].replace(" ", "-"), int(row["tpi"])
    pitch = NM_PER_INCH // tpi if NM_PER_INCH % tpi == 0 else round(NM_PER_INCH / tpi)
    sizes = {
        "diameter": StoredSize(inch(row["size"]).value, -pitch // 20, 0),
        "pitch": StoredSize(pitch),
    }
    number = f"{size}-{tpi} Acme"
    spelled = [Spelling(number), Spelling(f"{size} Acme", SHORTER, "alias")]
    what = ("thread", "acme thread", f"acme thread, {size} in, {tpi} to the inch")
    return noted(make(row, number, what, sizes, spelled), "29° flanks", STARTS)


def _trapezoidal(row: Row) -> Part:
    size, pitch = row["size"].partition("x")[0], row["pitch_mm"]
    sizes = {"diameter": _under(mm(size), float(pitch)), "pitch": mm(pitch)}
    number = f"Tr {size}x{pitch}"
    what = ("thread", "trapezoidal thread", f"trapezoidal thread, {size} mm, pitch {pitch} mm")
    return noted(make(row, number, what, sizes, [Spelling(number)]), "30° flanks", STARTS)


def _under(size: StoredSize, pitch: float) -> StoredSize:
    """What ISO 2903 lets the crests be under nominal: grade 4, 0.63 (180 P^⅔ − 3.15 / √P) in
    micrometres for P in millimetres. From memory."""
    most = 0.63 * (180 * pitch ** (2 / 3) - 3.15 / pitch**0.5)
    return StoredSize(size.value, -round(most) * NM_PER_MM // 1000, 0)


_TAPERS = {
    "Brown & Sharpe": ("brown & sharpe taper", "B&S"),
    "Jarno": ("jarno taper", "JARNO TAPER"),
    "MT": ("morse taper", "MORSE"),
}


def tool_taper(row: Row) -> Part:
    """Brown & Sharpe and Jarno tapers, and Morse 4 1/2, by their two ends."""
    number = row["taper"]
    system = next(name for name in _TAPERS if number.startswith(f"{name} "))
    type_, other = _TAPERS[system]
    size = number.removeprefix(f"{system} ")
    sizes = {
        "large-end": decimal_inch(row["large_end_inch"]),
        "small-end": decimal_inch(row["small_end_inch"]),
        "length": decimal_inch(row["length_inch"]),
    }
    spelled = [Spelling(number), Spelling(f"{other} {size}", 1.0, "alias")]
    if size == "4 1/2":
        spelled.append(Spelling(f"{system} 4.5", 1.0, "alias"))
    part = make(row, number, ("other", type_, f"{type_}, shank"), sizes, spelled)
    return noted(part, f"tapers {row['taper_per_foot']} in on diameter to the foot")
