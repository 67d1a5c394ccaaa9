"""Pictures of the work, and how they are written."""
