"""Where modules of this folder are tested that have no test file of their own."""

TESTED_IN = {
    "page_varieties": "test_varieties.py",
    "page_where_i_grow": "../../web/people/test_own_account.py",
    "shelters": "../posting/test_parcels.py",
    "variety_meant": "../sharing/test_acts_broken.py",
}
"""Modules without a test file of their own, and the file whose tests use them most."""
