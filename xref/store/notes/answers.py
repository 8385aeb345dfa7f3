"""What was answered of the columns of a list, kept for lists with the same headings."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Mapping, Sequence

from sqlalchemy import Connection, delete, insert, select

from xref.store.file.clock import now
from xref.store.tables.sheets import sheet_answer

BARE = "sizes without a unit"
"""The name under which it is kept what a bare size is in."""


def _known_by(headings: Sequence[str]) -> str:
    return hashlib.sha256("\n".join(headings).encode()).hexdigest()


def answers_for(conn: Connection, headings: Sequence[str]) -> dict[str, str]:
    """What was answered of lists with these headings: fields by column, and ``BARE``."""
    if not headings:
        return {}
    query = select(sheet_answer.c.answers).where(sheet_answer.c.headings == _known_by(headings))
    text = conn.scalar(query)
    return dict(json.loads(text)) if text else {}


def remember(conn: Connection, headings: Sequence[str], answers: Mapping[str, str]) -> None:
    """Keep answers for lists with these headings, in place of earlier ones.

    They are no part of the history: what an undo takes back is what was stored with them.
    """
    forget(conn, headings)
    if headings and answers:
        row = {
            "headings": _known_by(headings),
            "answers": json.dumps(dict(answers), ensure_ascii=False),
            "at": now(),
        }
        conn.execute(insert(sheet_answer).values(**row))


def forget(conn: Connection, headings: Sequence[str]) -> bool:
    """Forget what was answered of lists with these headings; whether there was anything."""
    known = _known_by(headings)
    done = conn.execute(delete(sheet_answer).where(sheet_answer.c.headings == known))
    return done.rowcount > 0
