"""One module a page. Each has a ``PAGE``; ``xref.web.app`` finds it by that."""
