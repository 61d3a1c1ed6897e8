"""Builders for letters."""

from datetime import datetime, timedelta, timezone

from exchange.mail.letter import Letter


def a_letter(**more):
    values = {
        "to_name": "Colin",
        "to_address": "colin@arrow.example",
        "subject": "Did Bramble 27 come?",
        "text": "Dear Colin,\n\nDid it?\n",
        "message_id": "letter-17@circle.example",
        "written_at": datetime(2027, 4, 26, 18, tzinfo=timezone(timedelta(hours=1))),
    }
    return Letter(**(values | more))
