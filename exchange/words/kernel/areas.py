"""Countries and their parts, as members say them; an unknown code is given as it is."""

_COUNTRIES = {
    "GB": "United Kingdom",
    "IE": "Ireland",
    "NL": "Netherlands",
    "US": "United States",
    "*": "everywhere",
}
_PARTS = {
    ("GB", "ENG"): "England",
    ("GB", "SCT"): "Scotland",
    ("GB", "WLS"): "Wales",
    ("GB", "NIR"): "Northern Ireland",
}


def area_words(country: str, subdivision: str = "") -> str:
    """Give "Scotland" or, for a whole country, "United Kingdom, all of it"."""
    if not subdivision:
        return f"{country_words(country)}, all of it"
    return _PARTS.get((country, subdivision), f"{country_words(country)}, {subdivision}")


def country_words(country: str) -> str:
    """Give "Ireland"."""
    return _COUNTRIES.get(country, country)
