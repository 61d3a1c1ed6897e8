"""Where modules of this folder are tested that have no test file of their own."""

TESTED_IN = {
    "chart_figure": "../sharing/test_chart_counts.py",
    "chart_glyphs": "../sharing/test_chart_counts.py",
    "chart_waves": "../posting/test_chart_traces.py",
    "edits": "../growing/test_edited_by_two.py",
    "entry": "test_headers.py",
    "form_filters": "test_filters.py",
    "help_pages": "test_help.py",
    "layout": "../home/test_parts_page.py",
    "page_frame": "test_headers.py",
    "refusals": "../posting/test_parcels.py",
    "session": "../people/test_own_account.py",
}
"""Modules without a test file of their own, and the file whose tests use them most."""
