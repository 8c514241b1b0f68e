"""What is said in words below an account: the lowest net, a referral, tax, consents, what happened on a loss."""

from __future__ import annotations

from sqlalchemy import select

from shopledger.model import Consent, LineReferral, Person, Sale, SaleLine, field_of
from shopledger.quantities.showing import show_day, show_money, show_rate
from shopledger.quantities.words import N_, _
from shopledger.queries.facts.settled import Settled
from shopledger.store.unit import Reading

_BORNE = {
    "owner": N_("{name} has {fee} for bringing the buyer; the owner bears it."),
    "shop": N_("{name} has {fee} for bringing the buyer; the shop bears it out of its commission."),
    "both": N_("{name} has {fee} for bringing the buyer; owner and shop bear half each."),
}


def floor_words(reading: Reading, settled: Settled) -> str:
    """Say how the net stands to the lowest net agreed; nothing where none was."""
    manners = reading.ledger.manners
    if settled.floor is None:
        return ""
    words = []
    if settled.made_up:
        words.append(
            _("The shop gave up {amount} of its commission towards it.").format(
                amount=show_money(settled.made_up, manners)
            )
        )
    if settled.short_by:
        words.append(_("The net is {amount} below it.").format(amount=show_money(settled.short_by, manners)))
    else:
        words.append(_("The net of the sale reaches it."))
    words += [
        _consent_words(reading, one) for one in _consents(reading, settled.line) if one.about == "floor"
    ]
    return " ".join(words)


def referral_words(reading: Reading, settled: Settled) -> str:
    """Say who was paid for bringing the buyer or for selling as a second dealer."""
    if settled.line is None:
        return ""
    manners = reading.ledger.manners
    rows = reading.session.execute(
        select(LineReferral, Person.name)
        .join(Person, Person.id == LineReferral.person_id)
        .where(LineReferral.sale_line_id == settled.line.id)
        .order_by(LineReferral.id)
    )
    words = []
    for referral, name in rows:
        fee = show_money(reading.money(referral.minor), manners)
        if referral.as_dealer:
            words.append(
                _("Sold together with {name}, who has {fee} of the shop\u2019s commission.").format(
                    name=name, fee=fee
                )
            )
        else:
            words.append(_(_BORNE[referral.borne_by]).format(name=name, fee=fee))
    return " ".join(words)


def tax_words(reading: Reading, settled: Settled) -> str:
    """Say which tax the sale bore, and that a tax of the buyer's is no part of the account."""
    line = settled.line
    if line is None:
        return ""
    sale = reading.session.get_one(Sale, line.sale_id)
    manners = reading.ledger.manners
    if sale.tax_scheme == "sales_tax" and not sale.exempt:
        return _(
            "The buyer paid {tax} of sales tax on top of the price; it is no part of this account."
        ).format(tax=show_money(reading.money(line.sales_tax), manners))
    if sale.tax_scheme == "vat_on_commission" and sale.tax_rate is not None:
        return _("VAT of {rate} on the commission comes to {tax}.").format(
            rate=show_rate(sale.tax_rate, manners),
            tax=show_money(reading.money(line.vat_on_commission), manners),
        )
    return ""


def notes_on(reading: Reading, settled: Settled) -> tuple[str, ...]:
    """Give what else is to be known: consents on record, what happened on a loss."""
    if settled.loss is not None:
        return (_("In the shop\u2019s care: {words}").format(words=settled.loss.what_happened),)
    about = field_of(Consent.about)
    return tuple(
        _("{consent} It is about {about}.").format(
            consent=_consent_words(reading, one), about=_(about.choice_word(one.about))
        )
        for one in _consents(reading, settled.line)
        if one.about in ("self_dealing", "discount")
    )


def _consents(reading: Reading, line: SaleLine | None) -> tuple[Consent, ...]:
    if line is None:
        return ()
    rows = reading.session.scalars(
        select(Consent).where(Consent.sale_line_id == line.id).order_by(Consent.id)
    )
    return tuple(rows)


def _consent_words(reading: Reading, consent: Consent) -> str:
    return _("Consent of {who} on {day}, {how}.").format(
        who=consent.given_by, day=show_day(consent.given_on, reading.ledger.manners), how=consent.how
    )
