"""The account sales: the statement of sale to the owner, every figure with its working."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING

from shopledger.papers.adding import must_add_up, working_must_add_up
from shopledger.papers.cautions import GENERAL
from shopledger.papers.parts import AmountLine, OwnerFacts, PaperFacts, ShareLine, WorkingLine
from shopledger.quantities.money import Money
from shopledger.quantities.words import _

if TYPE_CHECKING:
    from shopledger.papers.sheet import Sheet


@dataclass(frozen=True, slots=True, kw_only=True)
class AccountSalesFacts(PaperFacts):
    """What an account sales states, to all owners of one thing sold.

    Shape:  the counting lines of `working` (price first, deductions negative) add up to `owner_net`; `shares`
            add up to it too and are left empty where there is one owner; `set_offs` (charges and debts taken
            off) and `payouts` are positive; owner_net − set_offs − payouts = `balance`, negative where the
            owner owes. `due_on` is the day by which it is paid, and `due_words` says in a sentence what it
            waits for. `reverses` names an earlier account that this one takes back.
    """

    agreement_number: str
    agreement_on: date | None = None
    invoice_number: str = ""
    sold_on: date
    owners: tuple[OwnerFacts, ...]
    instrument_number: str
    instrument_name: str
    asking: Money
    price: Money
    working: tuple[WorkingLine, ...]
    owner_net: Money
    shares: tuple[ShareLine, ...] = ()
    set_offs: tuple[AmountLine, ...] = ()
    payouts: tuple[AmountLine, ...] = ()
    balance: Money
    due_on: date | None = None
    due_words: str = ""
    floor: Money | None = None
    floor_words: str = ""
    referral_words: str = ""
    tax_words: str = ""
    reverses: str = ""
    notes: tuple[str, ...] = ()


def compose(facts: AccountSalesFacts, sheet: Sheet) -> None:
    """Write the account on a sheet."""
    working_must_add_up("account", facts.working, facts.owner_net)
    taken_off = (*(-line.amount for line in facts.set_offs), *(-line.amount for line in facts.payouts))
    must_add_up("balance", (facts.owner_net, *taken_off), facts.balance)
    under = _("statement of sale to the owner")
    if facts.reverses:
        under = _("{under}, taking back {number}").format(under=under, number=facts.reverses)
    sheet.title(_("Account sales"), under)
    sheet.grid(
        sheet.owner_blocks(facts.owners),
        [
            (_("Account"), facts.number),
            (_("Sold on"), sheet.day(facts.sold_on)),
            (_("Agreement"), facts.agreement_number),
            (_("Invoice"), facts.invoice_number),
            (_("Asking price"), sheet.money(facts.asking)),
            (_("Price"), sheet.money(facts.price)),
        ],
    )
    sheet.owner_table(facts.owners)
    sheet.section(
        _("Sold"),
        sheet.both(facts.instrument_name, facts.instrument_number),
    )
    sheet.heading(_("How the net is reckoned"))
    sheet.working(facts.working, sheet.net_words(facts.owner_net), facts.owner_net)
    if facts.shares:
        _shares(facts, sheet)
    _balance(facts, sheet)
    sheet.section(_("Payment"), facts.due_words, _due_words(facts, sheet))
    if facts.floor is not None:
        sheet.section(
            _("Lowest net to owner"),
            _("{floor} is agreed.").format(floor=sheet.money(facts.floor)),
            facts.floor_words,
        )
    sheet.section(_("Referral"), facts.referral_words)
    sheet.section(_("Tax"), facts.tax_words)
    sheet.section(_("Notes"), *facts.notes)
    sheet.cautions([_(GENERAL)])


def _shares(facts: AccountSalesFacts, sheet: Sheet) -> None:
    """Write how several owners share the net."""
    must_add_up("shares", (line.amount for line in facts.shares), facts.owner_net)
    sheet.heading(_("How the owners share it"))
    sheet.ledger(
        (_("Share"), _("Owner"), sheet.per(facts.owner_net.currency, _("Amount"))),
        [(sheet.share(line.share), line.name, sheet.amount(line.amount)) for line in facts.shares],
        (sheet.label_column, sheet.share_column, sheet.money_column),
    )
    sheet.sums([(_("Together, the owner\u2019s net"), sheet.amount(facts.owner_net))])


def _balance(facts: AccountSalesFacts, sheet: Sheet) -> None:
    """Write what has come off the net since, and what is left."""
    if not facts.set_offs and not facts.payouts:
        return
    rows: list[tuple[str, str, str]] = [("", _("Owner\u2019s net"), sheet.amount(facts.owner_net))]
    for words, lines in ((_("set off"), facts.set_offs), (_("paid"), facts.payouts)):
        for line in lines:
            behind = ", ".join(part for part in (words, line.how, line.reference) if part)
            day = "" if line.on is None else sheet.day(line.on)
            rows.append((day, sheet.both(line.what, behind), sheet.amount(-line.amount)))
    sheet.heading(_("Set off and paid"))
    sheet.ledger(
        (_("Day"), _("What"), sheet.per(facts.owner_net.currency, _("Amount"))),
        rows,
        (sheet.label_column, sheet.share_column, sheet.money_column),
    )
    sheet.sums([(sheet.held_words(facts.balance), sheet.amount(facts.balance))])


def _due_words(facts: AccountSalesFacts, sheet: Sheet) -> str:
    """Give when the balance is paid, or that the owner owes it."""
    if facts.balance.minor < 0:
        return _("The owner owes the shop {amount}.").format(amount=sheet.money(-facts.balance))
    if facts.balance and facts.due_on is not None:
        return _("{amount} is to be paid by {day}.").format(
            amount=sheet.money(facts.balance), day=sheet.day(facts.due_on)
        )
    return ""
