"""Where modules of this folder are tested that have no test file of their own."""

TESTED_IN = {
    "plant_classes": "../../web/growing/test_plant_classes.py",
}
"""Modules without a test file of their own, and the file whose tests use them most."""
