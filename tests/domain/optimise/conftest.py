"""Where modules of this folder are tested that have no test file of their own."""

TESTED_IN = {
    "below_lines": "test_programmes.py",
    "branch": "test_programmes.py",
    "concave": "test_programmes.py",
    "curves": "../sharing/test_gaming.py",
    "grid": "../sharing/test_leximin.py",
    "programme": "test_whole.py",
    "solve": "test_programmes.py",
}
"""Modules without a test file of their own, and the file whose tests use them most."""
