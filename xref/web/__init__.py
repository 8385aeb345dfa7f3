"""The page: the whole job in a browser, served from one's own computer."""
