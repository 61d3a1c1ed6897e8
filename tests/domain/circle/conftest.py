"""Where modules of this folder are tested that have no test file of their own."""

TESTED_IN = {
    "away": "../test_plan.py",
    "household": "../posting/test_choose_days.py",
    "place": "test_border.py",
}
"""Modules without a test file of their own, and the file whose tests use them most."""
