"""What fits in place of a part, what differs, and what to ask for."""
