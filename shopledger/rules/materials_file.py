"""How the cases behind `shopledger materials FILE` are answered: each is an act with parts, judged."""

from __future__ import annotations

from shopledger.rules.case_file import Answering
from shopledger.rules.materials import judge
from shopledger.rules.materials_answer import answer_of, statement_of
from shopledger.rules.materials_case import case_of
from shopledger.rules.materials_terms import Judgement

MATERIALS: Answering[Judgement] = Answering(
    answer=lambda written: judge(case_of(written)), written=answer_of, statement=statement_of
)
