"""The store looked after: checked, copied, and its history told."""
