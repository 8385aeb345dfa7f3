"""Every table of the store."""
