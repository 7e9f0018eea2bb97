"""What is said at a shell of a command that was typed wrong: a sentence first, then, where it helps, how to type it."""

from __future__ import annotations

import pytest

from review.management.commands import compare, inspect, let_in, serve
from review.management.plain import PlainCommand


@pytest.mark.parametrize(
    ("command", "typed", "said"),
    [
        (
            compare,
            "compare",
            "The following arguments are required: old, new.\nusage: manage.py compare [-h] [--json] old new\n",
        ),
        (
            inspect,
            "inspect one two",
            "Unrecognized arguments: two.\nusage: manage.py inspect [-h] [--json] file\n",
        ),
        (
            serve,
            "serve --port abc",
            "Argument --port: “abc” is no port: give a number from 1 to 65535, such as 8000.\n",
        ),
    ],
    ids=["too little", "too much", "a value"],
)
def test_what_was_typed_wrong_is_said_first(
    command: object, typed: str, said: str, capsys: pytest.CaptureFixture[str]
) -> None:
    made = command.Command()  # type: ignore[attr-defined]  # a module of commands
    assert isinstance(made, PlainCommand)
    with pytest.raises(SystemExit) as end:
        made.run_from_argv(["manage.py", *typed.split()])
    assert (end.value.code, capsys.readouterr().err) == (2, said)


def test_a_role_that_there_is_not_is_said_with_those_that_there_are(capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit):
        let_in.Command().run_from_argv(["manage.py", "let_in", "ada@example.org", "--role", "king"])
    said = capsys.readouterr().err
    assert said.startswith("Argument --role: invalid choice: 'king' (choose from ")
    assert "usage" not in said
