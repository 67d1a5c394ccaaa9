"""Paths, and the maps and cuts that they undergo."""
