"""Asking at the terminal for what no option names; bad answers are asked again."""

import sys
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field

import click

Answers = Mapping[str, str]


class ReplyRefusedError(ValueError):
    """An answer will not do; the sentence says what would."""


def _as_it_is(text: str) -> str:
    return text


@dataclass(frozen=True, slots=True)
class Prompt:
    """One thing to be asked for.

    Attributes
    ----------
    name : by which its answer is kept; its option is this with hyphens
    asks : how it is asked at a terminal
    check : gives the answer as it is kept, or raises ReplyRefusedError
    usual : the answer where none is given, None where one must be
    wanted : whether it is asked at all, by the answers so far
    hidden : whether it is typed unseen
    """

    name: str
    asks: str
    check: Callable[[str], str] = _as_it_is
    usual: Callable[[Answers], str] | None = None
    wanted: Callable[[Answers], bool] = lambda _answers: True
    hidden: bool = False

    @property
    def option(self) -> str:
        """Give the option that names it."""
        return "--" + self.name.replace("_", "-")


@dataclass(slots=True)
class Interview:
    """The answers so far: named by options, or asked for where somebody can answer.

    Attributes
    ----------
    told : what the options name
    """

    told: dict[str, str]
    answers: dict[str, str] = field(default_factory=dict)

    @property
    def can_ask(self) -> bool:
        """Say whether somebody sits at a terminal."""
        return sys.stdin.isatty()

    def __getitem__(self, name: str) -> str:
        return self.answers[name]

    def ask(self, questions: Iterable[Prompt]) -> None:
        """Take each answer from its option, or ask for it.

        Raises
        ------
        click.UsageError
            When nobody can be asked and options are missing, which it names.
        """
        missing = []
        for question in questions:
            if not question.wanted(self.answers):
                continue
            if question.name in self.told:
                self._take(question)
            elif self.can_ask:
                self._prompt(question, question.usual(self.answers) if question.usual else None)
            elif question.usual is not None:
                self.answers[question.name] = question.usual(self.answers)
            else:
                missing.append(question.option)
        if missing:
            raise click.UsageError(f"Missing {' and '.join(missing)}: nobody can be asked here.")

    def ask_again(self, questions: Iterable[Prompt], why: str) -> None:
        """Ask once more, with the answers so far to be taken by pressing Enter."""
        click.echo(why)
        for question in questions:
            if question.wanted(self.answers):
                usual = question.usual(self.answers) if question.usual else None
                self._prompt(question, self.answers.get(question.name, usual))

    def _take(self, question: Prompt) -> None:
        try:
            self.answers[question.name] = question.check(self.told[question.name])
        except ReplyRefusedError as refused:
            if not self.can_ask:
                raise click.ClickException(f"{question.option}: {refused}") from refused
            click.echo(f"{question.option}: {refused}")
            self._prompt(question, None)

    def _prompt(self, question: Prompt, usual: str | None) -> None:
        while True:
            shown = not question.hidden and bool(usual)
            said = click.prompt(
                question.asks, default=usual, show_default=shown, hide_input=question.hidden
            )
            try:
                self.answers[question.name] = question.check(said)
            except ReplyRefusedError as refused:
                click.echo(str(refused))
            else:
                return
