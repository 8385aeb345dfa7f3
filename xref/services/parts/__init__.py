"""The user's own parts, their marks and sources, and the cautions they carry."""
