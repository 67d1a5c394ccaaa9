"""Papers: those of a project, the stash, papers that are printed."""
