"""Handing one message to the mail server; what can go wrong comes back as a value."""

import smtplib
import ssl
from dataclasses import dataclass
from email.message import EmailMessage
from enum import StrEnum


class Security(StrEnum):
    """How the line to the mail server is kept private."""

    NONE = "none"
    STARTTLS = "starttls"
    TLS = "tls"


@dataclass(frozen=True, slots=True)
class MailServer:
    """The mail server's settings.

    Attributes
    ----------
    timeout_s : how long to wait for an answer [s]
    ca_file : certificates to trust instead of the system's, or empty
    local_name : the name this machine gives itself, or empty for its own
    """

    host: str
    port: int = 25
    security: Security = Security.NONE
    user: str = ""
    password: str = ""
    timeout_s: float = 20.0
    ca_file: str = ""
    local_name: str = ""


@dataclass(frozen=True, slots=True)
class Sent:
    """The server accepted the message."""


class DeliveryFaultKind(StrEnum):
    """Why a message was not accepted."""

    UNREACHABLE = "unreachable"
    SIGN_IN = "sign_in"
    NOT_PRIVATE = "not_private"
    ADDRESS = "address"
    LATER = "later"
    REFUSED = "refused"


@dataclass(frozen=True, slots=True)
class DeliveryFault:
    """The message was not accepted.

    Attributes
    ----------
    again : whether trying later can help
    answer : what the server or the machine said, in one line
    """

    kind: DeliveryFaultKind
    again: bool
    answer: str


def send(message: EmailMessage, server: MailServer) -> Sent | DeliveryFault:
    """Hand the message to the server once, and say what came of it; never raises for the network."""
    try:
        with _connected(server) as line:
            if server.user:
                line.login(server.user, server.password)
            line.send_message(message)
    except (OSError, smtplib.SMTPException, UnicodeError) as error:
        return _fault(error)
    return Sent()


def _connected(server: MailServer) -> smtplib.SMTP:
    name = server.local_name or None
    if server.security is Security.TLS:
        return smtplib.SMTP_SSL(
            server.host,
            server.port,
            local_hostname=name,
            timeout=server.timeout_s,
            context=_trust(server),
        )
    line = smtplib.SMTP(server.host, server.port, local_hostname=name, timeout=server.timeout_s)
    if server.security is Security.STARTTLS:
        try:
            line.starttls(context=_trust(server))
        except BaseException:
            line.close()
            raise
    return line


def _trust(server: MailServer) -> ssl.SSLContext:
    return ssl.create_default_context(cafile=server.ca_file or None)


def _fault(error: Exception) -> DeliveryFault:
    answer = _in_one_line(error)
    match error:
        case smtplib.SMTPAuthenticationError():
            return DeliveryFault(DeliveryFaultKind.SIGN_IN, again=False, answer=answer)
        case smtplib.SMTPRecipientsRefused(recipients=refused):
            code, said = next(iter(refused.values()))
            return _refusal(code, DeliveryFaultKind.ADDRESS, _in_one_line(said))
        case smtplib.SMTPResponseException(smtp_code=code):
            return _refusal(code, DeliveryFaultKind.REFUSED, answer)
        case ssl.SSLError() | smtplib.SMTPNotSupportedError():
            return DeliveryFault(DeliveryFaultKind.NOT_PRIVATE, again=False, answer=answer)
        case UnicodeError():
            return DeliveryFault(DeliveryFaultKind.ADDRESS, again=False, answer=answer)
        case _:
            return DeliveryFault(DeliveryFaultKind.UNREACHABLE, again=True, answer=answer)


def _refusal(code: int, kind: DeliveryFaultKind, answer: str) -> DeliveryFault:
    """Tell "not now" from "never": RFC 5321 section 4.2.1, replies 4yz may be tried again."""
    if 400 <= code < 500:
        return DeliveryFault(DeliveryFaultKind.LATER, again=True, answer=answer)
    return DeliveryFault(kind, again=False, answer=answer)


def _in_one_line(said: object) -> str:
    text = said.decode("utf-8", "replace") if isinstance(said, bytes) else str(said)
    return " ".join(text.split())[:300] or type(said).__name__
