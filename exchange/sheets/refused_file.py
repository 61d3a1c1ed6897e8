"""The refusal of a file that cannot or must not be read."""


class UnreadableFileError(Exception):
    """The file is not read; the text is a sentence for who handed it in."""
