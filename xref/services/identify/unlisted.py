"""What a number that is not in the store may be, by its shape."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from sqlalchemy import Connection

from xref.domain.mark import Mark
from xref.domain.shape import best_shapes
from xref.errors import InputError
from xref.store.index.shapes import known_shapes, sources_of_shape


def unlisted(
    conn: Connection, marks: Sequence[Mark], decoded: bool, sources: bool
) -> Iterator[str]:
    """A sentence for each mark of a shape that some maker's numbers have.

    ``decoded``: whether it is a designation is said too; ``sources``: where such numbers stand is
    said too. Both cost more than most answers.
    """
    shapes = known_shapes(conn)
    for mark in marks:
        told = [
            f"{count} numbers of {maker or 'no known maker'} ({form})"
            + (_sources(conn, maker, form) if sources else "")
            for maker, form, count in best_shapes(mark, shapes)
        ]
        if told:
            known = not decoded or _is_designation(mark)
            other = "" if known else "; it is no bearing or seal designation"
            form = " and of ".join(told)
            yield f"{mark.shown()} is not in the store; it has the shape of {form}{other}."


def _sources(conn: Connection, maker: str, form: str) -> str:
    titles = sources_of_shape(conn, maker, form)
    return f", such as stand in {' and '.join(titles)}" if titles else ""


def _is_designation(mark: Mark) -> bool:
    from xref.services.decode.decode import decode

    try:
        return any(r.tables_agreeing for r in decode(mark.text).readings)
    except InputError:
        return False
