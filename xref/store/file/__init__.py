"""The store as a file: told apart, connected to, sealed."""
