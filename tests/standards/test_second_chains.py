"""The roller chains against figures that others published, each with where it stands."""

from __future__ import annotations

import pytest

from xref.domain.part import Part
from xref.standards.families import standard_parts

MM = 1_000_000
INCH = 25_400_000


def chains(asme: bool = False) -> dict[str, Part]:
    """The chains by their ISO designation, or by their American number."""
    found = [p for p in standard_parts() if p.kind == "chain"]
    if not asme:
        return {p.number: p for p in found}
    return {s.text: p for p in found for s in p.spellings if s.text.startswith("ASME ")}


def lines(table: str) -> list[str]:
    return table.replace("\n", "|").strip("|").split("|")


# GOST 13568-97, annex A, which is the whole of ISO 606:1994, table A.1: pitch,
# roller, inner width, pin, inner plate's height, strand pitch.

ISO_606 = """
05B 8.00 5.00 3.00 2.31 7.11 5.64 | 06B 9.525 6.35 5.72 3.28 8.26 10.24
08A 12.70 7.95 7.85 3.96 12.07 14.38 | 08B 12.70 8.51 7.75 4.45 11.81 13.92
10A 15.875 10.16 9.40 5.08 15.09 18.11 | 10B 15.875 10.16 9.65 5.08 14.73 16.59
12A 19.05 11.91 12.57 5.94 18.08 22.78 | 12B 19.05 12.07 11.68 5.72 16.13 19.46
16A 25.40 15.88 15.75 7.92 24.13 29.29 | 16B 25.40 15.88 17.02 8.28 21.08 31.88
20A 31.75 19.05 18.90 9.53 30.18 35.76 | 20B 31.75 19.05 19.56 10.19 26.42 36.45
24A 38.10 22.23 25.22 11.10 36.20 45.44 | 24B 38.10 25.40 25.40 14.63 33.40 48.36
28A 44.45 25.40 25.22 12.70 42.24 48.87 | 28B 44.45 27.94 30.99 15.90 37.08 59.56
32A 50.80 28.58 31.55 14.27 48.26 58.55 | 32B 50.80 29.21 30.99 17.81 42.29 58.55
40A 63.50 39.68 37.85 19.84 60.33 71.55 | 40B 63.50 39.37 38.10 22.89 52.96 72.29
48A 76.20 47.63 47.36 23.80 72.39 87.83 | 48B 76.20 48.26 45.72 29.24 63.88 91.21
56B 88.90 53.98 53.34 34.32 77.85 106.60 | 64B 101.60 63.50 60.96 39.40 90.17 119.89
72B 114.30 72.39 68.58 44.48 103.63 136.27
"""


@pytest.mark.parametrize("line", lines(ISO_606))
def test_a_chain_is_as_the_standards_own_table_has_it(line: str) -> None:
    number, *figures = line.split()
    for strands in (1, 2, 3):
        sizes = chains()[f"{number}-{strands}"].sizes
        names = ("pitch", "roller", "inner-width", "pin", "height", "strand-pitch")
        held = [sizes[name].value / MM for name in names if name in sizes]
        assert held == [float(f) for f in figures[: 5 if strands == 1 else 6]]
        assert sizes["rows"].value == strands


def test_the_weak_half_inch_chain_is_as_the_standards_other_table_has_it() -> None:
    # GOST 13568-97, table 1, ПР-12,7-9, which its annex B says is 081-1.
    sizes = chains()["081-1"].sizes
    names = ("pitch", "roller", "inner-width", "pin", "height")
    assert [sizes[name].value / MM for name in names] == [12.7, 7.75, 3.3, 3.66, 10]


# ASME B29.1-2011, memory, inches: pitch, nominal width, roller, pin, plate's height (that of
# 25 is less than the most, 0.95 of the pitch).

AMERICAN = """
25 0.250 0.125 0.130 0.091 - | 35 0.375 0.188 0.200 0.141 0.356 | 40 0.500 0.312 0.312 0.156 0.475
41 0.500 0.250 0.306 0.141 0.390 | 50 0.625 0.375 0.400 0.200 0.594
60 0.750 0.500 0.469 0.234 0.712 | 80 1.000 0.625 0.625 0.312 0.950
100 1.250 0.750 0.750 0.375 1.188
120 1.500 1.000 0.875 0.437 1.425 | 140 1.750 1.000 1.000 0.500 1.663
160 2.000 1.250 1.125 0.563 1.901 | 180 2.250 1.406 1.406 0.687 2.130
200 2.500 1.500 1.562 0.782 2.376 | 240 3.000 1.875 1.875 0.937 2.850
"""


@pytest.mark.parametrize("line", lines(AMERICAN))
def test_an_american_chain_measures_what_its_standard_says_in_inches(line: str) -> None:
    # ISO 606 gives the least inner width: up to 0.011 in under the nominal.
    number, pitch, width, roller, pin, height = line.split()
    sizes = {
        name: size.value / INCH for name, size in chains(asme=True)[f"ASME {number}"].sizes.items()
    }
    assert sizes["pitch"] == float(pitch)
    assert -0.011 < sizes["inner-width"] - float(width) < 0.0005
    assert sizes["roller"] == pytest.approx(float(roller), abs=1.3e-3)
    assert sizes["pin"] == pytest.approx(float(pin), abs=1.3e-3)
    if height != "-":
        assert sizes["height"] == pytest.approx(float(height), abs=9e-3)


def test_the_plate_of_an_american_roller_chain_is_095_of_the_pitch_high() -> None:
    # So it is in every A row of the two tables above.
    checked = 0
    for name, chain in chains().items():
        if name.partition("-")[0].endswith("A"):
            sizes = chain.sizes
            assert sizes["height"].value == pytest.approx(
                0.95 * sizes["pitch"].value, abs=25_000
            ), name
            checked += 1
    assert checked == 33
