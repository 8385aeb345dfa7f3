"""Which character was read as what: the cheapest account of a reading, step by step."""

from __future__ import annotations

from dataclasses import dataclass

from xref.domain.channel import Reading, cost_table

_CLOSE = 1e-9


@dataclass(frozen=True, slots=True)
class Step:
    """One step of the account: the true character ("" for an extra sign), the sign read ("" for
    a lost character), and its cost in nats."""

    true: str
    read: str
    cost: float


def align(reading: Reading, number: str, takes_suffix: bool = False) -> tuple[Step, ...]:
    """The cheapest way to have read ``reading`` where ``number`` (folded) was struck.

    The costs of the steps add up to the channel's distance without the cost of turning over.
    """
    grid = cost_table(reading, number)
    size, width = len(number), len(reading.rows)
    steps: list[Step] = []
    i, j = size, width
    if takes_suffix and reading.tails:
        totals = [grid[size][k] + reading.tails[k] for k in range(width + 1)]
        j = min(range(width + 1), key=totals.__getitem__)
        if j < width:
            tail = "".join(str(sign) for sign in reading.mark.signs[j:])
            known = reading.tail_names[j]
            name = f"({known})" if known != "?" else "(unknown)"
            steps.append(Step(name, tail, reading.tails[j]))
    if j == width:
        i = _skip_worn_end(grid, reading, number, steps)
    while i or j:
        i, j = _step_back(grid, reading, number, (i, j), steps)
    return tuple(reversed(steps))


def _skip_worn_end(
    grid: list[list[float]], reading: Reading, number: str, steps: list[Step]
) -> int:
    size = len(number)
    for k in range(size):
        worn = reading.costs.ends(size - k)
        if abs(grid[k][-1] + worn - grid[size][-1]) < _CLOSE and worn:
            steps.append(Step(number[k:], "", worn))
            return k
    return size


def _step_back(
    grid: list[list[float]], reading: Reading, number: str, at: tuple[int, int], steps: list[Step]
) -> tuple[int, int]:
    i, j = at
    signs = reading.mark.signs
    if j == 0:
        steps.append(Step(number[:i], "", reading.costs.ends(i)))
        return 0, 0
    row, here, read = reading.rows[j - 1], grid[i][j], str(signs[j - 1])
    if row is None:
        if i and abs(grid[i - 1][j] - here) < _CLOSE:
            steps.append(Step(number[i - 1], "*", 0.0))
            return i - 1, j
        return i, j - 1
    if i:
        char = number[i - 1]
        cost = row.get(char, reading.costs.substitution)
        if abs(grid[i - 1][j - 1] + cost - here) < _CLOSE:
            steps.append(Step(char, read, cost))
            return i - 1, j - 1
        swap = reading.costs.transposition
        swapped = i > 1 and j > 1 and _is_swap(reading, number[i - 2 : i], j)
        if swapped and abs(grid[i - 2][j - 2] + swap - here) < _CLOSE:
            steps.append(Step(number[i - 2 : i], str(signs[j - 2]) + read, swap))
            return i - 2, j - 2
        if abs(grid[i - 1][j] + reading.costs.lost - here) < _CLOSE:
            steps.append(Step(char, "", reading.costs.lost))
            return i - 1, j
    steps.append(Step("", read, here - grid[i][j - 1]))
    return i, j - 1


def _is_swap(reading: Reading, pair: str, j: int) -> bool:
    """Whether signs j-1 and j accept the two characters of ``pair`` in the other order."""
    first, second = reading.rows[j - 2], reading.rows[j - 1]
    if first is None or second is None or pair[0] == pair[1]:
        return False
    return first.get(pair[1], 1.0) == 0.0 and second.get(pair[0], 1.0) == 0.0


def faults(steps: tuple[Step, ...]) -> str:
    """The faults in plain words, "" where every legible sign agrees."""
    told = []
    for step in steps:
        if step.cost == 0.0:
            continue
        if step.true.startswith("("):
            told.append(f"{step.read} after it {_tail(step.true)}")
        elif not step.read:
            told.append(f"{step.true} not seen")
        elif not step.true:
            told.append(f"{step.read} read where nothing is")
        else:
            told.append(f"{step.true} read as {step.read}")
    return ", ".join(told)


def _tail(name: str) -> str:
    return "is not understood" if name == "(unknown)" else f"read as the suffix {name[1:-1]}"


def lines(steps: tuple[Step, ...]) -> tuple[str, str, str]:
    """The account as three lines, aligned under each other: true, read, and where they differ."""
    top, below, under = [], [], []
    for step in steps:
        width = max(len(step.true), len(step.read), 1)
        top.append((step.true or "·").ljust(width))
        below.append((step.read or "·").ljust(width))
        under.append((" " if step.cost == 0.0 else "^").ljust(width))
    return " ".join(top), " ".join(below), " ".join(under).rstrip()
