"""Every hand, every eye, every language."""
