"""What a spanner serves, against the standards' jaw sizes."""

from __future__ import annotations

import pytest

from xref.errors import InputError
from xref.standards.spanner import in_words, near, opening, served

MM = 1_000_000
INCH = 25_400_000


@pytest.mark.parametrize(
    ("mark", "inches"),
    [
        # BS 190:1924 and BS 1083:1951, memory.
        ("1/2W", 0.920),
        ("9/16BS", 0.920),
        ("7/16 BS", 0.710),
        ("3/8 W", 0.710),
        ("1/4 W 5/16 BS", 0.525),
        ("2BA", 0.324),
        ("3/4 AF", 0.750),
    ],
)
def test_a_mark_names_the_opening_of_its_standard(mark: str, inches: float) -> None:
    assert opening(mark) == round(inches * INCH)


@pytest.mark.parametrize("mark", ["7/32 W", "99 BA", "M10", "1/2"])
def test_a_mark_of_no_opening_names_none(mark: str) -> None:
    assert opening(mark) is None


@pytest.mark.parametrize(
    ("mark", "both"),
    [
        # 1/2 BSW had the large hexagon before about 1940 and the small one after.
        ("1/2 BSW", ["1/2 W, 23.368 mm", "1/2 BS, 20.828 mm"]),
        ("1/2 Whit", ["1/2 W, 23.368 mm", "1/2 BS, 20.828 mm"]),
        ("1/4W 5/16W", ["1/4 W, 13.335 mm", "5/16 W, 15.24 mm"]),
    ],
)
def test_a_mark_of_two_openings_is_refused_with_both(mark: str, both: list[str]) -> None:
    with pytest.raises(InputError) as error:
        opening(mark)
    assert " and ".join(both) in error.value.message
    assert all(text.split(",")[0] in error.value.hint for text in both)


def names(nm: int) -> set[str]:
    return {part.number for part in served(nm)}


def test_one_opening_serves_every_thread_that_has_it() -> None:
    assert names(round(0.92 * INCH)) == {
        "bolt head and nut 1/2 BSW large hexagon",
        "bolt head and nut 9/16 BSF/BSW small hexagon",
    }
    assert {"bolt head and nut M12 older", "bolt head 1/2 UNC/UNF"} <= names(19 * MM)


@pytest.mark.parametrize(
    ("nm", "miss"),
    [
        (13 * MM, "bolt head 5/16 UNC/UNF"),  # 1/2 in is 12.7 mm
        (13 * MM, "bolt head and nut 1/4 BSW large hexagon"),  # 0.525 in is 13.335 mm
        (round(0.82 * INCH), "bolt head and nut M14"),  # 21 mm
    ],
)
def test_a_near_miss_is_named_and_not_served(nm: int, miss: str) -> None:
    assert miss not in names(nm)
    assert miss in {part.number for part in near(nm)}
    assert "not the same" in " ".join(in_words(nm))


def test_an_opening_that_nothing_has_says_so() -> None:
    assert in_words(300 * MM) == ("serves no hexagon of the table",)
