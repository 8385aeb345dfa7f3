"""``python -m xref`` and the ``xref`` command."""

from __future__ import annotations

import gc
import sys


def main() -> None:
    """Run the command line and leave with its exit code."""
    from xref.cli.app import main as run

    # Most of what a short run makes lives to its end: looking through it for garbage on the way
    # and again on leaving takes a tenth of the time of a search.
    gc.set_threshold(50_000)
    code = run()
    gc.freeze()
    sys.exit(code)


if __name__ == "__main__":
    main()
