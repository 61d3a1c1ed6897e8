"""The headers by which every answer tells the browser what to forbid."""

from secrets import token_urlsafe

from flask import Flask, Response, g, request

_POLICY = (
    "default-src 'self'; script-src 'self' 'nonce-{nonce}'; style-src 'self'; "
    "img-src 'self' data:; object-src 'none'; base-uri 'none'; frame-ancestors 'none'; "
    "form-action 'self'"
)
_ALWAYS = {
    "X-Content-Type-Options": "nosniff",
    "Referrer-Policy": "same-origin",
    "Cross-Origin-Opener-Policy": "same-origin",
    "Permissions-Policy": "camera=(), geolocation=(), microphone=(), payment=()",
    "X-Robots-Tag": "noindex, nofollow",
}
_A_YEAR_S = 31_536_000


def _give_nonce() -> None:
    g.csp_nonce = token_urlsafe(16)


def _harden(answer: Response) -> Response:
    nonce = g.get("csp_nonce") or token_urlsafe(16)
    answer.headers["Content-Security-Policy"] = _POLICY.format(nonce=nonce)
    for name, value in _ALWAYS.items():
        answer.headers.setdefault(name, value)
    if request.is_secure:
        answer.headers["Strict-Transport-Security"] = f"max-age={_A_YEAR_S}"
    if request.endpoint != "static" and not answer.headers.get("Cache-Control"):
        answer.headers["Cache-Control"] = "private, no-store"
    return answer


def register(app: Flask) -> None:
    app.before_request(_give_nonce)
    app.after_request(_harden)
