"""Lists of trims and of what to buy."""
