"""What the part on the bench is: gathered, scored, weighed and judged."""
