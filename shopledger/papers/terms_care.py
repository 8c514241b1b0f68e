"""The clauses of an agreement about the instrument: term, insurance, trials, repairs, charges, loss, and the end."""

from __future__ import annotations

from fractions import Fraction

from shopledger.papers.parts import ChargeTermFacts, TermsFacts
from shopledger.papers.terms_money import BEARERS
from shopledger.quantities.manners import Manners
from shopledger.quantities.showing import show_day, show_money, show_rate
from shopledger.quantities.words import N_, _, count_words


def term_clause(terms: TermsFacts, manners: Manners) -> list[str]:
    """Say from when to when, how it is renewed, how either side ends it."""
    says = [
        _(
            "This agreement runs from {start} to {end}. It does not renew by itself: both sides sign a "
            "renewal."
        ).format(start=show_day(terms.begins_on, manners), end=show_day(terms.ends_on, manners))
    ]
    if terms.notice_days:
        says.append(
            count_words(
                "Either side may end it earlier by telling the other in writing {n} day before.",
                "Either side may end it earlier by telling the other in writing {n} days before.",
                terms.notice_days,
            )
        )
    else:
        says.append(_("Either side may end it earlier, at any time, by telling the other in writing."))
    return [" ".join(says)]


def insurance_clause(terms: TermsFacts, manners: Manners) -> list[str]:
    """Say who insures it and for how much."""
    if terms.insured_by == "nobody":
        says = [_("The instrument is not insured while it is with the shop; the risk is the owner\u2019s.")]
    elif terms.insured_by == "shop":
        says = [_("The shop insures the instrument while it is with the shop.")]
    else:
        says = [_("The owner insures the instrument, also while it is with the shop.")]
    if terms.agreed_value is not None:
        says.append(_("Its agreed value is {value}.").format(value=show_money(terms.agreed_value, manners)))
    if terms.insurance_note:
        says.append(terms.insurance_note)
    return [" ".join(says)]


def trial_clause(terms: TermsFacts, _manners: Manners) -> list[str]:
    """Say whether players may take it on trial."""
    if not terms.trials_allowed:
        return [_("The instrument does not leave the shop on trial.")]
    lend = (
        count_words(
            "The shop may lend it to players on trial, for {n} day at a time, against a signed receipt.",
            "The shop may lend it to players on trial, for up to {n} days at a time, against a signed "
            "receipt.",
            terms.trial_days,
        )
        if terms.trial_days
        else _("The shop may lend it to players on trial, against a signed receipt.")
    )
    return [f"{lend} {_('It stays the owner’s property all the while.')}"]


def repair_clause(terms: TermsFacts, manners: Manners) -> list[str]:
    """Say which repairs may be done unasked, who bears them, and what is set off."""
    if not terms.repairs_allowed:
        first = _("The shop repairs nothing without the owner\u2019s consent, which it records.")
    elif terms.repairs_up_to is None:
        first = _("The shop may repair and adjust it, and asks before each repair.")
    else:
        first = _(
            "The shop may repair and adjust it for up to {limit} without asking; above that it asks first."
        ).format(limit=show_money(terms.repairs_up_to, manners))
    bearer = _("Repairs are {bearer}.").format(bearer=_(BEARERS[terms.repairs_borne_by]))
    set_off = (
        _("What the owner owes the shop is set off against what the owner is paid.")
        if terms.set_off
        else _(
            "What the owner owes the shop is billed on its own and not set off against what the owner is "
            "paid."
        )
    )
    return [f"{first} {bearer} {set_off}"]


def dealer_clause(terms: TermsFacts, manners: Manners) -> list[str]:
    """Say whether it may go on to another dealer."""
    if not terms.dealers_allowed:
        return [_("The shop does not pass the instrument on to another dealer.")]
    if terms.other_dealer_share is None:
        return [_("The shop may pass it on to another dealer to sell. That costs the owner nothing more.")]
    return [
        _(
            "The shop may pass it on to another dealer to sell, who has {share} of the shop\u2019s "
            "commission. That costs "
            "the owner nothing more."
        ).format(share=show_rate(terms.other_dealer_share, manners))
    ]


def failed_clause(terms: TermsFacts, manners: Manners) -> list[str]:
    """Say what happens when a sale is undone or a deposit is forfeited."""
    undone = _(
        "A sale that is undone is reversed in full. Costs really spent on it are {bearer}. What the owner "
        "was paid for it comes back."
    ).format(bearer=_(BEARERS[terms.failed_sale_costs_by]))
    return [undone, deposit_words(terms, manners)]


def deposit_words(terms: TermsFacts, manners: Manners) -> str:
    """Say who has what of a deposit that a buyer forfeits."""
    to_owner, to_shop = terms.deposit_to_owner or Fraction(0), terms.deposit_to_shop or Fraction(0)
    if not to_owner and not to_shop:
        return _("A deposit on a sale that is not made is refunded to the buyer.")
    deposit = _("Of a deposit that a buyer forfeits the owner has {owner} and the shop {shop}.").format(
        owner=show_rate(to_owner, manners), shop=show_rate(to_shop, manners)
    )
    return deposit if to_owner + to_shop == 1 else f"{deposit} {_('The rest goes back to the buyer.')}"


_CHARGES = {
    "withdrawal": N_("For taking it back before the term is over"),
    "storage": N_("For storage"),
    "insurance": N_("For insurance"),
    "valuation": N_("For a valuation"),
}
_PER = {"once": N_("{size}, once"), "month": N_("{size} a month"), "year": N_("{size} a year")}


def _charge_words(charge: ChargeTermFacts, manners: Manners) -> str:
    """Give one charge without a sale as a line."""
    if charge.amount is not None:
        size = show_money(charge.amount, manners)
    elif charge.rate is not None:
        size = _("{rate} of the asking price").format(rate=show_rate(charge.rate, manners))
    else:
        size = _("at what it costs")
    line = f"{_(_CHARGES[charge.what])}: {_(_PER[charge.per]).format(size=size)}"
    if charge.after_days:
        after = count_words(
            "from {n} day after taking in", "from {n} days after taking in", charge.after_days
        )
        return f"{line}, {after}."
    return f"{line}."


def charges_clause(terms: TermsFacts, manners: Manners) -> list[str]:
    """Say the charges without a sale."""
    return [_charge_words(charge, manners) for charge in terms.charges] or [
        _("The shop charges nothing for taking back, storage, insurance or valuation.")
    ]


def private_clause(terms: TermsFacts, _manners: Manners) -> list[str]:
    """Say what a sale by the owner means."""
    if not terms.private_sale_commission:
        return [_("If the owner sells the instrument without the shop, no commission is due.")]
    if terms.tail_days:
        return [
            count_words(
                "If the owner sells the instrument without the shop within the term or {n} day after it, "
                "the commission is due on "
                "the proved price.",
                "If the owner sells the instrument without the shop within the term or {n} days after it, "
                "the commission is due on "
                "the proved price.",
                terms.tail_days,
            )
        ]
    return [
        _(
            "If the owner sells the instrument without the shop within the term, the commission is due on "
            "the proved price."
        )
    ]


def loss_clause(terms: TermsFacts, manners: Manners) -> list[str]:
    """Say what is held for the owner after a loss."""
    value = (
        _("its agreed value")
        if terms.agreed_value is None
        else _("the agreed value of {value}").format(value=show_money(terms.agreed_value, manners))
    )
    held = _(
        "If the instrument is lost or destroyed while it is with the shop, the shop holds {value} for the "
        "owner."
    ).format(value=value)
    commission = (
        _("Its commission comes off that.") if terms.loss_commission else _("No commission comes off that.")
    )
    excess = (
        _("An excess that the insurer keeps is the owner\u2019s.")
        if terms.excess_borne_by == "owner"
        else _("An excess that the insurer keeps is the shop\u2019s.")
    )
    return [f"{held} {commission} {excess}"]


def bill_clause(terms: TermsFacts, _manners: Manners) -> list[str]:
    """Say who signs the bill of sale."""
    if terms.bill_signed_by == "owner":
        return [_("The owner signs the bill of sale.")]
    return [_("The shop signs the bill of sale for the owner, as the owner\u2019s agent.")]


def further_clause(terms: TermsFacts, _manners: Manners) -> list[str]:
    """Give what else was agreed, in the words it was agreed in."""
    return list(terms.further_words)
