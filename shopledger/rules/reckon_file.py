"""How the cases behind `shopledger reckon FILE` are answered: each is a sale, and its answer the split."""

from __future__ import annotations

from shopledger.rules.case_file import Answering
from shopledger.rules.reckon_answer import answer_of, statement_of
from shopledger.rules.reckon_case import case_of
from shopledger.rules.reckoning import reckon
from shopledger.rules.split import Split

RECKONING: Answering[Split] = Answering(
    answer=lambda written: reckon(case_of(written)), written=answer_of, statement=statement_of
)
