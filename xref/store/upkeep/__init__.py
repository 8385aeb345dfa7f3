"""What keeps a store whole: checks, copies, and what was changed taken back."""
