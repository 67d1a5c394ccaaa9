"""Cut files."""
