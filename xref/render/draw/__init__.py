"""Drawings as SVG text: plain data in, text out; nothing here reads a store or serves a page.

``part.draw_part`` draws one part to scale, with what was measured laid over it dashed, and
``part.draw_both`` two parts laid over each other; ``ranges.draw_ranges`` draws serial ranges on an
axis; ``chain.draw_chain`` draws supersessions. All give a ``figure.Drawing``: ``svg`` to stand in a
page (presentation attributes and classes only, so it needs no style of its own), ``file()`` to
stand alone (dark mode and print by itself), ``rows`` or ``cells`` for the table beside it,
``title`` and ``description``.

Classes for a page's style sheet, all beginning with ``xd``: ``xd-edge`` visible edge,
``xd-narrow`` dimension and narrow lines, ``xd-hatch`` hatching, ``xd-centre`` centre lines,
``xd-over`` what is laid over, ``xd-text`` letters, ``xd-own`` the machine's own serial or the
number asked for. Colours come from ``currentColor``, and each kind differs in its lines too.
"""
