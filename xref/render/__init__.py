"""Results as plain text for a terminal, and as JSON documents."""
