"""Where modules of this folder are tested that have no test file of their own."""

TESTED_IN = {
    "base": "../test_transaction.py",
    "circle": "../test_upgrade.py",
    "growing": "../test_upgrade.py",
    "people": "../test_upgrade.py",
    "posting": "../test_upgrade.py",
    "running": "../test_upgrade.py",
    "sharing": "../test_upgrade.py",
    "weather": "../test_upgrade.py",
}
"""Modules without a test file of their own, and the file whose tests use them most."""
