"""Trade numbers read to the end: what they name, their sizes, what tells readings apart."""
