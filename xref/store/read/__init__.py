"""Questions to the store, answered in the domain's own records."""
