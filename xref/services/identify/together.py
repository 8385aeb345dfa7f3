"""How common the sizes that were read are together, asked of the store once a set of names."""

from __future__ import annotations

import math
from collections import Counter, defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace

from sqlalchemy import Connection

from xref.domain.evidence import MARKS, Evidence, Topic
from xref.domain.part import Part
from xref.domain.together import REACH, Alike, Around, together_bits
from xref.services.identify.evidence.others import kind_bits, words_items
from xref.services.identify.evidence.sizes import STANDS_FOR, bits_of_size, stored_name
from xref.services.identify.gather_sizes import window
from xref.services.identify.rest import compared
from xref.services.identify.weigh import Bench, Weighed
from xref.store.index.near import SetOfSizes, sets_of_sizes, weights_of_types

SAME_NM = 50_000
"""Sizes alike to 0.05 mm are the very same to a caliper."""
MISREAD = -6.0
"""Bits: a number that differs so far from the mark reads otherwise by a character. Judged."""
ONE_OFF = -8.0
"""Bits: what is numbered like a thing on record, and is not it, differs by a character at least."""
FAR_OFF = -14.0
"""Bits: a number that differs more is no neighbour of the mark's. Judged."""
OTHER = "the number reads otherwise: it may be one that is not on record"
DERIVED = frozenset({"laid-out"})
"""Sizes that follow from others and stand in no table."""


class SizesTogether:
    """The bits of several sizes beside those of each, the same for every part that has them."""

    def __init__(self, conn: Connection, bench: Bench) -> None:
        self._conn = conn
        self._bench = bench
        self._known: dict[frozenset[str], float] = {}
        self._told: dict[tuple[str, str], float] = {}
        self._likelihoods: dict[tuple[str, str], float] = {}
        self._near_mark: list[tuple[float, Mapping[str, float]]] = []

    def learn(self, weighed: Sequence[Weighed]) -> None:
        """Mind what else was said of the things ``weighed``.

        One that is not on record, but numbered like one that is, often has its sizes: each counts
        by what the marks say for it. And it is described like things of its type."""
        if self._bench.query.words:
            said = defaultdict(list)
            for w in weighed:
                if w.scored.part.words:
                    of = (w.scored.part.kind, w.scored.part.type)
                    said[of].append(_words(w.scored.evidence))
            self._told = {of: math.fsum(each) / len(each) for of, each in said.items()}
        if not self._bench.query.marks or not self._bench.query.sizes:
            return
        most = max(map(_differs, weighed), default=0.0) + ONE_OFF
        by_mark = [2.0 ** (w.scored.start_bits + min(most, _differs(w))) for w in weighed]
        whole = math.fsum(by_mark)
        self._near_mark = [
            (held / whole, w.scored.size_bits()) for w, held in zip(weighed, by_mark, strict=True)
        ]

    def added(self, weighed: Weighed) -> Weighed:
        """The same thing with what its sizes are worth together."""
        names = self._names(weighed)
        bits = self.bits(names)
        scored = weighed.scored
        if names and scored.bits_about(*MARKS) and FAR_OFF < _differs(weighed) <= MISREAD:
            bits_beside = self._bench.model.misread_beside
            dear = Evidence(Topic.MARK_BESIDE_SIZES, "", "", bits_beside, OTHER)
            scored = replace(scored, evidence=(*scored.evidence, dear))
            weighed = replace(weighed, scored=scored)
        if not bits:
            return weighed
        said = "common together" if bits < 0 else "rare together"
        told = f"such sizes are {said} among things on record"
        item = Evidence(Topic.TOGETHER, "", "", bits, told)
        return replace(weighed, scored=replace(scored, evidence=(*scored.evidence, item)))

    def bits(self, names: frozenset[str]) -> float:
        """−log2 of how much commoner the readings of these sizes are together than apart; 0 for
        fewer than two, and for sizes that nothing has together."""
        names -= DERIVED
        if not names or (len(names) < 2 and not self._near_mark):
            return 0.0
        if names not in self._known:
            alone = self._together(names) if len(names) > 1 else 0.0
            self._known[names] = self._beside(names, alone)
        return self._known[names]

    def _names(self, weighed: Weighed) -> frozenset[str]:
        query = self._bench.query
        part = weighed.scored.part
        return compared(query, [n for n in query.sizes if stored_name(part.kind, part.sizes, n)])

    def _beside(self, names: frozenset[str], bits: float) -> float:
        """``bits`` with the share of things numbered like one on record, and of its sizes."""
        like = math.fsum(
            share * 2.0 ** math.fsum(each[n] for n in names)
            for share, each in self._near_mark
            if names <= each.keys()
        )
        if not like:
            return bits
        share = self._bench.model.sizes_near_mark
        return -math.log2((1 - share) * 2.0**-bits + share * like)

    def _together(self, names: frozenset[str]) -> float:
        query = self._bench.query
        held = {STANDS_FOR[n][0] if n in ("shaft", "housing") else n: n for n in names}
        if len(held) < len(names):
            return 0.0
        readings = {name: query.sizes[asked] for name, asked in held.items()}
        windows = {name: _reach(reading.value) for name, reading in readings.items()}
        alike, around = self._alike(sets_of_sizes(self._conn, windows), held)
        shares = [self._share(name, windows[name]) for name in held]
        return together_bits(alike, around, shares, self._everything())

    def _everything(self) -> float:
        """The weight of everything that has sizes, each as likely as its kind makes it."""
        patterns = self._bench.population.patterns.items()
        return math.fsum(w * self._likely(p.kind, "") for p, w in patterns if p.sizes)

    def _whole(self, names: Sequence[str]) -> float:
        """The weight of everything that has sizes of all these names, each as likely as it is."""
        bench = self._bench
        if bench.query.words:
            held = weights_of_types(self._conn, names)
            return math.fsum(w * self._likely(*of) for of, w in held.items())
        patterns = bench.population.patterns.items()
        return math.fsum(
            w * self._likely(p.kind, "") for p, w in patterns if p.sizes.issuperset(names)
        )

    def _share(self, name: str, window: tuple[int, int]) -> float:
        """The share (0..1) of the parts with a size ``name`` that lie near the reading."""
        near = weights_of_types(self._conn, [name], window)
        every = self._whole([name])
        return math.fsum(w * self._likely(*of) for of, w in near.items()) / every if every else 0

    def _likely(self, kind: str, type_: str) -> float:
        """How much likelier the kind and the words that were given are of such a part."""
        if (kind, type_) not in self._likelihoods:
            bench = self._bench
            query, population, model = bench.query, bench.population, bench.model
            bits = kind_bits(kind, (), query, population, model)
            told = self._told.get((kind, type_))
            if told is None and query.words and type_:
                part = Part("", "", kind, "", "", 1.0, type=type_, words=f"{type_} {kind}")
                told = _words(words_items(part, query, population, model) or ())
            self._likelihoods[kind, type_] = 2.0**bits * (1.0 if told is None else told)
        return self._likelihoods[kind, type_]

    def _alike(
        self, sets: Sequence[SetOfSizes], held: Mapping[str, str]
    ) -> tuple[list[Alike], Around]:
        sharing: Counter[tuple[int, ...]] = Counter()
        mass: dict[tuple[int, ...], float] = defaultdict(float)
        for one in sets:
            at = _at(one)
            sharing[at] += one.parts
            mass[at] += one.weight * self._likely(one.kind, one.type)
        alike = []
        for one in sets:
            bits = self._bits(one, held)
            if bits is not None:
                weight = one.weight * self._likely(one.kind, one.type)
                alike.append(Alike(weight, sharing[_at(one)], bits))
        total = math.fsum(weight / sharing[at] for at, weight in mass.items())
        counts = Counter(sharing.values())
        return alike, Around(total, counts[1], counts[2])

    def _bits(self, one: SetOfSizes, held: Mapping[str, str]) -> float | None:
        """The bits of the readings for such a thing; None where one of them is out of reach."""
        query, model = self._bench.query, self._bench.model
        for name, asked in held.items():
            low, high = window(query.sizes[asked])
            if not low <= one.sizes[name].value <= high:
                return None
        # By its own limits, as where the thing itself is weighed: without them its share of what
        # is common was too large, and what has wide ones (a belt, a ring's groove) lost to none.
        part = Part("", "", one.kind, "", "", one.weight, type=one.type, sizes=one.sizes)
        scales = self._bench.scales
        return math.fsum(bits_of_size(part, scales[asked], query, model) for asked in held.values())


def _differs(weighed: Weighed) -> float:
    """How far the mark differs from the numbers of a thing: 0 bits and less."""
    return weighed.scored.bits_about(Topic.MARK_DIFFERS)


def _words(items: Iterable[Evidence]) -> float:
    """How much likelier than at large the words are, by these items of evidence."""
    bits = math.fsum(item.bits for item in items if item.topic in (Topic.WORDS, Topic.HAND))
    return math.pow(2.0, bits)


def _reach(value: int) -> tuple[int, int]:
    return max(1, round(value * math.exp(-REACH))), round(value * math.exp(REACH))


def _at(one: SetOfSizes) -> tuple[int, ...]:
    return tuple(round(size.value / SAME_NM) for size in one.sizes.values())
