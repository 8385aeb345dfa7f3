"""Files of rows that people bring."""
