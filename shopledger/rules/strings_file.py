"""How the cases behind `shopledger strings FILE` are answered: each is a set of strings over its bridge."""

from __future__ import annotations

from shopledger.rules.case_file import Answering
from shopledger.rules.strings_answer import StringsAnswer, answer_of, answer_to, statement_of
from shopledger.rules.strings_case import case_of

STRINGS: Answering[StringsAnswer] = Answering(
    answer=lambda written: answer_to(case_of(written)), written=answer_of, statement=statement_of
)
