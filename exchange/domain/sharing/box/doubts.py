"""Words that say a line is not, or not surely, a spare: none left, promised, perhaps, wanted, corrected."""

import re

_HARMLESS_NO = re.compile(
    r"\bno\s+(?:labels?|names?|virus|symptoms?|flowers?|damage|pests?|hurry|rush|problem|matter)\b",
    re.IGNORECASE,
)
_NONE_FIRST = re.compile(
    r"^(?:(?:sorry|alas|unfortunately|sadly|and|but|i|we|have|has|had|got|there|is|are|'ve)\b[\s,:'’]*)*"
    r"(?:no\b(?!\.)|none\b|not\s+(?:any|a\s+single)\b|nothing\b|lost\b|(?:do|did)(?:\s+not|n['’]t)\s+have\b|haven['’]t\b)",
    re.IGNORECASE,
)
_NONE_AFTER = re.compile(
    r"(?:\bnone\b(?!\s+(?:the|of))|\bnil\b|\ball\s+(?:gone|rotted|died|dead|lost|frozen)\b|\b(?:died|rotted|perished)\b|\bsold\s+out\b|"
    r"\b(?:is|are)\s+(?:gone|dead)\b|\bdid(?:\s+not|n['’]t)\s+(?:keep|survive|make|take|root|come)\b)",
    re.IGNORECASE,
)
_NO = re.compile(
    r"\b(?:no(?!\.)|not|none|nothing|never|neither|without|cannot|nil|lost|died|dead|rotted|gone|sold|frozen|eaten|"
    r"last\s+year|n['’]t)\b|n['’]t\b",
    re.IGNORECASE,
)
_PROMISED = re.compile(
    r"\b(?:promised|reserved|spoken\s+for|earmarked|already\s+(?:given|taken|gone|promised)|set\s+aside)\b",
    re.IGNORECASE,
)
_SPOKEN_FOR = re.compile(
    r"\b(?:keep(?:ing)?|kept|give[ns]?\s+to|taken|goes|going|collect\w*|swap\w*|return\w*|back)\b|"
    r"\b(?:for|to)\s+(?:[A-Z]\w+|me|myself|us|him|her)\b"
)
_UNCERTAIN = re.compile(
    r"\b(?:if|unless|maybe|perhaps|might|may(?!\s*(?:\d|$|[,.;]))|should|hopefully|possibly|probably|hope|think|unsure|"
    r"doubtful|later|except|but|instead|other|same|as\s+above|ditto|dto|was|were|had|only|left|wrong|"
    r"un(?:known|named)|either|or|next|soon|will|shall|want(?:s|ed)?|virus(?:ed)?|wilted|ill|weak|poor(?:ly)?|minus|less|plus|more|each|per|apiece|lost|mixed|assorted|various)\b|\?|[+&]|…$",
    re.IGNORECASE,
)  # fmt: skip
_WISH = re.compile(
    r"^(?:please\b[\s,]*|hello\b[\s,]*|hi\b[\s,]*|also\b[\s,]*|and\b[\s,]*)*(?:"
    r"any\b.*\?|(?:does|do|has|have)\s+(?:any\s?(?:one|body)|some\s?(?:one|body)|you)\b.*\b(?:have|got|grow|spare|any|a)\b.*|"
    r"who\s+(?:has|grows|can\s+spare)\b|(?:is|are)\s+there\s+any\b|"
    r"(?:i|we)(?:\s+would|\s*['’]d)\s+(?:really\s+|very\s+much\s+|dearly\s+)?(?:like|love)\b(?!\s+to\s+(?:give|offer|pass|share|swap))|"
    r"(?:i|we)\s+(?:want|wish|need)\b|would\s+(?:like|love)\b(?!\s+to)|(?:i['’]?\s?a?m\s+|we\s+are\s+)?(?:still\s+)?(?:looking|searching|hoping)\s+for\b|"
    r"(?:could|can|may)\s+(?:i|we)\s+(?:please\s+)?have\b|wanted\b|wants?\b|wish(?:es|\s+list)?\b|in\s+search\s+of\b|(?:i['’]m\s+|i\s+am\s+)after\b)",
    re.IGNORECASE,
)
WISH_WORDS = re.compile(
    r"\b(?:any\s?(?:one|body)|some\s?(?:one|body)|does|do|has|have|got|you|who|grows?|is|are|there|any|spares?|i|we|would|"
    r"really|very|much|dearly|like|love|want(?:ed|s)?|wish(?:es)?|need|still|looking|searching|hoping|for|could|can|may|please|"
    r"in|search|of|am|after|to|spare|left|over|out|me|have|hello|hi|also|and|thanks?|be|d|m|again|this|year|it)\b",
    re.IGNORECASE,
)
_CORRECTS = re.compile(
    r"^(?:p\.?\s?s\.?:?\s*)?(?:correct(?:ion|ed)|sorry\b[\s,]*(?:i\s+mean|make)|oops|i\s+mean[t]?|make\s+that|rather|actually|update|erratum)\b[\s:,–-]*",
    re.IGNORECASE,
)
_CORRECTION_HINT = re.compile(
    r"\b(?:correct\w*|sorry|oops|meant|make\s+(?:that|it)|actually|should\s+(?:be|read|have)|not\s+\d+|is\s+only|wrote|mistake)\b",
    re.IGNORECASE,
)


_OF_ABOVE = re.compile(
    r"\b(?:scrap|ignore|forget|delete|cross\s+out|strike|cancel|after\s+all|both|all|none|not|no|promised|reserved|spoken|gone|taken|"
    r"only|instead|make\s+(?:that|it)|correction|sorry|mistake|wrong|these|those|them|they|above|first|last|one|each|former|latter)\b",
    re.IGNORECASE,
)


def speaks_of_above(text: str) -> bool:
    """Say whether a line that names no plant may speak of the lines above it."""
    return bool(_OF_ABOVE.search(text))


def none_left(text: str, *, counted: bool) -> bool:
    """Say whether a line plainly says that there are none.

    Parameters
    ----------
    counted : whether a number stands in it
    """
    return not counted and bool(_NONE_FIRST.search(text) or _NONE_AFTER.search(text))


def says_no(text: str) -> bool:
    """Say whether a word of the line may deny it."""
    return bool(_NO.search(_HARMLESS_NO.sub(" ", text)))


def promised(text: str) -> bool:
    """Say whether a line plainly says that the plants are promised."""
    return bool(_PROMISED.search(text))


def perhaps_promised(text: str) -> bool:
    """Say whether a line may speak of plants somebody is to have or keep."""
    return bool(_SPOKEN_FOR.search(text))


def uncertain(text: str) -> bool:
    """Say whether a word of the line makes it uncertain."""
    return bool(_UNCERTAIN.search(text))


def wish(text: str) -> bool:
    """Say whether a line asks for plants."""
    return bool(_WISH.search(text))


def without_correction(text: str) -> str | None:
    """Give a line without the word that says it corrects another; None where it says no such thing."""
    found = _CORRECTS.match(text)
    return text[found.end() :] if found else None


def may_correct(text: str) -> bool:
    """Say whether a line may correct another."""
    return bool(_CORRECTION_HINT.search(text))
