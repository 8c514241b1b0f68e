"""What the shop does: one function an act, each one transaction; this list is all there is to do."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from shopledger.acts import (
    agreeing,
    approving,
    bench,
    billing,
    charging,
    collecting,
    conditions,
    copies,
    counting,
    custody_lists,
    damages,
    describing,
    estimating,
    fees,
    giving_back,
    goods,
    holding,
    job_money,
    lending,
    lien_sale,
    losing,
    materials,
    measuring,
    noting,
    opening,
    paying,
    people,
    placing,
    price_list,
    pricing,
    reducing,
    releasing,
    reminding,
    returning,
    selling,
    services,
    setting_up,
    settling,
    shipping,
    shop_country,
    shop_money,
    taking_in,
    trial_back,
    trial_deposits,
    trial_ends,
    trials,
    unbilling,
    using,
    valuing,
    wanting,
    wish_told,
    work_terms,
    working,
)
from shopledger.acts.declare import Act, Form, Outcome, new_op_id
from shopledger.acts.doing import do
from shopledger.quantities.errors import NotFound
from shopledger.quantities.numbers import nearest
from shopledger.quantities.words import N_

if TYPE_CHECKING:
    from shopledger.queries.shapes import Subject
    from shopledger.store.unit import Reading

ALL: tuple[Act[Any], ...] = (
    *taking_in.ACTS,
    *people.ACTS,
    *agreeing.ACTS,
    *pricing.ACTS,
    *holding.ACTS,
    *lending.ACTS,
    *trial_back.ACTS,
    *trial_ends.ACTS,
    *trials.ACTS,
    *trial_deposits.ACTS,
    *placing.ACTS,
    *selling.ACTS,
    *paying.ACTS,
    *giving_back.ACTS,
    *settling.ACTS,
    *fees.ACTS,
    *returning.ACTS,
    *reducing.ACTS,
    *releasing.ACTS,
    *shipping.ACTS,
    *charging.ACTS,
    *damages.ACTS,
    *losing.ACTS,
    *valuing.ACTS,
    *describing.ACTS,
    *measuring.ACTS,
    *opening.ACTS,
    *estimating.ACTS,
    *approving.ACTS,
    *goods.ACTS,
    *price_list.ACTS,
    *bench.ACTS,
    *working.ACTS,
    *using.ACTS,
    *services.ACTS,
    *noting.ACTS,
    *conditions.ACTS,
    *setting_up.ACTS,
    *materials.ACTS,
    *wanting.ACTS,
    *wish_told.ACTS,
    *job_money.ACTS,
    *billing.ACTS,
    *unbilling.ACTS,
    *collecting.ACTS,
    *reminding.ACTS,
    *lien_sale.ACTS,
    *shop_money.ACTS,
    *custody_lists.ACTS,
    *counting.ACTS,
    *copies.ACTS,
    *work_terms.ACTS,
    *shop_country.ACTS,
)
"""Every act, in the order in which buttons show them."""


def act(name: str) -> Act[Any]:
    """Give the act of a name.

    Raises: NotFound: there is none; the nearest is named.
    """
    for one in ALL:
        if one.name == name:
            return one
    raise NotFound(
        N_("There is no act “{name}”. The nearest is {nearest}."),
        name=name,
        nearest=nearest(name, [one.name for one in ALL]) or "–",
    )


def next_acts(reading: Reading, subject: Subject, subject_id: int) -> tuple[Act[Any], ...]:
    """Give the acts that are allowed now on a subject, and no others."""
    from shopledger.quantities.errors import LedgerError

    allowed = []
    for one in ALL:
        if one.subject is subject:
            try:
                one.allowed(reading, subject_id)
            except LedgerError:
                continue
            allowed.append(one)
    return tuple(allowed)


__all__ = ["ALL", "Act", "Form", "Outcome", "act", "do", "new_op_id", "next_acts"]
