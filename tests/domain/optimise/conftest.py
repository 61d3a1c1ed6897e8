"""Where modules of this folder are tested that have no test file of their own."""

TESTED_IN = {
    "branch": "test_programmes.py",
    "programme": "test_whole.py",
    "solve": "test_programmes.py",
}
"""Modules without a test file of their own, and the file whose tests use them most."""
