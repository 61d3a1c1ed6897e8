"""A packed workbook, unpacked within limits: nothing is opened that says less than it holds."""

import zipfile
import zlib
from io import BytesIO

from exchange.sheets.refused_file import UnreadableFileError

MOST_UNPACKED = 20 * 1024 * 1024
"""Most that a workbook may hold once unpacked (judgement) [bytes]."""

MOST_RATIO = 100
"""How many times larger than its file a workbook may be, once it is over 1 MB (judgement) [1]."""

MOST_PARTS = 200
"""Most files within a workbook (judgement) [files]."""

_SMALL = 1024 * 1024
_CHUNK = 64 * 1024
_READ = (".xml", ".rels")
_UNSURE = "This spreadsheet is damaged or made to do harm. Save it anew, or as .csv."
_TOO_LARGE = "Unpacked, this spreadsheet is far larger than any list. Save only the rows, as .csv."


def unpacked(content: bytes) -> dict[str, bytes]:
    """Give the parts of a workbook that hold text.

    Raises
    ------
    UnreadableFileError
        When it is damaged, locked, holds too much, or says less than it holds.
    """
    try:
        with zipfile.ZipFile(BytesIO(content)) as packed:
            return _parts(packed, len(content))
    except (zipfile.BadZipFile, zlib.error, EOFError, OSError, NotImplementedError, RuntimeError, ValueError) as error:  # fmt: skip
        raise UnreadableFileError(_UNSURE) from error


def _parts(packed: zipfile.ZipFile, size: int) -> dict[str, bytes]:
    infos = packed.infolist()
    whole = sum(one.file_size for one in infos)
    if len(infos) > MOST_PARTS or whole > MOST_UNPACKED or (whole > _SMALL and whole > MOST_RATIO * size):  # fmt: skip
        raise UnreadableFileError(_TOO_LARGE)
    if len({one.filename for one in infos}) < len(infos):
        raise UnreadableFileError(_UNSURE)
    if any(one.flag_bits & 1 for one in infos):
        raise UnreadableFileError("This spreadsheet is locked. Save it without a password.")
    return {
        one.filename: _part(packed, one)
        for one in infos
        if one.filename.endswith(_READ) or one.filename == "mimetype"
    }


def _part(packed: zipfile.ZipFile, one: zipfile.ZipInfo) -> bytes:
    """Unpack one part, and no more of it than it says it holds."""
    pieces, left = [], one.file_size
    with packed.open(one) as stream:
        while piece := stream.read(_CHUNK):
            left -= len(piece)
            if left < 0:
                raise UnreadableFileError(_UNSURE)
            pieces.append(piece)
    found = b"".join(pieces)
    if b"<!DOCTYPE" in found or b"<!ENTITY" in found:
        raise UnreadableFileError(_UNSURE)
    return found


def packed_anew(parts: dict[str, bytes]) -> bytes:
    """Pack the parts again, not compressed, so that nothing else can be found in them."""
    file = BytesIO()
    with zipfile.ZipFile(file, "w", zipfile.ZIP_STORED) as packed:
        for name, content in parts.items():
            packed.writestr(name, content)
    return file.getvalue()
