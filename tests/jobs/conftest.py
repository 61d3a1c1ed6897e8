"""Where modules of this folder are tested that have no test file of their own."""

TESTED_IN = {
    "kinds": "../web/sharing/test_share_out.py",
    "table": "test_worker.py",
}
"""Modules without a test file of their own, and the file whose tests use them most."""
