"""Where modules of this folder are tested that have no test file of their own."""

TESTED_IN = {
    "chart_outcomes": "test_chart_counts.py",
    "claim_answer": "test_share_out.py",
    "claim_forms": "test_claims.py",
    "left_overs": "test_share_out.py",
    "share_out_forms": "test_share_out.py",
    "spare_forms": "test_claims.py",
    "spare_reading": "test_spares.py",
    "spare_rows": "test_spare_lines.py",
}
"""Modules without a test file of their own, and the file whose tests use them most."""
