"""Where modules of this folder are tested that have no test file of their own."""

TESTED_IN = {
    "circle_choice": "test_joining.py",
    "confirm_identity": "../posting/test_parcels.py",
    "detail_forms": "test_own_details.py",
    "inviting_forms": "test_inviting.py",
    "letters": "test_own_account.py",
    "member_forms": "test_joining.py",
    "towns": "test_joining.py",
}
"""Modules without a test file of their own, and the file whose tests use them most."""
