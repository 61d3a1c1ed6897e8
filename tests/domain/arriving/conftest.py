"""Where modules of this folder are tested that have no test file of their own."""

TESTED_IN = {
    "by_group": "test_care.py",
    "course": "test_care.py",
    "receiving": "test_nights.py",
    "step": "test_care.py",
}
"""Modules without a test file of their own, and the file whose tests use them most."""
