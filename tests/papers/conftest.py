"""Where modules of this folder are tested that have no test file of their own."""

TESTED_IN = {
    "care_sheet": "test_printing.py",
    "fill": "test_printing.py",
    "fonts": "test_hostile_text.py",
    "grids": "test_labels.py",
    "marks": "test_printing.py",
    "paper": "test_printing.py",
    "replay_page": "../domain/posting/replay/test_run.py",
    "sheet": "test_printing.py",
    "slip": "test_printing.py",
    "text": "test_hostile_text.py",
}
"""Modules without a test file of their own, and the file whose tests use them most."""
