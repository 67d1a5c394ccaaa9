"""The walk over the elements, down to shapes on the page."""
