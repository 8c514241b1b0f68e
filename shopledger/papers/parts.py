"""The facts that several papers share: the shop, people, instruments, terms, lines of working.

Facts are frozen and carry only strings, numbers, days and the values of `quantities`; they are what a paper
states,
what its SHA-256 is taken of, and all that its rendering needs. Nothing here knows how a paper looks.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from fractions import Fraction

from shopledger.quantities.manners import PLAIN, Manners
from shopledger.quantities.money import Money


@dataclass(frozen=True, slots=True, kw_only=True)
class ShopFacts:
    """The shop as its letterhead shows it, with the sheet and the manners its papers use.

    Shape:  `paper` is "A4" or "Letter"; `tax_number` is printed as given ("VAT no. …", "Seller's permit …");
            `mark_sha256` names the picture of the mark, which is handed to the rendering beside the facts.
    """

    name: str
    address: tuple[str, ...] = ()
    phone: str = ""
    email: str = ""
    web: str = ""
    tax_number: str = ""
    place: str = ""
    paper: str = "A4"
    manners: Manners = PLAIN
    mark_sha256: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class PaperFacts:
    """What every paper has: its number, the day it is issued, the shop, and where the journal stood then.

    Shape:  `anchor_entry` and `anchor_hash` are number and hash of the last journal entry; both or neither.
    """

    number: str
    issued_on: date
    shop: ShopFacts
    anchor_entry: int | None = None
    anchor_hash: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class PartyFacts:
    """A person or firm on a paper; `acting_as` says in which capacity ("executor of the estate of …")."""

    name: str
    number: str = ""
    address: tuple[str, ...] = ()
    phone: str = ""
    email: str = ""
    acting_as: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class OwnerFacts:
    """An owner with their share; the shares of all owners of a thing sum to one."""

    party: PartyFacts
    share: Fraction = Fraction(1)


@dataclass(frozen=True, slots=True, kw_only=True)
class MeasurementFacts:
    """A measured figure as it was typed, the other unit beside it, and how it was taken."""

    label: str
    typed: str
    other: str = ""
    method: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class LabelledFacts:
    """A named fact in words: a fitting, a material, a part and its condition."""

    label: str
    words: str


@dataclass(frozen=True, slots=True, kw_only=True)
class InstrumentFacts:
    """An instrument or bow as a paper describes it.

    Shape:  `name` is what people call it ("Bass viola da gamba, six strings"); `standing` is "made by",
            "attributed to", "labelled" and the like, already in the reader's words; `attributed_by` says by
            whom and on what evidence; `materials` are the parts by component, unknown said as unknown.
    """

    number: str
    name: str
    standing: str = ""
    maker: str = ""
    made: str = ""
    label_reads: str = ""
    attributed_by: str = ""
    description: str = ""
    measurements: tuple[MeasurementFacts, ...] = ()
    fittings: tuple[LabelledFacts, ...] = ()
    materials: tuple[LabelledFacts, ...] = ()
    condition: tuple[LabelledFacts, ...] = ()
    condition_on: date | None = None
    comes_with: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class WorkingLine:
    """A step of a reckoning: what, how it was found, how much.

    Shape:  with `counts`, the amount carries its sign and all counting lines of a table add up to its total;
            without, it is a figure on the way (a base, an asking price) and stands in an inner column.
    """

    label: str
    how: str
    amount: Money
    counts: bool = True


@dataclass(frozen=True, slots=True, kw_only=True)
class BracketFacts:
    """A slice of a commission scale; the last slice has no upper bound."""

    rate: Fraction
    up_to: Money | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class CommissionFacts:
    """The commission rule of an agreement; exactly one of the four is set.

    Shape:  `brackets` is empty where another rule holds; `least` and `most` bound the result.
    """

    rate: Fraction | None = None
    brackets: tuple[BracketFacts, ...] = ()
    fixed: Money | None = None
    net_to_owner: Money | None = None
    least: Money | None = None
    most: Money | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class CostTermFacts:
    """A cost the agreement foresees: an amount or a rate, and who bears it.

    Shape:  neither amount nor rate means "at what it costs"; `rate_of` is "price" or "buyer_pays"; `borne_by`
            is "owner", "shop" or "both"; `before_commission` goes with "owner" only.
    """

    what: str
    amount: Money | None = None
    rate: Fraction | None = None
    rate_of: str = "price"
    borne_by: str = "owner"
    before_commission: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class ChargeTermFacts:
    """A charge without a sale: an amount or a rate of the asking price, how often, and from when.

    Shape:  `what` is "withdrawal", "storage", "insurance" or "valuation"; `per` is "once", "month" or "year";
            `after_days` counts from taking in (None: from the day it applies).
    """

    what: str
    amount: Money | None = None
    rate: Fraction | None = None
    per: str = "once"
    after_days: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class TermsFacts:
    """All terms of a consignment agreement, as its plain words state them; names as the ledger's terms have them.

    Shape:  `discount_borne_by`: "as_it_falls", "owner", "shop"; `pay_owner`: "when_paid_in_full",
            "as_money_clears"; `repairs_borne_by`, `freight_borne_by`, `failed_sale_costs_by`: "owner",
            "shop", "both"; `referral_borne_by` also "" (nothing agreed: the shop); `insured_by`: "shop",
            "owner", "nobody"; `excess_borne_by`, `bill_signed_by`: "owner", "shop". `asking_not_below` is
            what the shop may lower the asking price to unasked (None: not at all); `repairs_up_to` None with
            repairs allowed means each repair is asked for; of a forfeited deposit the owner and the shop have
            their rates and the rest goes back (both None: refunded); `other_dealer_share` is a share of the
            shop's commission; `tail_days` 0: no claim after the end; `notice_days` 0: at any time;
            `private_sale_commission` is about a sale by the owner within the term or tail.
    """

    asking: Money
    commission: CommissionFacts
    begins_on: date
    ends_on: date
    asking_not_below: Money | None = None
    owner_approves_each_sale: bool = False
    discount_borne_by: str = "as_it_falls"
    floor: Money | None = None
    costs: tuple[CostTermFacts, ...] = ()
    vat_on_commission: Fraction | None = None
    referral_borne_by: str = ""
    pay_owner: str = "when_paid_in_full"
    pay_within_days: int = 30
    approval_days: int = 0
    repairs_allowed: bool = False
    repairs_up_to: Money | None = None
    repairs_borne_by: str = "owner"
    freight_borne_by: str = "shop"
    failed_sale_costs_by: str = "shop"
    set_off: bool = False
    insured_by: str = "shop"
    agreed_value: Money | None = None
    insurance_note: str = ""
    loss_commission: bool = False
    excess_borne_by: str = "shop"
    notice_days: int = 14
    trials_allowed: bool = True
    trial_days: int = 0
    dealers_allowed: bool = False
    other_dealer_share: Fraction | None = None
    charges: tuple[ChargeTermFacts, ...] = ()
    private_sale_commission: bool = False
    tail_days: int = 0
    deposit_to_owner: Fraction | None = None
    deposit_to_shop: Fraction | None = None
    bill_signed_by: str = "shop"
    further_words: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class GoodsLine:
    """A line of an invoice or a credit note.

    Shape:  `kind` is "consigned", "own", "accessory", "freight" or "work"; price − discount = amount; the
            price is that of the whole quantity; `tax` is the line's own tax where tax is reckoned by line,
            else None.
    """

    kind: str
    what: str
    number: str = ""
    details: tuple[str, ...] = ()
    quantity: int = 1
    price: Money
    discount: Money
    amount: Money
    tax: Money | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class TaxFacts:
    """The tax of an invoice: one scheme, its rate, what it is reckoned on, and what it comes to.

    Shape:  `scheme` is "none", "sales_tax", "vat_on_commission" or "margin"; only "sales_tax" has a rate, a
            taxable amount and an amount here, the other two not being shown to a buyer; `basis` is "line" or
            "invoice"; `label` is the name of the tax as the shop's place says it; `exempt_reason` is given
            where the buyer is exempt.
    """

    scheme: str = "none"
    label: str = ""
    rate: Fraction | None = None
    taxable: Money | None = None
    amount: Money | None = None
    basis: str = "line"
    exempt_reason: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class PaymentLine:
    """A payment, deposit or refund as a line: what in words ("Deposit"), how, reference, how much, cleared."""

    on: date
    what: str
    how: str = ""
    reference: str = ""
    amount: Money
    cleared: bool = True


@dataclass(frozen=True, slots=True, kw_only=True)
class PartExchangeLine:
    """An instrument taken in part-exchange, with its allowance."""

    what: str
    number: str = ""
    allowance: Money


@dataclass(frozen=True, slots=True, kw_only=True)
class ShareLine:
    """One owner's part of a net."""

    name: str
    share: Fraction
    amount: Money


@dataclass(frozen=True, slots=True, kw_only=True)
class AmountLine:
    """A dated amount with its words and the number of the paper it stands on."""

    what: str
    amount: Money
    on: date | None = None
    reference: str = ""
    how: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class CautionFacts:
    """Which cautions a paper bears besides its own.

    Shape:  `filing` is "" (not said), "may_be_met" or "not_met" for the filing rule on consigned goods;
            `makers_own_work` is true where the owner made the instrument or is the maker's heir; `materials`
            are sentences on protected materials, each with rule, date and source; `further` are other
            sentences.
    """

    filing: str = ""
    makers_own_work: bool = False
    materials: tuple[str, ...] = ()
    further: tuple[str, ...] = ()


NO_TAX = TaxFacts()
NO_CAUTIONS = CautionFacts()
