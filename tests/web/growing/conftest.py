"""Where modules of this folder are tested that have no test file of their own."""

TESTED_IN = {
    "chart_hundred": "../sharing/test_chart_counts.py",
    "losing": "test_varieties.py",
    "mending_forms": "test_variety_mending.py",
    "plant_choices": "test_varieties.py",
    "setting_up_forms": "test_setting_up.py",
    "variety_forms": "test_varieties.py",
    "variety_meant": "../sharing/test_spares.py",
    "where_i_grow_forms": "test_where_i_grow.py",
}
"""Modules without a test file of their own, and the file whose tests use them most."""
