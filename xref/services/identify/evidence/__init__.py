"""One module a kind of evidence: each turns what was seen into items for one part."""
