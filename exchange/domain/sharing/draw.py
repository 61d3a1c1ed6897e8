"""The draw number: decides ties, and nothing else.

Its hash is shown at opening and the number itself at closing, so that anyone can recompute both the hash and the
number each claim drew. Among share-outs that are equal under every rule, the one whose allocated plants drew the
largest sum wins.
"""

from hashlib import sha256

CLAIM_DRAWS_BELOW = 2**20
SPARE_DRAWS_BELOW = 2**8


def shown_at_opening(draw_number: str) -> str:
    """Give the hash that is shown at opening: SHA-256 of the number's UTF-8 bytes, in hexadecimal."""
    return sha256(draw_number.encode()).hexdigest()


def drawn(draw_number: str, claim_id: int, spare_id: int) -> int:
    """Give the number a claim drew for a spare.

    The claim's own draw comes first; the spare's only tells apart spares that serve the claim equally well.
    """
    of_claim = _number(f"{draw_number}/claim/{claim_id}") % CLAIM_DRAWS_BELOW
    of_spare = _number(f"{draw_number}/claim/{claim_id}/spare/{spare_id}") % SPARE_DRAWS_BELOW
    return of_claim * SPARE_DRAWS_BELOW + of_spare + 1


def order_of_ties(draw_number: str, claim_ids: tuple[int, ...]) -> tuple[int, ...]:
    """Give the claims in the order in which they win a plain tie, the first wins."""
    return tuple(sorted(claim_ids, key=lambda one: (-drawn(draw_number, one, 0), one)))


def _number(text: str) -> int:
    """Give the first eight bytes of the text's SHA-256 as a number."""
    return int.from_bytes(sha256(text.encode()).digest()[:8], "big")
