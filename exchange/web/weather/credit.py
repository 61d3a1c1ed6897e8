"""The credit a weather service asks for, with its link where it asks for one."""

from markupsafe import Markup

from exchange.words.kernel.phrase import as_sentence

_LINKS = {
    "Weather data by Open-Meteo.com": "https://open-meteo.com/",
}
"""Where services that want a link are linked to (https://open-meteo.com/en/licence)."""


def credit(source: str, attribution: str) -> Markup:
    """Give the service's own words, linked where it is known to want it."""
    text = attribution or source
    for words, address in _LINKS.items():
        if words in text:
            link = Markup('<a href="{}" rel="noreferrer">{}</a>').format(address, words)
            before, _words, after = text.partition(words)
            return Markup("{}{}{}").format(before, link, after)
    return Markup("{}").format(as_sentence(text))
