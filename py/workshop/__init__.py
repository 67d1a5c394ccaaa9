"""What `build.py` does: gathers the runtime, builds the site, serves it, runs tests and checks."""
