"""The tools that measure: faults as they are named, intervals as published, numbers from a seed."""

from __future__ import annotations

import math
import random
from pathlib import Path
from xml.etree import ElementTree

import pytest
from rapidfuzz.distance import OSA

from fixtures.numbers import FULLEST, SHAPES, dealt, own_numbers
from scripts.benches import noise
from scripts.benches.diagram import Line, growth_svg, reliability_svg
from scripts.benches.faults import (
    CHARACTERS,
    FAULTS,
    FEWEST_LEGIBLE,
    LOOK_ALIKES,
    NO_LOOK_ALIKES,
    SHARES,
    Fault,
    Sign,
    make_mark,
)
from scripts.benches.fitting import said as fitted
from scripts.benches.fitting import see
from scripts.benches.intervals import Place, counted, lead, percent, wilson
from scripts.benches.judged import Judged, Said
from scripts.benches.measured import Case
from scripts.benches.reliability import bins, calibration_error, error_by_chance, error_interval
from scripts.benches.rivals import Numbers, by_distance, by_wratio
from scripts.benches.tables import aligned
from xref.domain.mark import read_mark
from xref.domain.model import Model
from xref.domain.number import folded
from xref.domain.part import Part
from xref.services.open import open_store
from xref.store.index.tally import population

pytestmark = pytest.mark.slow

NUMBERS = ("QF-2214", "4471/B", "W21-0387-2", "3170442", "BX 10447 L", "9-04417-118")
DRAWS = 40


def marked(kind: str, number: str, draw: int) -> tuple[str, str]:
    """The truth and the mark with one fault of ``kind``."""
    made = make_mark(number, 1, {kind: 1.0}, random.Random(f"{kind} {number} {draw}"))
    assert made is not None
    assert made.kinds == (kind,)
    return made.truth, made.mark


def differing(truth: str, mark: str) -> list[tuple[str, str]]:
    """The places at which two texts of one length differ."""
    assert len(truth) == len(mark)
    return [(a, b) for a, b in zip(truth, mark, strict=True) if a != b]


@pytest.mark.parametrize("number", NUMBERS)
class TestOneFault:
    """One fault of each kind changes the number in just its own way."""

    def test_look_alike_swaps_one_character_for_one_of_its_pairs(self, number: str) -> None:
        for draw in range(DRAWS):
            [(true, read)] = differing(*marked("look_alike", number, draw))
            assert read in LOOK_ALIKES[true]

    def test_illegible_hides_one_character(self, number: str) -> None:
        for draw in range(DRAWS):
            [(_, read)] = differing(*marked("illegible", number, draw))
            assert read == "?"

    def test_lost_drops_one_character(self, number: str) -> None:
        for draw in range(DRAWS):
            truth, mark = marked("lost", number, draw)
            assert mark in {truth[:at] + truth[at + 1 :] for at in range(1, len(truth) - 1)}

    def test_lost_end_takes_one_to_three_from_one_end(self, number: str) -> None:
        for draw in range(DRAWS):
            truth, mark = marked("lost_end", number, draw)
            bare = mark.strip("*")
            assert 1 <= len(truth) - len(bare) <= 3
            assert truth.startswith(bare) or truth.endswith(bare)
            assert mark in {bare, f"{bare}*", f"*{bare}"}
            assert not mark.endswith("*") or truth.startswith(bare)

    def test_substitution_reads_one_character_that_looks_unlike(self, number: str) -> None:
        for draw in range(DRAWS):
            [(true, read)] = differing(*marked("substitution", number, draw))
            assert read in CHARACTERS
            assert read not in LOOK_ALIKES.get(true, {})

    def test_transposition_swaps_two_neighbours(self, number: str) -> None:
        for draw in range(DRAWS):
            truth, mark = marked("transposition", number, draw)
            swaps = {
                truth[:at] + truth[at + 1] + truth[at] + truth[at + 2 :]
                for at in range(len(truth) - 1)
            }
            assert mark in swaps - {truth}

    def test_extra_adds_one_character(self, number: str) -> None:
        for draw in range(DRAWS):
            truth, mark = marked("extra", number, draw)
            assert truth in {mark[:at] + mark[at + 1 :] for at in range(len(mark))}
            assert len(mark) == len(truth) + 1


@pytest.mark.parametrize("count", [1, 2, 3])
@pytest.mark.parametrize("shares", [SHARES, NO_LOOK_ALIKES], ids=["all", "no look-alikes"])
def test_several_faults_are_counted_differ_and_leave_a_mark_that_can_be_read(
    shares: dict[str, float], count: int
) -> None:
    chance = random.Random(count)
    for number in NUMBERS * 20:
        made = make_mark(number, count, shares, chance)
        assert made is not None
        assert len(made.kinds) == count
        assert set(made.kinds) <= set(shares)
        assert made.mark != made.truth == folded(number)
        assert sum(c.isalnum() for c in made.mark) >= FEWEST_LEGIBLE
        assert read_mark(made.mark).signs


@pytest.mark.parametrize("count", [1, 2, 3])
def test_faults_that_are_no_look_alikes_are_at_most_so_many_edits(count: int) -> None:
    chance = random.Random(count)
    for number in NUMBERS * 20:
        made = make_mark(number, count, NO_LOOK_ALIKES, chance)
        assert made is not None
        assert 1 <= OSA.distance(made.truth, made.mark) <= count + made.kinds.count("transposition")


def test_every_kind_of_fault_has_a_share_and_shares_add_to_one() -> None:
    assert set(SHARES) == set(FAULTS)
    assert sum(SHARES.values()) == pytest.approx(1.0)


def test_number_too_short_for_the_faults_makes_no_mark() -> None:
    assert make_mark("7B", 1, {"lost_end": 1.0}, random.Random(1)) is None


def test_the_same_seed_makes_the_same_mark_and_another_seed_others() -> None:
    def drawn(seed: int) -> list[str]:
        chance = random.Random(seed)
        made = [make_mark(n, 2, SHARES, chance) for n in NUMBERS]
        return [m.mark for m in made if m is not None]

    assert drawn(4) == drawn(4)
    assert drawn(4) != drawn(5)


def test_look_alikes_hold_both_ways() -> None:
    assert all(LOOK_ALIKES[b][a] == w for a, row in LOOK_ALIKES.items() for b, w in row.items())


def test_own_numbers_are_repeatable_distinct_and_of_every_shape() -> None:
    made = own_numbers(3000, seed=7)
    assert made == own_numbers(3000, seed=7)
    assert made != own_numbers(3000, seed=8)
    assert len({folded(one.number) for one in made}) == 3000
    assert {one.maker for one in made} == {one.maker for one in SHAPES}
    prefixes = ("Q", "W", "B", "C")
    assert all(any(one.number.startswith(p) for one in made) for p in prefixes)
    assert any("/" in one.number for one in made)
    assert any(len(one.number) == 7 and one.number.isdigit() for one in made)


@pytest.mark.parametrize("count", [1000, 100_000, 1_000_000])
def test_no_shape_is_filled_beyond_its_limit_and_every_number_has_a_shape(count: int) -> None:
    taken = dealt(count)
    assert sum(taken) == pytest.approx(count)
    for one, some in zip(SHAPES, taken, strict=True):
        assert 0 < some <= FULLEST * one.space


def test_a_small_store_has_the_judged_shares_and_a_large_one_longer_numbers() -> None:
    whole = sum(one.share for one in SHAPES)
    assert dealt(1000) == pytest.approx([1000 * one.share / whole for one in SHAPES])
    assert dealt(1_000_000)[-1] > 0.5 * 1_000_000


@pytest.mark.parametrize("at", range(len(SHAPES)))
def test_a_shape_writes_no_more_numbers_than_its_space(at: int) -> None:
    # Draws repeat as they must where the space is as small as said (a draw sees 1 - exp(-n/space)).
    one, chance = SHAPES[at], random.Random(at)
    draws = min(one.space, 60_000)
    seen = {folded(one.shape(chance)) for _ in range(draws)}
    expected = one.space * -math.expm1(-draws / one.space)
    # Hands of the late shape are not equally likely, so it repeats a little oftener.
    assert len(seen) == pytest.approx(expected, rel=0.03)


@pytest.mark.parametrize(
    ("hits", "n", "low", "high"),
    [
        # R. G. Newcombe, Statistics in Medicine 17 (1998) 857-872, table I, method 3 (score, no
        # continuity correction); quoted from memory, and recomputed from the formula.
        (81, 263, 0.2553, 0.3662),
        (15, 148, 0.0624, 0.1605),
        (0, 20, 0.0000, 0.1611),
        (1, 29, 0.0061, 0.1718),
    ],
)
def test_wilson_interval_is_the_published_one(hits: int, n: int, low: float, high: float) -> None:
    assert wilson(hits, n) == pytest.approx((low, high), abs=5e-5)


def test_wilson_interval_mirrors_and_stays_in_its_bounds() -> None:
    for hits in range(21):
        low, high = wilson(hits, 20)
        assert 0.0 <= low <= hits / 20 <= high <= 1.0
        assert wilson(20 - hits, 20) == pytest.approx((1 - high, 1 - low))
    assert wilson(0, 0) == (0.0, 1.0)


def test_share_is_written_with_its_interval_in_per_cent() -> None:
    assert percent(81, 263) == "31 (26–37)"


@pytest.mark.parametrize(
    ("place", "rank", "first", "ten"),
    [
        (Place(0, 1), 1.0, 1.0, 1.0),
        (Place(0, 4), 2.5, 0.25, 1.0),
        (Place(9, 1), 10.0, 0.0, 1.0),
        (Place(8, 4), 10.5, 0.0, 0.5),
        (Place(10, 1), 11.0, 0.0, 0.0),
        (Place(3, 0), float("inf"), 0.0, 0.0),
    ],
)
def test_equals_share_the_places_they_stand_on(
    place: Place, rank: float, first: float, ten: float
) -> None:
    assert (place.rank, place.within(1), place.within(10)) == (rank, first, ten)


def test_counted_adds_shares_of_places() -> None:
    assert counted([Place(0, 2), Place(0, 2), Place(0, 1), Place(5, 1)], 1) == percent(2, 4)


def test_lead_is_the_mean_of_the_differences_on_the_same_marks() -> None:
    first, second, missing = Place(0, 1), Place(1, 1), Place(0, 0)
    assert lead([first, first], [second, missing]) == "+100 (+100 to +100)"
    assert lead([first, second], [first, second]) == "+0 (+0 to +0)"
    # Differences -1, -1, 0, 0: mean -1/2, standard error sqrt(1/3)/2, times 1.96 gives 0.566.
    ours, theirs = [second, second, first, first], [first] * 4
    assert lead(ours, theirs) == "-50 (-107 to +7)"


def test_plain_distances_place_the_truth_among_things_by_its_best_spelling() -> None:
    texts = ["QF2214", "QF2215", "QF2219", "9QF2214", "ZZZ"]
    groups = ["a", "b", "c", "b", "d"]
    spelled: dict[str, list[str]] = {}
    for text, group in zip(texts, groups, strict=True):
        spelled.setdefault(group, []).append(text)
    numbers = Numbers(texts, groups, {}, spelled)
    assert by_distance(numbers)("QF221?", "c").place == Place(0, 3)
    assert by_distance(numbers)("QF2214", "b").place == Place(1, 2)
    assert by_distance(numbers)("QF2214*", "a").place == Place(0, 1)
    assert by_wratio(numbers)("QF2214", "a").place == Place(0, 1)
    assert by_wratio(numbers)("QF2219", "a").place.better == 1


def test_the_cut_never_loses_the_truth_to_rounding() -> None:
    # At a cut of just this score RapidFuzz 3.14 leaves the text out.
    numbers = Numbers(["7095184"], ["a"], {}, {"a": ["7095184"]})
    assert by_wratio(numbers)("795182", "a").place == Place(0, 1)


def test_columns_are_as_wide_as_their_widest_cell() -> None:
    assert aligned([["a", "bb"], ["ccc", "d"]]) == "a    bb\nccc  d"


def test_calibration_error_is_the_mean_gap_by_tenths() -> None:
    # Two at 0.9 of which one is true, two at 0.1 of which none is: (2 * 0.4 + 2 * 0.1) / 4.
    told = [(0.9, 1.0), (0.9, 0.0), (0.1, 0.0), (0.1, 0.0)]
    assert calibration_error(told) == pytest.approx(0.25)
    assert calibration_error([(1.0, 1.0), (0.0, 0.0)]) == 0.0
    assert [(one.stated, one.true, one.n) for one in bins(told)] == [(0.1, 0.0, 2), (0.9, 0.5, 2)]


def test_exact_odds_differ_from_the_truth_by_chance_alone_and_less_with_more_cases() -> None:
    chance = random.Random(1)
    few, many = ([(0.5, 0.0)] * n for n in (20, 2000))
    # The mean of |share - 1/2| over n draws is sqrt(2 / pi) * 1/2 / sqrt(n), about 0.089 and 0.009.
    assert error_by_chance(few, chance) == pytest.approx(0.089, abs=0.02)
    assert error_by_chance(many, chance) == pytest.approx(0.009, abs=0.003)


def test_the_interval_of_the_calibration_error_holds_it() -> None:
    told = [(0.7, float(at % 2)) for at in range(200)]
    low, high = error_interval(told, random.Random(3))
    assert calibration_error(told) == pytest.approx(0.2)
    assert low < 0.2 < high


def said(best: float, none: float, absent: bool = False) -> Said:
    """One answer with the rest of the odds unlisted."""
    return Said(1, absent, best, 0.0, float(not absent), none if absent else best, none)


@pytest.mark.parametrize("mark", ["QF-2214", "QF22?4", "W2I3", "98?4", "6204", "ZZ9Q"])
def test_odds_of_the_fit_are_those_that_identify_gives(scenario_path: Path, mark: str) -> None:
    with open_store(str(scenario_path)) as opened, opened.store.reading() as conn:
        known = population(conn)
        found = opened.identify(mark=[mark], limit=60)
        best = found.candidates[0]
        seen = see(conn, known, mark, 1, best.part.group)
        told = fitted(seen, Model())
    assert told.best == pytest.approx(best.probability, abs=0.005)
    assert told.none == pytest.approx(found.none_of_these, abs=0.005)


def test_what_was_said_is_counted_as_told() -> None:
    held = Judged(10, [said(0.96, 0.0), said(0.95, 0.04), said(0.3, 0.6, absent=True)])
    assert held.sure() == [1.0, 1.0]
    assert held.ones() == [1.0]
    assert held.none() == [(0.0, 0.0), (0.04, 0.0), (0.6, 1.0)]
    assert held.top(2) == []
    assert held.surprise() == pytest.approx(-math.log(0.96 * 0.95 * 0.6) / 3)


def test_odds_within_every_target_overstep_none_and_too_sure_ones_do() -> None:
    honest = Judged(10, [said(1.0, 0.0)] * 8 + [said(0.0, 1.0, absent=True)] * 2)
    assert honest.oversteps() == 0.0
    sure = Judged(10, [said(1.0, 0.0)] * 8 + [said(1.0, 0.0, absent=True)] * 2)
    # Top 0.2 against 0.05, one fault 0.2 against 0.08, both shares wrong 0.2 against 0.03 and
    # 0.02, none 0.2 off against 0.05, and its own error 0.2 against 0.1.
    assert sure.oversteps() == pytest.approx(0.15 + 0.12 + 0.17 + 0.18 + 0.15 + 0.10)


def test_diagram_draws_a_point_for_each_tenth_in_each_panel() -> None:
    told = [(0.95, 1.0), (0.05, 0.0), (0.06, 0.0)]
    root = ElementTree.fromstring(reliability_svg({"first <b>": told, "none": told[:1]}))
    space = "{http://www.w3.org/2000/svg}"
    assert len(root.findall(f"{space}circle")) == 3
    assert any(text.text == "first <b>, n=3" for text in root.findall(f"{space}text"))


@pytest.mark.parametrize("kind", noise.KINDS)
def test_each_noise_spoils_one_character_or_says_that_it_cannot(kind: Fault) -> None:
    chance = random.Random(3)
    for number in ("QF2214", "8B6R0E", "1107", "ZZZ"):
        signs = [Sign(c) for c in number]
        if kind(signs, chance):
            assert "".join(s.read for s in signs) != number
            assert any(s.spoilt for s in signs)
        else:
            assert [s.read for s in signs] == list(number)


def test_neighbouring_keys_neighbour_each_other() -> None:
    for key, near in noise.KEYS.items():
        assert near
        assert key not in near


def test_growth_is_drawn_with_a_point_for_every_size_within_its_panel() -> None:
    sizes = [1000, 10_000, 1_000_000]
    drawn = ElementTree.fromstring(growth_svg(sizes, [Line("ms", [4.0, 5.0, 9.0])]))
    points = [node for node in drawn.iter() if node.tag.endswith("circle")]
    panel = next(node for node in drawn.iter() if node.tag.endswith("rect") and "x" in node.attrib)
    left, top = float(panel.attrib["x"]), float(panel.attrib["y"])
    side = float(panel.attrib["width"])
    assert len(points) == len(sizes)
    across = [(float(p.attrib["cx"]) - left) / side for p in points]
    assert across == pytest.approx([0, 1 / 3, 1], abs=1e-3)
    heights = [float(p.attrib["cy"]) for p in points]
    assert top < heights[2] < heights[1] < heights[0] < top + side


def test_an_entry_made_of_a_mark_is_right_only_where_it_is_the_thing_that_the_store_lacks() -> None:
    lacking = Case({}, "", "", "RNU206", "", frozenset({"RNU206"}), "bearing")
    listed = Case({}, "", "", "NU206", "bearing NU206", frozenset({"NU206"}), "bearing")
    made = Part("RNU 206", "", "bearing", "mark::RNU206", "mark", 1.0)
    other = Part("NU206", "", "bearing", "bearing NU206", "standard", 1.0)
    assert lacking.is_named(made)
    assert not lacking.is_named(other)
    assert listed.is_named(other)
    assert not listed.is_named(made)
