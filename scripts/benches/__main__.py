"""``scripts/bench`` with ``accuracy``, ``calibration``, ``checks``, ``cold``, ``import``,
``scale``, ``sheets``, ``sizes``, ``speed``, ``stamps``, ``standards``, ``together`` and
``trust``."""

from __future__ import annotations

import argparse
from dataclasses import replace
from pathlib import Path

from scripts.benches import (
    accuracy,
    calibration,
    checks,
    cold,
    importing,
    noise,
    scale,
    sheets,
    sizes,
    speed,
    stamps,
    standards,
    together,
    trust,
)


def main() -> None:
    """Measure what is asked for and print it; figures that miss their aim are no failure here."""
    parser = argparse.ArgumentParser(prog="scripts/bench", description=__doc__)
    parser.add_argument("--seed", type=int, default=312, help="default %(default)s")
    which = parser.add_subparsers(dest="which", required=True)
    _ask_answers(which)
    _ask_times(which)
    _ask_growth(which)
    for command in which.choices.values():
        command.add_argument("--seed", type=int, default=argparse.SUPPRESS)
    _measure(parser.parse_args())


def _ask_answers(which: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    """What is measured of the answers themselves."""
    right = which.add_parser("accuracy", help="right first and in ten, beside plain text distances")
    right.add_argument(
        "--sizes", default="10000,100000", help="own parts in the store: %(default)s"
    )
    right.add_argument("--cases", type=int, default=200, help="marks a cell: %(default)s")
    right.add_argument("--examples", type=int, default=20, help="lost marks shown: %(default)s")
    right.add_argument(
        "--rivals",
        choices=("own", "all"),
        default="own",
        help="what the plain distances search: own parts alone (easier for them), or all",
    )
    honest = which.add_parser("calibration", help="odds against how often they come true")
    honest.add_argument(
        "--sizes", default="1000,10000,100000", help="own parts in the store: %(default)s"
    )
    honest.add_argument("--cases", type=int, default=400, help="marks a count: %(default)s")
    honest.add_argument(
        "--fit-cases", type=int, default=150, help="marks a count to fit by, 0 for no fit"
    )
    honest.add_argument("--svg", type=Path, help="where to write a reliability diagram")
    honest.add_argument("--bore", action="store_true", help="with a measured bore too")
    for command in (right, honest):
        command.add_argument(
            "--noise", action="store_true", help="with noise that the costs were not set for"
        )


def _ask_times(which: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    """What is measured in seconds alone."""
    start = which.add_parser("cold", help="a cold start against its imports")
    start.add_argument("--repeats", type=int, default=15, help="runs of each: %(default)s")
    lists = which.add_parser("import", help="a csv of parts, beside pandas read and written")
    lists.add_argument("--sizes", default="10000,100000,500000", help="rows: %(default)s")
    lists.add_argument("--repeats", type=int, default=3, help="runs of each: %(default)s")
    fast = which.add_parser("speed", help="the shortlist beside scoring every number")
    fast.add_argument("--sizes", default="10000,100000", help="own parts: %(default)s")
    fast.add_argument("--cases", type=int, default=30, help="marks a cell: %(default)s")
    ranges = which.add_parser("sizes", help="boundary dimensions beside a range query over parts")
    ranges.add_argument("--sizes", default="1000000", help="own parts: %(default)s")
    ranges.add_argument("--cases", type=int, default=30, help="queries a row: %(default)s")


def _ask_growth(which: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    """What is measured of the store: its growth, and that it loses nothing."""
    growth = which.add_parser("scale", help="time, memory and disk as the store grows")
    growth.add_argument(
        "--sizes", default="1000,10000,100000,1000000", help="own parts: %(default)s"
    )
    growth.add_argument("--cases", type=int, default=60, help="marks a store: %(default)s")
    growth.add_argument("--svg", type=Path, help="where to draw it")
    which.add_parser("stamps", help="designations as they are stamped, read and found")
    kept = which.add_parser("sheets", help="facts of owners' sheets that hold after an import")
    kept.add_argument("--only", default="", help="sheets whose name has this")
    kept.add_argument("-v", "--verbose", action="store_true", help="each fact that does not hold")
    which.add_parser("standards", help="how well each family of standard parts is borne out")
    honest = which.add_parser("together", help="odds where sizes decide, a quarter absent")
    honest.add_argument("--cases", type=int, default=300, help="cases a cell: %(default)s")
    honest.add_argument("--only", default="", help="cells whose name has this")
    asking = which.add_parser("checks", help="checks answered until one part stands")
    asking.add_argument("--cases", type=int, default=100, help="sessions a cell: %(default)s")
    sound = which.add_parser("trust", help="a store killed, damaged, and with several in it")
    sound.add_argument("--kills", type=int, default=200, help="default %(default)s")
    sound.add_argument("--seconds", type=float, default=60, help="of the crowd: %(default)s")
    sound.add_argument("--trials", type=int, default=100, help="damages a sort: %(default)s")


def _measure(asked: argparse.Namespace) -> None:
    if asked.which == "cold":
        cold.measure(asked.repeats, asked.seed)
    elif asked.which == "sheets":
        sheets.measure(asked.only, verbose=asked.verbose)
    else:
        _measure_more(asked)


def _measure_more(asked: argparse.Namespace) -> None:
    if asked.which in ("standards", "stamps"):
        print(standards.report()) if asked.which == "standards" else stamps.measure()
        return
    if asked.which == "together":
        together.measure(asked.cases, asked.seed, asked.only)
        return
    if asked.which == "checks":
        checks.measure(asked.cases, asked.seed)
        return
    if asked.which == "trust":
        trust.measure(asked.kills, asked.seconds, asked.trials, asked.seed)
        return
    counts = [int(size.replace("_", "")) for size in asked.sizes.split(",")]
    if asked.which == "import":
        importing.measure(counts, asked.repeats, asked.seed)
    elif asked.which == "scale":
        scale.measure(counts, asked.cases, asked.seed, asked.svg)
    elif asked.which == "sizes":
        sizes.measure(counts, asked.cases, asked.seed)
    elif asked.which == "speed":
        speed.measure(counts, asked.cases, asked.seed)
    else:
        _measure_answers(counts, asked)


def _measure_answers(counts: list[int], asked: argparse.Namespace) -> None:
    if asked.noise:
        noise.known()
    if asked.which == "calibration":
        honest = calibration.Plan(
            asked.cases, asked.fit_cases, asked.seed, asked.svg, bore=asked.bore
        )
        calibration.measure(counts, replace(honest, noise=noise.NOISES) if asked.noise else honest)
        return
    plan = accuracy.Plan(asked.cases, asked.seed, asked.rivals == "own", asked.examples)
    accuracy.measure(counts, replace(plan, cells=noise.CELLS) if asked.noise else plan)


if __name__ == "__main__":
    main()
