"""What the user noted beside the parts themselves: read and written."""
