"""The bench book: what lies on the bench, how it was decided, how it fitted, what is wanted."""
