"""Lines of a sale that are no instrument: accessories, work and freight; what the shop keeps count of, at its cost."""

from __future__ import annotations

from shopledger.acts.lots import Lots, goods_of, take_from
from shopledger.acts.selling_forms import Sell, SellLine
from shopledger.acts.selling_ready import Ready
from shopledger.quantities.errors import Refused, Typed
from shopledger.quantities.money import Money
from shopledger.quantities.words import N_
from shopledger.rules import tax as taxes
from shopledger.rules.first_in import Take, cost_of
from shopledger.rules.terms import Scheme
from shopledger.store.unit import Reading


def sales_tax_of(form: Sell, line: SellLine, price: Money, scheme: Scheme) -> Money:
    """Give the sales tax on a line, nothing where the sale has none.

    Raises: Refused, Typed: an exemption lacks its reason, or the tax its rate.
    """
    if scheme is not Scheme.SALES_TAX:
        return Money.zero(price.currency)
    if form.exempt and not form.exempt_reason.strip():
        raise Refused(
            N_("An exempt sale needs its reason, such as the buyer's certificate."), field="exempt_reason"
        )
    if form.tax_rate is None:
        raise Typed(N_("Sales tax needs its rate."), field="tax_rate")
    return taxes.sales_tax(
        price if line.taxable else Money.zero(price.currency), form.tax_rate, exempt=form.exempt
    )


def ready_goods(
    reading: Reading, form: Sell, n: int, line: SellLine, asking: Money, price: Money, lots: Lots
) -> Ready:
    """Give a line of accessories, work or freight, reckoned; `lots` is brought up to what it takes.

    Raises: Typed, Refused: it can't be sold so.
    """
    scheme = Scheme(form.tax_scheme)
    if line.instrument_id is not None:
        raise Typed(N_("This kind of line has no instrument: leave it out."), field="instrument_id")
    if line.quantity < 1:
        raise Typed(N_("The quantity is at least 1."), field="quantity")
    what = line.what
    takes: tuple[Take, ...] = ()
    if line.goods_id is not None:
        if line.kind != "accessory":
            raise Typed(N_("Goods are sold on a line of their own: an accessory."), field="goods_id")
        goods = goods_of(reading, line.goods_id, "goods_id")
        takes = take_from(reading, lots, goods, line.quantity, form.on)
        what = what or goods.what
    if not what:
        raise Typed(N_("Say what it is."), field="what")
    if scheme in {Scheme.VAT_ON_COMMISSION, Scheme.MARGIN}:
        raise Refused(
            N_(
                "This tax scheme doesn't cover accessories, work or freight. Put them on an invoice of their own."
            ),
            field="tax_scheme",
        )
    tax = sales_tax_of(form, line, price, scheme)
    return Ready(
        n=n,
        form=line,
        what=what,
        asking=asking,
        price=price,
        buyer_pays=price + tax,
        sales_tax=tax,
        cost=cost_of(takes),
        takes=takes,
    )
