"""Where modules of this folder are tested that have no test file of their own."""

TESTED_IN = {
    "chart_figure": "../sharing/test_chart_counts.py",
    "chart_glyphs": "../sharing/test_chart_counts.py",
    "chart_waves": "../posting/test_chart_traces.py",
    "edits": "../people/test_own_details.py",
    "entry": "../posting/test_calendars.py",
    "form_filters": "../circle/test_terms.py",
    "form_state": "../people/test_own_details.py",
    "help_pages": "../people/test_own_details.py",
    "layout": "../home/test_parts_page.py",
    "page_frame": "../people/test_sign_in.py",
    "refusals": "../posting/test_parcels.py",
    "session": "../people/test_own_account.py",
    "tasks": "../posting/test_parcels.py",
}
"""Modules without a test file of their own, and the file whose tests use them most."""
