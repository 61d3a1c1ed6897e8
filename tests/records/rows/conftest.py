"""Where modules of this folder are tested that have no test file of their own."""

TESTED_IN = {
    "circle": "../test_repositories.py",
    "growing": "../test_repositories.py",
    "people": "../test_repositories.py",
    "posting": "../test_repositories.py",
    "running": "../test_repositories.py",
    "sharing": "../test_repositories.py",
    "wanted": "../test_repositories.py",
    "weather": "../test_repositories.py",
}
"""Modules without a test file of their own, and the file whose tests use them most."""
