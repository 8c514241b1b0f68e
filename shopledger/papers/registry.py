"""The kinds of paper: name, series, title, facts, and the function that composes it.

A new paper is a module with a frozen Facts and a compose function, and one line here.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, fields
from types import MappingProxyType
from typing import TYPE_CHECKING, Any

from shopledger.papers import (
    account_sales,
    addendum,
    agreement,
    bill_of_sale,
    charge_note,
    claim_ticket,
    collection,
    condition_report,
    credit_note,
    custody_list,
    damage_report,
    estimate,
    fee_note,
    forfeit_note,
    handover_list,
    intake,
    invoice,
    lien_sale,
    loss_report,
    matches,
    materials_statement,
    measurement_sheet,
    payment_receipt,
    placing,
    referral,
    refund_receipt,
    release,
    reminder,
    remittance,
    setup_sheet,
    shipment,
    stock_take,
    trial_agreement,
    trial_extension,
    trial_reminder,
    trial_return,
    valuation,
    work_invoice,
)
from shopledger.papers.parts import PaperFacts
from shopledger.quantities.errors import NotFound
from shopledger.quantities.numbers import nearest
from shopledger.quantities.words import N_

if TYPE_CHECKING:
    from shopledger.papers.sheet import Sheet


@dataclass(frozen=True, slots=True)
class Kind:
    """A kind of paper.

    Shape:  `name` is what the ledger stores; `series` are the letters its numbers begin with; `title` is
            marked for translation; `compose(facts, sheet)` writes the paper on a sheet; `csv(facts)` gives the
            same for a spreadsheet, of kinds that are lists.
    """

    name: str
    series: str
    title: str
    facts: type[PaperFacts]
    compose: Callable[[Any, Sheet], None]
    csv: Callable[[Any], bytes] | None = None


KINDS: Mapping[str, Kind] = MappingProxyType(
    {
        kind.name: kind
        for kind in (
            Kind("agreement", "AG", N_("Consignment agreement"), agreement.AgreementFacts, agreement.compose),
            Kind("addendum", "AD", N_("Addendum"), addendum.AddendumFacts, addendum.compose),
            Kind("intake", "TI", N_("Receipt of intake"), intake.IntakeFacts, intake.compose),
            Kind("invoice", "SI", N_("Invoice"), invoice.InvoiceFacts, invoice.compose),
            Kind("credit_note", "CN", N_("Credit note"), credit_note.CreditNoteFacts, credit_note.compose),
            Kind(
                "bill_of_sale", "BS", N_("Bill of sale"), bill_of_sale.BillOfSaleFacts, bill_of_sale.compose
            ),
            Kind(
                "payment_receipt",
                "PR",
                N_("Receipt for payment"),
                payment_receipt.PaymentReceiptFacts,
                payment_receipt.compose,
            ),
            Kind(
                "refund_receipt",
                "RF",
                N_("Receipt for refund"),
                refund_receipt.RefundReceiptFacts,
                refund_receipt.compose,
            ),
            Kind("referral", "RD", N_("Referral disclosure"), referral.ReferralFacts, referral.compose),
            Kind(
                "account_sales",
                "AS",
                N_("Account sales"),
                account_sales.AccountSalesFacts,
                account_sales.compose,
            ),
            Kind("remittance", "RM", N_("Payout remittance"), remittance.RemittanceFacts, remittance.compose),
            Kind("charge_note", "CH", N_("Charge note"), charge_note.ChargeNoteFacts, charge_note.compose),
            Kind(
                "loss_report", "LD", N_("Report of a loss"), loss_report.LossReportFacts, loss_report.compose
            ),
            Kind("fee_note", "FP", N_("Note of a fee paid"), fee_note.FeeNoteFacts, fee_note.compose),
            Kind(
                "forfeit_note",
                "DF",
                N_("Note of a forfeited deposit"),
                forfeit_note.ForfeitNoteFacts,
                forfeit_note.compose,
            ),
            Kind("release", "RL", N_("Release to owner"), release.ReleaseFacts, release.compose),
            Kind(
                "handover_list",
                "HL",
                N_("Others' property and money"),
                handover_list.HandoverListFacts,
                handover_list.compose,
            ),
            Kind(
                "claim_ticket", "CT", N_("Claim ticket"), claim_ticket.ClaimTicketFacts, claim_ticket.compose
            ),
            Kind("estimate", "ES", N_("Estimate"), estimate.EstimateFacts, estimate.compose),
            # An invoice for work bears the number of its sale, as one for goods does.
            Kind(
                "work_invoice",
                "SI",
                N_("Invoice for work"),
                work_invoice.WorkInvoiceFacts,
                work_invoice.compose,
            ),
            Kind("collection", "CL", N_("Collection"), collection.CollectionFacts, collection.compose),
            Kind("setup_sheet", "SU", N_("Set-up sheet"), setup_sheet.SetupFacts, setup_sheet.compose),
            Kind(
                "condition_report",
                "CR",
                N_("Condition report"),
                condition_report.ConditionFacts,
                condition_report.compose,
            ),
            Kind(
                "lien_sale",
                "LS",
                N_("Account of a sale for what was owed"),
                lien_sale.LienSaleFacts,
                lien_sale.compose,
            ),
            Kind("reminder", "RC", N_("Reminder to collect"), reminder.ReminderFacts, reminder.compose),
            Kind(
                "materials_statement",
                "MA",
                N_("Statement of materials"),
                materials_statement.MaterialsFacts,
                materials_statement.compose,
            ),
            Kind(
                "measurement_sheet",
                "MS",
                N_("Measurement sheet"),
                measurement_sheet.MeasurementSheetFacts,
                measurement_sheet.compose,
            ),
            Kind(
                "trial_agreement",
                "TR",
                N_("Trial agreement"),
                trial_agreement.TrialAgreementFacts,
                trial_agreement.compose,
            ),
            # What follows in a trial bears its number with a further one behind it, as an addendum does.
            Kind(
                "trial_extension",
                "TX",
                N_("Extension of a trial"),
                trial_extension.TrialExtensionFacts,
                trial_extension.compose,
            ),
            Kind(
                "trial_return",
                "TB",
                N_("Receipt back from a trial"),
                trial_return.TrialReturnFacts,
                trial_return.compose,
            ),
            Kind(
                "trial_reminder",
                "TL",
                N_("Reminder of a trial"),
                trial_reminder.TrialReminderFacts,
                trial_reminder.compose,
            ),
            Kind("placing", "PL", N_("Placing"), placing.PlacingFacts, placing.compose),
            Kind("shipment", "SH", N_("Packing list"), shipment.ShipmentFacts, shipment.compose),
            Kind("valuation", "VA", N_("Valuation"), valuation.ValuationFacts, valuation.compose),
            Kind(
                "damage_report",
                "DM",
                N_("Report of damage"),
                damage_report.DamageFacts,
                damage_report.compose,
            ),
            Kind(
                "custody_list",
                "CS",
                N_("Schedule of goods in custody"),
                custody_list.CustodyListFacts,
                custody_list.compose,
                custody_list.as_csv,
            ),
            Kind("stock_take", "ST", N_("Count of the stock"), stock_take.StockTakeFacts, stock_take.compose),
            Kind("matches", "WM", N_("What fits a wish"), matches.MatchesFacts, matches.compose),
        )
    }
)


def kind_named(name: str) -> Kind:
    """Give the kind of paper of this name.

    Raises: NotFound: there is no such kind; the nearest known one is named.
    """
    try:
        return KINDS[name]
    except KeyError:
        raise NotFound(
            N_("There is no kind of paper called {name}. The nearest is {known}."),
            name=name,
            known=nearest(name, list(KINDS)),
        ) from None


def shows_photographs(kind: str) -> bool:
    """Tell whether papers of a kind need the files of photographs to be laid out."""
    return any(one.name == "photographs" for one in fields(kind_named(kind).facts))


def title_of(kind: Kind, facts: PaperFacts) -> str:
    """Give the title and number of a paper, as its file's title and the window name it."""
    from shopledger.quantities.words import _

    return f"{_(kind.title)} {facts.number}"
