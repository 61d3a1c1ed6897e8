"""One letter that tries a mail server before a circle rests on it."""

from datetime import datetime

from exchange.actions.kernel.services import ServiceWishes, mail_server
from exchange.mail.letter import From, Letter, NoAddressError, as_message
from exchange.mail.sending import DeliveryFault, send
from exchange.words.kernel import mail_faults as words


def try_mail(wanted: ServiceWishes, circle: str, to: str, token: str, now: datetime) -> str:
    """Mail a test letter, and give why it was not taken; empty when the server took it.

    Parameters
    ----------
    circle : the circle's name, by which the letter is signed
    to : the mail address it goes to
    token : makes the letter's message id its own
    """
    server = mail_server(wanted)
    if server is None:
        return "No mail server is named."
    subject, text = words.trial_letter(circle)
    host = wanted.mail_from.rpartition("@")[2]
    letter = Letter("", to, subject, text, f"trial.{token[:16]}@{host}", now)
    try:
        message = as_message(letter, From(circle, wanted.mail_from))
    except NoAddressError as error:
        return f"{error}."
    sent = send(message, server)
    return words.fault(sent.kind.value, sent.answer) if isinstance(sent, DeliveryFault) else ""
