"""Where templates, seed data and the glossary lie: in a checkout beside the package, in a wheel inside it."""

from pathlib import Path

_PACKAGE = Path(__file__).resolve().parent
_SHIPPED = _PACKAGE / "_shipped"
_ROOT = _SHIPPED if _SHIPPED.is_dir() else _PACKAGE.parent

TEMPLATES = _ROOT / "templates"
SEED_DATA = _ROOT / "seed_data"
REFERENCE_DATA = SEED_DATA / "reference"
DEMO_DATA = SEED_DATA / "demo"
GLOSSARY = _ROOT / "docs" / "glossary.md"
