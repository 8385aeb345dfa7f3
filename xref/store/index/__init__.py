"""The search for spellings and sizes: what is near a reading, and how common it is."""
