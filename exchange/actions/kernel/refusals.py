"""The base of every refusal: a sentence for the person, and the field it belongs to."""


class RefusedError(Exception):
    """An act was refused; particular refusals are named beside the acts that raise them.

    Attributes
    ----------
    field : name of the form field the sentence belongs to, or empty
    """

    def __init__(self, sentence: str, field: str = "") -> None:
        super().__init__(sentence)
        self.field = field
