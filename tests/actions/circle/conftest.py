"""Where modules of this folder are tested that have no test file of their own."""

TESTED_IN = {
    "dealings": "test_leaving.py",
    "erasures": "test_restore.py",
    "list_rows": "test_page_lists.py",
    "page_deeds": "../../web/people/test_acting_for.py",
    "season_file": "../sharing/test_share_out.py",
    "season_parcels": "test_page_season.py",
    "set_up": "../../cli/test_install.py",
    "page_spreadsheets": "../../web/circle/test_spreadsheets.py",
    "spreadsheet_facts": "test_spreadsheets.py",
    "spreadsheet_kept": "test_spreadsheets.py",
    "spreadsheet_rows": "test_spreadsheets.py",
    "spreadsheet_stock": "test_spreadsheets.py",
    "spreadsheet_undo": "test_spreadsheets.py",
    "terms": "../../web/circle/test_terms.py",
}
"""Modules without a test file of their own, and the file whose tests use them most."""
