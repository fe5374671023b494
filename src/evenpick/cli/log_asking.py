"""The questions of a line of the diary, asked in a terminal until it is understood or refused."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

import click

from evenpick.base.language import tell

if TYPE_CHECKING:
    from evenpick.garden.diary_asking import Question
    from evenpick.service.log import LogAnswer


def asked_through(read: Callable[[], LogAnswer], answer: LogAnswer, answers: dict[str, str]) -> LogAnswer:
    """The line read again with every answer, until it is understood or refused."""
    while answer.question is not None and (answer.question.choices or answer.question.free):
        said = _ask(answer.question)
        answers[answer.question.key] = said
        answer = read()
    return answer


def _ask(question: Question) -> str:
    click.echo(question.text, err=True)
    for number, choice in enumerate(question.choices, 1):
        click.echo(f"  {number}  {choice.label}", err=True)
    hint = tell("Type it, such as {free}", free=question.free) if question.free else tell("Number or word")
    while True:
        said: str = click.prompt(hint, err=True)
        found = _chosen(question, said)
        if found is not None:
            return found
        click.echo(tell("That is none of them."), err=True)


def _chosen(question: Question, said: str) -> str | None:
    """The value of a choice told by its number or its words; what was typed where that will do."""
    said = said.strip()
    if said.isdecimal() and 1 <= int(said) <= len(question.choices):
        return question.choices[int(said) - 1].value
    fit = [
        choice.value
        for choice in question.choices
        if said.casefold() in (choice.value.casefold(), choice.label.casefold())
    ]
    fit = fit or [
        choice.value for choice in question.choices if choice.label.casefold().startswith(said.casefold())
    ]
    if len(fit) == 1:
        return fit[0]
    return said if question.free and said else None
