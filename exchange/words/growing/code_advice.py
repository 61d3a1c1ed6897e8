"""What the code of cultivated-plant names advises, in sentences that name the article."""

from exchange.domain.growing.code_advice import LONGEST_EPITHET, Advice, CodeRule

_SAID = {
    CodeRule.OWNED: "“{word}” marks a selling name, which is no part of the epithet: write that apart (Article 13).",
    CodeRule.CULTIVAR_SIGN: "“{word}” is no longer written; the quotation marks say it (Article 14, from memory).",
    CodeRule.TOO_LONG: f"A new epithet has at most {LONGEST_EPITHET} letters, spaces not counted (Article 21).",
    CodeRule.BARE: "A single letter, or figures alone, make no epithet (Article 21).",
    CodeRule.LATIN: "A new epithet is not in Latin alone (Article 21).",
    CodeRule.GENUS: "The name of the genus, “{word}”, is left out of the epithet (Article 21, from memory).",
    CodeRule.BARRED: "“{word}” is one of the words a new epithet may not contain (Article 21).",
    CodeRule.BOAST: "A new epithet does not boast, as “{word}” does (Article 21).",
    CodeRule.SIGNS: "“{word}” is not among the signs an epithet may contain (Article 21, from memory).",
}


def advised(advice: Advice) -> str:
    """Give one rule as a sentence with its article."""
    return _SAID[advice.rule].format(word=advice.word)
