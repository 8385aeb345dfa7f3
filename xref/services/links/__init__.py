"""How numbers follow one another and stand for one another, and what belongs on which machine."""
