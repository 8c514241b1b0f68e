"""The collection slip: the instrument handed over after work, to whom, in which condition, what is paid or owing."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING

from shopledger.papers.adding import must_add_up
from shopledger.papers.parts import LabelledFacts
from shopledger.papers.workshop import JobFacts, write_grid
from shopledger.quantities.money import Money
from shopledger.quantities.words import _

if TYPE_CHECKING:
    from shopledger.papers.sheet import Sheet


@dataclass(frozen=True, slots=True, kw_only=True)
class CollectionFacts(JobFacts):
    """What a collection slip states.

    Shape:  `billed` less `paid` is `balance`, all None where the client was not billed; `owing_agreed` is what was
            agreed in writing about what is left owing; `declined` says that the work was declined.
    """

    handed_over_on: date
    handed_to: str
    identity_seen: str = ""
    came_with: tuple[str, ...] = ()
    condition: tuple[LabelledFacts, ...] = ()
    work_done: tuple[str, ...] = ()
    declined: bool = False
    invoice_number: str = ""
    billed: Money | None = None
    paid: Money | None = None
    balance: Money | None = None
    owing_agreed: str = ""


def compose(facts: CollectionFacts, sheet: Sheet) -> None:
    """Write the collection slip on a sheet."""
    under = _("returned: the work was declined") if facts.declined else _("handed over after the work")
    sheet.title(_("Collection"), under)
    write_grid(
        facts,
        sheet,
        [(_("Slip"), facts.number), (_("Handed over on"), sheet.day(facts.handed_over_on))],
    )
    identity = _("identity seen: {what}").format(what=facts.identity_seen or _("not noted"))
    sheet.section(_("Handed to"), sheet.both(facts.handed_to, identity))
    none_done = _("None was done.") if facts.declined else ""
    sheet.section(_("Work"), "; ".join(facts.work_done) or none_done)
    sheet.pairs(_("Condition"), [(one.label, one.words) for one in facts.condition])
    sheet.section(_("Goes with it"), "; ".join(facts.came_with))
    _write_money(facts, sheet)
    sheet.keep_room(175)
    sheet.signatures(
        [(_("Received by"), facts.handed_to), (_("For the shop"), facts.shop.name)],
        before=_(
            "The instrument and what is named here were handed over in the condition described. From now on the "
            "shop no longer has them in its care, and its insurance no longer covers them."
        ),
    )


def _write_money(facts: CollectionFacts, sheet: Sheet) -> None:
    """Write what was billed, what is paid, and in words what is left."""
    if facts.billed is None or facts.paid is None or facts.balance is None:
        sheet.section(_("To pay"), _("Nothing is billed to the client."))
        return
    must_add_up("account", (facts.billed, -facts.paid), facts.balance)
    sheet.heading(_("Paid and owing"))
    sheet.ledger(
        (_("Invoice"), "", sheet.per(facts.billed.currency, _("Amount"))),
        [
            (facts.invoice_number, _("billed in all"), sheet.amount(facts.billed)),
            ("", _("paid or set off"), sheet.amount(-facts.paid)),
        ],
        (sheet.label_column, sheet.share_column, sheet.money_column),
    )
    if facts.balance.minor < 0:
        words = _("Balance: the shop owes the client")
    else:
        words = _("Left owing") if facts.balance else _("Balance: paid in full")
    sheet.sums([(words, sheet.amount(facts.balance))])
    if facts.balance.minor > 0:
        sheet.section(
            _("Left owing"),
            " ".join(
                [
                    _("{amount} is still to be paid.").format(amount=sheet.money(facts.balance)),
                    facts.owing_agreed,
                ]
            ),
        )
