"""Where modules of this folder are tested that have no test file of their own."""

TESTED_IN = {
    "acting_for": "test_contact.py",
    "belongings": "test_merge_members.py",
    "household_members": "../weather/test_frost_tonight.py",
    "households": "../../web/growing/test_where_i_grow.py",
    "joining": "../../web/people/test_joining.py",
    "labels": "../growing/test_varieties.py",
    "own_account": "../../web/people/test_own_account.py",
    "page_members": "../../web/people/test_members.py",
    "places": "../../web/growing/test_where_i_grow.py",
    "session": "../../web/people/test_joining.py",
    "sign_in": "test_members.py",
}
"""Modules without a test file of their own, and the file whose tests use them most."""
