"""A store opened: made, seeded, moved to the newest layout."""
