"""Where modules of this folder are tested that have no test file of their own."""

TESTED_IN = {
    "batch": "test_fit.py",
    "room": "test_losing.py",
    "shelter": "test_losing.py",
    "variety": "test_losing.py",
}
"""Modules without a test file of their own, and the file whose tests use them most."""
