"""Pictures of designs, as files of designs."""
