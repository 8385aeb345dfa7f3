"""What a command that writes something down says of it: in words, or as one JSON document."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING, Any

import click

from xref.cli.app import cautioned, echo_json, mentioned

if TYPE_CHECKING:
    from xref.services.open import OpenStore


def say_written(
    opened: OpenStore,
    as_json: bool,
    document: dict[str, Any],
    lines: Iterable[str],
    made: Iterable[str] = (),
    cautions: Iterable[str] = (),
) -> None:
    """Print ``lines`` and what to mind, or ``document`` with that and with what is new in it.

    ``made`` are the numbers that are in the store only because they were named; ``opened`` is the
    store, which knows the other new names. Those are said on stderr in any case.
    """
    numbers, texts = list(made), list(cautions)
    mentioned(numbers)
    if not as_json:
        for line in lines:
            click.echo(line)
        cautioned(texts)
        return
    new = [{"what": "number", "name": number, "near": []} for number in numbers]
    new += [name.to_json() for name in opened.news]
    echo_json({**document, "cautions": texts, "new": new})
