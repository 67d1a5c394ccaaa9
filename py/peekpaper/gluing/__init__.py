"""Which piece goes where, and in what order."""
