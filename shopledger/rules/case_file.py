"""One file in, one answer out: what is behind every command that answers written cases and needs no ledger.

A file holds one case or a list of them. A single case that is refused gives one line on the error stream and nothing
else; in a list the refusal stands in the case's place and the others are answered.
"""

from __future__ import annotations

import json
import sys
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Generic, TextIO, TypeVar

from shopledger.quantities.errors import LedgerError, Refused, Trouble, Typed
from shopledger.quantities.numbers import brief
from shopledger.quantities.words import N_, _
from shopledger.rules.case_form import ObjectWritten, kind_of, line_of, parse_json

LARGEST_FILE = 8_000_000
MOST_CASES = 10_000
FINE, REFUSED = 0, 2
STANDARD_INPUT = "-"

Answer = TypeVar("Answer")


@dataclass(frozen=True, slots=True)
class Answering(Generic[Answer]):
    """How the cases of one command are answered.

    Shape:  `answer` gives the answer of one written case, or raises Typed or Refused; `written` gives it in the shape
            for programs, its keys in order; `statement` gives it as lines for a person, the last one ended.
    """

    answer: Callable[[object], Answer]
    written: Callable[[Answer], dict[str, object]]
    statement: Callable[[Answer], str]


@dataclass(frozen=True, slots=True)
class _Refusal:
    """The one line that refuses a case."""

    line: str


def answer_file(answering: Answering[Answer], path: str, as_json: bool, out: TextIO, err: TextIO) -> int:
    """Answer the case or cases of a file and write the answer; give the exit status: 0, or 2 where any was refused.

    Shape:  JSON is written in ASCII (other letters escaped), so that it reads the same in every encoding of a pipe;
            "-" reads standard input.
    """
    try:
        written = parse_json(_text_of(path))
        if isinstance(written, list):
            return _answer_all(answering, written, as_json, out)
        if not isinstance(written, ObjectWritten):
            raise Typed(
                N_("This is {kind}. Write a case in braces, or a list of cases."), kind=kind_of(written)
            )
    except LedgerError as error:
        _write(err, f"{_name_of(path)}: {line_of(error)}\n")
        return REFUSED
    answer = _answer(answering, written)
    if isinstance(answer, _Refusal):
        _write(err, answer.line + "\n")
        return REFUSED
    if as_json:
        _write(out, json.dumps(answering.written(answer), indent=2, allow_nan=False) + "\n")
    else:
        _write(out, answering.statement(answer))
    return FINE


def _answer(answering: Answering[Answer], written: object) -> Answer | _Refusal:
    """Give the answer of one written case, or the one line that refuses it."""
    try:
        return answering.answer(written)
    except (Typed, Refused) as error:
        return _Refusal(line_of(error))


def _answer_all(answering: Answering[Answer], written: list[object], as_json: bool, out: TextIO) -> int:
    """Answer every case of a list in its order."""
    if len(written) > MOST_CASES:
        raise Typed(
            N_("This list has {count} cases. Write at most {most} into one file."),
            count=len(written),
            most=MOST_CASES,
        )
    answers: list[Answer | _Refusal] = []
    for case in written:
        answer = _answer(answering, case)
        answers.append(answer)
    if as_json:
        rows = [
            json.dumps(
                {"refused": each.line} if isinstance(each, _Refusal) else answering.written(each),
                allow_nan=False,
            )
            for each in answers
        ]
        _write(out, "[" + ",\n ".join(rows) + "]\n")
    else:
        for n, each in enumerate(answers, start=1):
            head = _("Case {n}").format(n=n)
            body = (
                _("Refused: {line}").format(line=each.line) + "\n"
                if isinstance(each, _Refusal)
                else answering.statement(each)
            )
            _write(out, f"{head}\n{body}\n")
    return REFUSED if any(isinstance(each, _Refusal) for each in answers) else FINE


def _name_of(path: str) -> str:
    """Give how the file is named in a refusal."""
    return _("standard input") if path == STANDARD_INPUT else brief(path, 200)


def _text_of(path: str) -> str:
    """Give the text of the file, UTF-8 with or without a byte order mark.

    Raises:  Trouble where it can't be read; Typed where it is too large or not UTF-8.
    """
    try:
        if path == STANDARD_INPUT:
            raw = sys.stdin.buffer.read(LARGEST_FILE + 1)
        else:
            with Path(path).open("rb") as file:
                raw = file.read(LARGEST_FILE + 1)
    except FileNotFoundError:
        raise Trouble(N_("There is no such file. Check the name and the folder.")) from None
    except IsADirectoryError:
        raise Trouble(N_("This is a folder. Name the file in it.")) from None
    except PermissionError:
        raise Trouble(N_("This file may not be read. Ask for permission, or copy it.")) from None
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or str(error)
        raise Trouble(
            N_("This can't be read: {reason}. Check the name, or copy the file."), reason=reason
        ) from None
    if len(raw) > LARGEST_FILE:
        raise Typed(N_("This is larger than {most} bytes. Divide it into several files."), most=LARGEST_FILE)
    try:
        return raw.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        raise Typed(
            N_("This is not UTF-8 text (byte {place}). Save it as UTF-8."), place=error.start
        ) from None


def _write(stream: TextIO, text: str) -> None:
    """Write the text; letters that the stream's encoding lacks become question marks instead of an error."""
    try:
        stream.write(text)
    except UnicodeEncodeError:
        encoding = stream.encoding or "ascii"
        stream.write(text.encode(encoding, "replace").decode(encoding))
