"""Filled databases of earlier revisions, and the command that made them: `python -m tests.records.kept_circles`."""
