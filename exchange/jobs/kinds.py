"""The work of each kind of task: a row a kind."""

from exchange.actions.tasks import Work

KINDS: dict[str, Work] = {}
