"""The terms of an agreement in plain words, clause by clause, as the paper and the window both say them."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from shopledger.papers import terms_care, terms_money
from shopledger.papers.parts import TermsFacts
from shopledger.quantities.manners import PLAIN, Manners
from shopledger.quantities.words import N_, _


@dataclass(frozen=True, slots=True)
class Clause:
    """A clause: its heading and its sentences, a paragraph each."""

    head: str
    says: tuple[str, ...]


def clauses_of(terms: TermsFacts, manners: Manners = PLAIN) -> tuple[Clause, ...]:
    """Give all clauses of an agreement in the order they are read."""
    return tuple(
        Clause(_(head), tuple(sentence for sentence in says(terms, manners) if sentence))
        for head, says in _CLAUSES
    )


_CLAUSES: tuple[tuple[str, Callable[[TermsFacts, Manners], list[str]]], ...] = (
    (N_("Asking price"), terms_money.price_clause),
    (N_("Commission"), terms_money.commission_clause),
    (N_("Discount"), terms_money.discount_clause),
    (N_("Costs"), terms_money.costs_clause),
    (N_("Referral"), terms_money.referral_clause),
    (N_("Lowest net to owner"), terms_money.floor_clause),
    (N_("When the owner is paid"), terms_money.payment_clause),
    (N_("Term and ending"), terms_care.term_clause),
    (N_("Insurance"), terms_care.insurance_clause),
    (N_("Trials"), terms_care.trial_clause),
    (N_("Repairs"), terms_care.repair_clause),
    (N_("Other dealers"), terms_care.dealer_clause),
    (N_("Charges without a sale"), terms_care.charges_clause),
    (N_("Sale by the owner"), terms_care.private_clause),
    (N_("A sale undone"), terms_care.failed_clause),
    (N_("Loss"), terms_care.loss_clause),
    (N_("Bill of sale"), terms_care.bill_clause),
    (N_("Further"), terms_care.further_clause),
)
