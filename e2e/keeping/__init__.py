"""Nothing is lost, nothing is taken from strangers, nothing is sent."""
