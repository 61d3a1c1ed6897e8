"""Sending against a real SMTP server that runs here."""

import socket
import ssl
import subprocess
from contextlib import contextmanager
from email import message_from_bytes

import pytest
from aiosmtpd.controller import Controller
from aiosmtpd.smtp import AuthResult, LoginPassword

from exchange.mail.letter import From, as_message
from exchange.mail.sending import DeliveryFaultKind, MailServer, Security, Sent, send
from tests.builders.letters import a_letter
from tests.programs import program

SENDER = From("The Wending Circle", "circle@circle.example")


class Box:
    """Keeps what the server takes, and answers as it is told."""

    def __init__(self, to_rcpt=None, to_data=None):
        self.messages = []
        self.to_rcpt, self.to_data = to_rcpt, to_data

    async def handle_RCPT(self, *told):  # noqa: N802 - the server's name for it
        if self.to_rcpt:
            return self.to_rcpt
        _server, _session, envelope, address, _options = told
        envelope.rcpt_tos.append(address)
        return "250 OK"

    async def handle_DATA(self, *told):  # noqa: N802 - the server's name for it
        if self.to_data:
            return self.to_data
        envelope = told[-1]
        self.messages.append((envelope.mail_from, envelope.rcpt_tos, envelope.content))
        return "250 taken"


def a_free_port():
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        return free.getsockname()[1]


@contextmanager
def a_server(box, **more):
    port = a_free_port()
    controller = Controller(box, hostname="127.0.0.1", port=port, **more)
    controller.start()
    try:
        yield port
    finally:
        controller.stop()


def post(port, letter=None, **more):
    settings = {"timeout_s": 5.0, "local_name": "circle.example"} | more
    message = as_message(letter or a_letter(), SENDER)
    return send(message, MailServer("127.0.0.1", port, **settings))


def test_a_letter_arrives_once_as_it_was_written():
    box = Box()
    with a_server(box) as port:
        assert post(port, a_letter(text="Zoë grüßt ‘Tin Kettle’.\n")) == Sent()

    ((sender, receivers, content),) = box.messages
    assert (sender, receivers) == ("circle@circle.example", ["colin@arrow.example"])
    message = message_from_bytes(content)
    assert message["Message-ID"] == "<letter-17@circle.example>"
    assert message.get_payload(decode=True).decode().strip() == "Zoë grüßt ‘Tin Kettle’."


@pytest.mark.parametrize(
    ("answers", "kind", "again"),
    [
        ({"to_rcpt": "550 no such mailbox"}, DeliveryFaultKind.ADDRESS, False),
        ({"to_rcpt": "450 greylisted"}, DeliveryFaultKind.LATER, True),
        ({"to_data": "554 refused"}, DeliveryFaultKind.REFUSED, False),
        ({"to_data": "452 full"}, DeliveryFaultKind.LATER, True),
    ],
)
def test_a_refusal_says_whether_trying_again_can_help(answers, kind, again):
    """RFC 5321 section 4.2.1: 4yz may be tried again, 5yz should not be repeated."""
    with a_server(Box(**answers)) as port:
        fault = post(port)

    assert (fault.kind, fault.again) == (kind, again)
    assert "\n" not in fault.answer


def test_nobody_listening_is_a_fault_and_can_be_tried_again():
    fault = post(a_free_port())

    assert (fault.kind, fault.again) == (DeliveryFaultKind.UNREACHABLE, True)


def test_a_server_that_says_nothing_is_not_waited_for_for_ever():
    with socket.create_server(("127.0.0.1", 0)) as silent:
        fault = post(silent.getsockname()[1], timeout_s=0.3)

    assert (fault.kind, fault.again) == (DeliveryFaultKind.UNREACHABLE, True)


@pytest.fixture(scope="module")
def certificate(tmp_path_factory):
    openssl = program("openssl")
    folder = tmp_path_factory.mktemp("certificate")
    key, cert = folder / "key.pem", folder / "cert.pem"
    subprocess.run(
        [openssl, "req", "-x509", "-newkey", "rsa:2048", "-nodes", "-days", "2", "-subj", "/CN=localhost",
         "-addext", "subjectAltName=IP:127.0.0.1", "-keyout", key, "-out", cert],
        check=True, capture_output=True,
    )  # fmt: skip
    context = ssl.SSLContext(ssl.PROTOCOL_TLS_SERVER)
    context.load_cert_chain(cert, key)
    return context, str(cert)


def _check(server, session, envelope, mechanism, data):
    right = isinstance(data, LoginPassword) and data.password == b"right"
    return AuthResult(success=right, handled=False)


@pytest.mark.parametrize(("password", "goes"), [("right", True), ("wrong", False)])
def test_the_password_decides(certificate, password, goes):
    context, cert = certificate
    box = Box()
    with a_server(box, authenticator=_check, auth_required=True, tls_context=context) as port:
        private = {"security": Security.STARTTLS, "ca_file": cert}
        result = post(port, user="circle", password=password, **private)

    assert len(box.messages) == goes
    assert result == Sent() if goes else result.kind is DeliveryFaultKind.SIGN_IN
    assert "wrong" not in repr(result)


@pytest.mark.parametrize(
    ("security", "where"), [(Security.STARTTLS, "tls_context"), (Security.TLS, "ssl_context")]
)
def test_a_private_line_is_used_where_the_certificate_is_trusted(certificate, security, where):
    context, cert = certificate
    box = Box()
    with a_server(box, **{where: context}) as port:
        trusted = post(port, security=security, ca_file=cert)
        distrusted = post(port, security=security)

    assert trusted == Sent()
    assert (distrusted.kind, distrusted.again) == (DeliveryFaultKind.NOT_PRIVATE, False)
    assert len(box.messages) == 1


def test_a_letter_never_goes_in_the_clear_where_privacy_is_asked_for():
    box = Box()
    with a_server(box) as port:
        fault = post(port, security=Security.STARTTLS)

    assert fault.kind is DeliveryFaultKind.NOT_PRIVATE
    assert box.messages == []
