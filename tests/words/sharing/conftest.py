"""Where modules of this folder are tested that have no test file of their own."""

TESTED_IN = {
    "asker": "test_reasons.py",
    "box": "../../web/sharing/test_spare_lines.py",
    "old_claims": "../../actions/sharing/test_old_claims.py",
}
"""Modules without a test file of their own, and the file whose tests use them most."""
