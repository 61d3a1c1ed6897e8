"""Where modules of this folder are tested that have no test file of their own."""

TESTED_IN = {
    "allocations": "test_reserve.py",
    "box_members": "test_box_undo.py",
    "check_working": "../../cli/test_share_out.py",
    "closing_day": "test_share_out_changes.py",
    "explanation": "test_share_out_explained.py",
    "form_choices": "test_claims.py",
    "page_changes": "test_share_out_after.py",
    "page_choosing": "../../web/sharing/test_share_out.py",
    "page_claim_answer": "test_share_out_explained.py",
    "page_claims": "test_claims.py",
    "page_draw": "test_share_out_explained.py",
    "page_left_overs": "test_left_overs.py",
    "page_share_out_lines": "../../web/sharing/test_share_out.py",
    "page_share_outs": "../../web/sharing/test_share_out.py",
    "page_spare": "../../web/sharing/test_spares.py",
    "page_spares": "../../web/sharing/test_spares.py",
    "scenarios": "test_share_out_explained.py",
    "share_out_letters": "test_reserve.py",
    "share_out_proposal": "test_share_out_explained.py",
    "share_out_state": "test_share_out_changes.py",
    "spare_withdrawal": "test_spares.py",
}
"""Modules without a test file of their own, and the file whose tests use them most."""
