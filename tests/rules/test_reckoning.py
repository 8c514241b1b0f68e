"""The reckoning: the example of the written form, each rule by hand, and what holds for every sale."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from random import Random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from shopledger.quantities.errors import Bug
from shopledger.quantities.manners import Manners
from shopledger.quantities.money import Money, total
from shopledger.rules.reckon_answer import answer_of
from shopledger.rules.reckoning import reckon
from shopledger.rules.split import FIGURES, OwnerAmount
from shopledger.rules.terms import (
    Bearer,
    Bracket,
    Case,
    CommissionBrackets,
    CommissionFixed,
    CommissionRate,
    Cost,
    CostOf,
    DiscountBorneBy,
    NetToOwner,
    OwnerShare,
    PayOwner,
    Referral,
    ReferralOf,
    Scheme,
    Tax,
    Terms,
)
from tests.rules import independent
from tests.rules.cases import sound_case
from tests.rules.written import EXAMPLE, percent, plain_case, sale, usd, written

anywhere = settings(deadline=None, print_blob=True)


def test_the_example_of_the_written_form_is_answered_to_the_cent() -> None:
    # The example in the specification of the written form.
    answer = answer_of(written(EXAMPLE))
    answer.pop("working")
    assert list(answer.items()) == [
        ("currency", "USD"),
        ("price", "11250.00"),
        ("discount", "750.00"),
        ("commission", "2250.00"),
        ("owner_costs", "180.00"),
        ("shop_costs", "0.00"),
        ("referral_owner", "0.00"),
        ("referral_shop", "0.00"),
        ("sales_tax", "928.13"),
        ("vat_on_commission", "0.00"),
        ("margin_vat", "0.00"),
        ("owner_net", "8820.00"),
        ("shop_keeps", "2250.00"),
        ("buyer_pays", "12178.13"),
        ("floor_short_by", "0.00"),
        ("made_up", "0.00"),
        ("owners", [{"name": "owner", "amount": "8820.00"}]),
        ("due_now", "0.00"),
    ]


# -- published figures ------------------------------------------------------------------------------------------


def test_an_account_sales_from_a_textbook() -> None:
    # "Accounting Terminology Used in Consignment": 6 % of the gross, not of the price less expenses; the advance of
    # 100,000 is a payout made already, so it comes off what is remitted, not off the net.
    split = reckon(
        sale("530000", terms=Terms(CommissionRate(percent("6"))), costs=(Cost("expenses", usd("22500")),))
    )
    assert (split.commission, split.owner_net) == (usd("31800"), usd("475700"))
    assert split.owner_net - usd("100000") == usd("375700")


def test_a_share_above_a_net_price() -> None:
    # Published examination problem: 10 % on a net price of 93,750 and 25 % on the next 6,250.
    rule = CommissionBrackets((Bracket(percent("10"), usd("93750")), Bracket(percent("25"))))
    assert reckon(sale("100000", terms=Terms(rule))).commission == usd("10937.50")


def test_an_ordinary_commission() -> None:
    # Textbook, "Ordinary commission in consignment", example 1: 150 pieces at 50, 20 %.
    assert reckon(sale(str(150 * 50))).commission == usd("1500")


@pytest.mark.parametrize(
    ("price", "commission"),
    [
        ("50000", "2000"),
        ("100000", "3500"),
        ("200000", "6500"),
        ("350000", "8000"),
        ("500000", "8750"),
        ("2000000", "12500"),
    ],
)
def test_marginal_brackets_with_a_cap(price: str, commission: str) -> None:
    # Directive 2001/84/EC article 4 (resale right), used only as a published scale.
    rule = CommissionBrackets(
        (
            Bracket(percent("4"), usd("50000")),
            Bracket(percent("3"), usd("200000")),
            Bracket(percent("1"), usd("350000")),
            Bracket(percent("0.5"), usd("500000")),
            Bracket(percent("0.25")),
        )
    )
    assert reckon(sale(price, terms=Terms(rule, most=usd("12500")))).commission == usd(commission)


def test_an_agent_earns_the_commission_not_the_price() -> None:
    # IFRS 15 B34-B38: a consigned sale of 10,000 at 15 % brings an agent 1,500.
    split = reckon(sale("10000", terms=Terms(CommissionRate(percent("15")))))
    assert (split.commission, split.shop_keeps, split.owner_net) == (usd("1500"), usd("1500"), usd("8500"))


def test_margin_vat_of_an_agent_in_own_name() -> None:
    # HMRC VAT Notice 718, agents: "margin equals the charges for your services"; derived.
    split = reckon(
        sale("10000", terms=Terms(CommissionRate(percent("15"))), tax=Tax(Scheme.MARGIN, percent("20")))
    )
    assert (split.margin_vat, split.shop_keeps) == (usd("250"), usd("1250"))
    assert (split.buyer_pays, split.owner_net) == (usd("10000"), usd("8500"))


def test_sales_tax_of_a_consigned_piano() -> None:
    # California Regulation 1569 and annotation 185.0010: 8,000.00 at 7.25 % where the shop may pass title unasked.
    tax = Tax(Scheme.SALES_TAX, percent("7.25"))
    assert reckon(sale("8000", tax=tax)).sales_tax == usd("580")
    assert reckon(sale("8000", tax=replace(tax, taxable=usd("0")))).sales_tax == usd("0")


# -- each rule by hand (common practice, no source) ---------------------------------------------------------------


def test_an_asking_price_left_out_or_below_the_price_gives_no_discount() -> None:
    for asking in (None, usd("900"), usd("1000"), usd("0")):
        split = reckon(
            sale(
                "1000",
                asking=asking,
                terms=Terms(CommissionRate(percent("20")), discount_borne_by=DiscountBorneBy.OWNER),
            )
        )
        assert (split.discount, split.commission) == (usd("0"), usd("200"))


@pytest.mark.parametrize(
    ("borne_by", "commission", "net"),
    [
        (DiscountBorneBy.AS_IT_FALLS, "200", "800"),
        (DiscountBorneBy.OWNER, "240", "760"),
        (DiscountBorneBy.SHOP, "40", "960"),
    ],
)
def test_a_discount_falls_where_the_agreement_says(
    borne_by: DiscountBorneBy, commission: str, net: str
) -> None:
    terms = Terms(CommissionRate(percent("20")), discount_borne_by=borne_by)
    split = reckon(sale("1000", asking=usd("1200"), terms=terms))
    assert (split.discount, split.commission, split.owner_net) == (usd("200"), usd(commission), usd(net))


def test_a_discount_may_use_up_the_commission_that_bears_it() -> None:
    terms = Terms(CommissionFixed(usd("200")), discount_borne_by=DiscountBorneBy.SHOP)
    split = reckon(sale("1000", asking=usd("1200"), terms=terms))
    assert (split.commission, split.owner_net) == (usd("0"), usd("1000"))


def test_bounds_come_after_the_rule_and_before_a_discount_of_the_shop() -> None:
    terms = Terms(
        CommissionRate(percent("20")),
        least=usd("300"),
        most=usd("500"),
        discount_borne_by=DiscountBorneBy.SHOP,
    )
    assert reckon(sale("1000", asking=usd("1100"), terms=terms)).commission == usd("200")
    assert reckon(sale("9000", asking=usd("9100"), terms=terms)).commission == usd("400")


def test_a_cost_before_commission_makes_base_and_proceeds_smaller() -> None:
    split = reckon(sale("1000", costs=(Cost("freight", usd("100"), before_commission=True),)))
    assert (split.commission, split.owner_costs, split.owner_net) == (usd("180"), usd("100"), usd("720"))


def test_costs_before_commission_may_use_up_the_base() -> None:
    split = reckon(sale("1000", costs=(Cost("freight", usd("1000"), before_commission=True),)))
    assert (split.commission, split.owner_net) == (usd("0"), usd("0"))


def test_halves_leave_the_odd_cent_to_the_shop() -> None:
    split = reckon(
        sale(
            "1000",
            costs=(
                Cost("case", usd("0.01"), borne_by=Bearer.BOTH),
                Cost("bow", usd("10.01"), borne_by=Bearer.BOTH),
            ),
            referral=Referral(fixed=usd("25.03"), borne_by=Bearer.BOTH),
        )
    )
    assert (split.owner_costs, split.shop_costs) == (usd("5.00"), usd("5.02"))
    assert (split.referral_owner, split.referral_shop) == (usd("12.51"), usd("12.52"))


def test_a_card_fee_is_a_rate_of_what_the_buyer_pays() -> None:
    tax = Tax(Scheme.SALES_TAX, percent("10"))
    costs = (
        Cost("card", rate=percent("3"), of=CostOf.BUYER_PAYS, borne_by=Bearer.SHOP),
        Cost("insurance", rate=percent("1")),
    )
    split = reckon(sale("1000", tax=tax, costs=costs))
    assert (split.shop_costs, split.owner_costs) == (usd("33"), usd("10"))


def test_each_cost_is_rounded_for_itself() -> None:
    costs = tuple(Cost(f"cost {n}", rate=percent("0.05")) for n in range(3))
    assert reckon(sale("10.00", costs=costs)).owner_costs == usd("0.03")


def test_costs_may_leave_the_owner_owing_and_the_shop_with_less_than_nothing() -> None:
    costs = (Cost("repair", usd("2000")), Cost("advertising", usd("300"), borne_by=Bearer.SHOP))
    split = reckon(sale("1000", costs=costs, paid=usd("1000")))
    assert (split.owner_net, split.shop_keeps, split.due_now) == (usd("-1200"), usd("-100"), usd("0"))


def test_a_referral_of_the_commission_is_taken_before_making_up() -> None:
    split = reckon(
        sale(
            "1000",
            terms=Terms(CommissionRate(percent("20")), floor=usd("900")),
            referral=Referral(rate=percent("10"), of=ReferralOf.COMMISSION),
            make_up=True,
        )
    )
    assert (split.made_up, split.commission, split.referral_shop) == (usd("100"), usd("100"), usd("20"))
    assert split.shop_keeps == usd("80")


def test_a_promised_net_leaves_room_for_the_vat_on_the_commission() -> None:
    tax = Tax(Scheme.VAT_ON_COMMISSION, percent("20"))
    split = reckon(sale("1000", terms=Terms(NetToOwner(usd("880"))), tax=tax))
    assert (split.commission, split.vat_on_commission, split.owner_net) == (usd("100"), usd("20"), usd("880"))
    # 120.01 holds no larger commission: 100.01 and its VAT of 20.00 are 120.01.
    split = reckon(sale("1000", terms=Terms(NetToOwner(usd("879.99"))), tax=tax))
    assert (split.commission, split.vat_on_commission) == (usd("100.01"), usd("20.00"))
    # 120.03: 100.03 with 20.01 is 120.04, so 100.02 with 20.00 is the most, and the cent left is the owner's.
    split = reckon(sale("1000", terms=Terms(NetToOwner(usd("879.97"))), tax=tax))
    assert (split.commission, split.vat_on_commission, split.owner_net) == (
        usd("100.02"),
        usd("20.00"),
        usd("879.98"),
    )


def test_a_promised_net_bears_costs_after_commission_and_gives_above_most_to_the_owner() -> None:
    split = reckon(
        sale("1000", terms=Terms(NetToOwner(usd("700")), most=usd("250")), costs=(Cost("rehair", usd("60")),))
    )
    assert (split.commission, split.owner_net) == (usd("250"), usd("690"))
    split = reckon(
        sale(
            "1000",
            terms=Terms(NetToOwner(usd("700"))),
            costs=(Cost("f", usd("100"), before_commission=True),),
        )
    )
    assert (split.commission, split.owner_net) == (usd("200"), usd("700"))
    assert reckon(sale("700", terms=Terms(NetToOwner(usd("700"))))).commission == usd("0")


def test_vat_on_the_commission_is_the_owners_and_margin_vat_the_shops() -> None:
    on_top = reckon(sale("1000", tax=Tax(Scheme.VAT_ON_COMMISSION, percent("20"))))
    assert (on_top.vat_on_commission, on_top.owner_net, on_top.shop_keeps) == (
        usd("40"),
        usd("760"),
        usd("200"),
    )
    within = reckon(sale("1000", tax=Tax(Scheme.MARGIN, percent("20"))))
    assert (within.margin_vat, within.owner_net, within.shop_keeps) == (
        usd("33.33"),
        usd("800"),
        usd("166.67"),
    )


def test_an_exempt_sale_and_one_taxed_on_another_amount() -> None:
    tax = Tax(Scheme.SALES_TAX, percent("10"), exempt=True, exempt_reason="resale")
    assert reckon(sale("1000", tax=tax)).buyer_pays == usd("1000")
    tax = Tax(Scheme.SALES_TAX, percent("10"), taxable=usd("1250"))
    assert reckon(sale("1000", tax=tax)).buyer_pays == usd("1125")


def test_a_missed_floor_is_reported_or_made_up() -> None:
    terms = Terms(CommissionRate(percent("20")), floor=usd("850"), least=usd("150"))
    missed = reckon(sale("1000", terms=terms))
    assert (missed.floor_short_by, missed.made_up, missed.owner_net) == (usd("50"), usd("0"), usd("800"))
    made = reckon(sale("1000", terms=terms, make_up=True))
    assert (made.floor_short_by, made.made_up, made.owner_net) == (usd("0"), usd("50"), usd("850"))


def test_making_up_takes_all_of_the_commission_at_most_and_its_vat_shrinks() -> None:
    terms = Terms(CommissionRate(percent("20")), floor=usd("1100"))
    tax = Tax(Scheme.VAT_ON_COMMISSION, percent("20"))
    split = reckon(sale("1000", terms=terms, tax=tax, make_up=True))
    assert (split.made_up, split.commission, split.vat_on_commission) == (usd("200"), usd("0"), usd("0"))
    assert split.floor_short_by == usd("100")
    # Floor 940: commission 50 and VAT 10 fit exactly.
    split = reckon(sale("1000", terms=replace(terms, floor=usd("940")), tax=tax, make_up=True))
    assert (split.made_up, split.commission, split.vat_on_commission) == (usd("150"), usd("50"), usd("10"))


@pytest.mark.parametrize(
    ("pay_owner", "paid", "approval_over", "due"),
    [
        (PayOwner.WHEN_PAID_IN_FULL, "1099.99", None, "0"),
        (PayOwner.WHEN_PAID_IN_FULL, "1100", None, "800"),
        (PayOwner.WHEN_PAID_IN_FULL, "2000", True, "800"),
        (PayOwner.WHEN_PAID_IN_FULL, "1100", False, "0"),
        (PayOwner.AS_MONEY_CLEARS, "0", None, "0"),
        (PayOwner.AS_MONEY_CLEARS, "333.33", None, "242.42"),
        (PayOwner.AS_MONEY_CLEARS, "1099.99", None, "799.99"),
        (PayOwner.AS_MONEY_CLEARS, "1100", True, "800"),
        (PayOwner.AS_MONEY_CLEARS, "9999", None, "800"),
        (PayOwner.AS_MONEY_CLEARS, "1100", False, "0"),
    ],
)
def test_what_is_due_now(pay_owner: PayOwner, paid: str, approval_over: bool | None, due: str) -> None:
    terms = Terms(CommissionRate(percent("20")), pay_owner=pay_owner)
    case = sale(
        "1000",
        terms=terms,
        tax=Tax(Scheme.SALES_TAX, percent("10")),
        paid=usd(paid),
        approval_over=approval_over,
    )
    assert reckon(case).due_now == usd(due)


def test_what_is_due_is_not_told_where_nothing_was_said_to_be_paid() -> None:
    assert reckon(sale("1000", approval_over=True)).due_now is None


def test_several_owners_share_the_net_by_largest_remainder() -> None:
    heirs = tuple(OwnerShare(name, Fraction(1, 3)) for name in ("Ada", "Bert", "Cleo"))
    split = reckon(sale("1000.01", terms=Terms(CommissionFixed(usd("0"))), owners=heirs))
    assert [each.amount for each in split.owners] == [usd("333.34"), usd("333.34"), usd("333.33")]
    owing = reckon(sale("0.01", costs=(Cost("repair", usd("1.01")),), owners=heirs))
    assert [each.amount.minor for each in owing.owners] == [-34, -33, -33]


@pytest.mark.parametrize(
    ("currency", "price", "commission", "tax"),
    [
        ("JPY", "100003", "20001", "8250"),
        ("KWD", "100.003", "20.001", "8.250"),
        ("USD", "100.03", "20.01", "8.25"),
    ],
)
def test_figures_have_the_decimals_of_their_currency(
    currency: str, price: str, commission: str, tax: str
) -> None:
    answer = answer_of(
        written(plain_case(currency=currency, price=price, tax={"scheme": "sales_tax", "rate": "8.25%"}))
    )
    assert (answer["commission"], answer["sales_tax"]) == (commission, tax)


# -- the working --------------------------------------------------------------------------------------------------


def test_every_figure_that_is_not_zero_has_a_step_with_its_amount() -> None:
    dice = Random(20_26)
    seen: set[str] = set()
    for _ in range(400):
        case = sound_case(dice)
        if independent.reckon(case) is None:
            continue
        split = written(case)
        for name, amount in split.figures().items():
            step = split.step_of(name)
            if amount:
                assert step is not None, (name, case)
                assert step.how, (name, case)
                seen.add(name)
            assert step is None or step.amount == amount, (name, case)
        told = [step.amount for step in split.working if step.figure == "owners"]
        assert told == ([each.amount for each in split.owners] if case.get("owners") else [])
        due = split.step_of("due_now")
        assert (due.amount if due else None) == split.due_now
        assert all(step.label and step.how for step in split.working)
    assert seen == set(FIGURES)


def test_the_working_is_worded_in_the_manners_of_its_reader() -> None:
    split = reckon(sale("11250"), Manners(decimal=",", group="."))
    step = split.step_of("commission")
    assert step is not None
    assert step.how == "20% of 11.250,00"


def test_names_with_braces_and_long_ones_do_no_harm_in_the_working() -> None:
    split = reckon(
        sale(
            "1000",
            costs=(Cost("{rehair} {0}", usd("5")), Cost("y" * 400, usd("5"), borne_by=Bearer.BOTH)),
            owners=(OwnerShare("{name}", Fraction(1, 2)), OwnerShare("z" * 400, Fraction(1, 2))),
        )
    )
    hows = " ".join(step.how + step.label for step in split.working)
    assert "{rehair} {0} 5.00" in hows
    assert "To {name}" in hows
    assert all(len(step.label) < 100 for step in split.working)
    assert split.owners[1].name == "z" * 400


def test_a_working_names_the_steps_of_the_commission() -> None:
    split = reckon(
        sale(
            "1000",
            asking=usd("1100"),
            terms=Terms(
                CommissionRate(percent("10")), least=usd("150"), discount_borne_by=DiscountBorneBy.SHOP
            ),
        )
    )
    told = [(step.label, step.how, step.amount.plain()) for step in split.working]
    assert ("Commission by the rule", "10% of 1,100.00", "110.00") in told
    assert ("Commission within its bounds", "raised to the least agreed", "150.00") in told
    assert ("Commission", "commission 150.00 − discount borne by the shop 100.00", "50.00") in told


# -- what holds for every sale ------------------------------------------------------------------------------------

cents = st.integers(0, 2_000_000).map(lambda minor: Money(minor, "USD"))
prices = st.integers(1, 2_000_000).map(lambda minor: Money(minor, "USD"))
rates = st.fractions(0, 1, max_denominator=1000)


@st.composite
def rate_rules(draw: st.DrawFn) -> CommissionRate | CommissionBrackets:
    """Give a rule by rates only: one rate, or brackets."""
    if draw(st.booleans()):
        return CommissionRate(draw(rates))
    bounds = sorted(draw(st.sets(st.integers(1, 2_000_000), max_size=4)))
    brackets = [Bracket(draw(rates), Money(bound, "USD")) for bound in bounds]
    return CommissionBrackets((*brackets, Bracket(draw(rates))))


costs_after = st.lists(
    st.one_of(
        st.builds(Cost, st.just("cost"), cents, borne_by=st.sampled_from(Bearer)),
        st.builds(
            Cost, st.just("cost"), rate=rates, of=st.sampled_from(CostOf), borne_by=st.sampled_from(Bearer)
        ),
    ),
    max_size=4,
).map(tuple)
referrals = st.one_of(
    st.none(),
    st.builds(Referral, rate=rates, of=st.sampled_from(ReferralOf), borne_by=st.sampled_from(Bearer)),
    st.builds(Referral, fixed=cents, borne_by=st.sampled_from(Bearer)),
)
taxes = st.one_of(
    st.just(Tax()),
    st.builds(
        Tax,
        st.sampled_from([Scheme.SALES_TAX, Scheme.VAT_ON_COMMISSION, Scheme.MARGIN]),
        rates,
    ),
)


@st.composite
def sound_sales(draw: st.DrawFn) -> Case:
    """Give a case that no rule refuses."""
    owners = draw(st.one_of(st.none(), st.lists(st.integers(1, 9), min_size=1, max_size=5)))
    shares = None
    if owners is not None:
        shares = tuple(OwnerShare(f"owner {n}", Fraction(part, sum(owners))) for n, part in enumerate(owners))
    return Case(
        currency="USD",
        price=draw(prices),
        asking=draw(st.one_of(st.none(), cents)),
        terms=Terms(
            draw(rate_rules()),
            floor=draw(st.one_of(st.none(), cents)),
            pay_owner=draw(st.sampled_from(PayOwner)),
        ),
        costs=draw(costs_after),
        referral=draw(referrals),
        tax=draw(taxes),
        owners=shares,
        paid=draw(st.one_of(st.none(), cents)),
        make_up=draw(st.booleans()),
        approval_over=draw(st.one_of(st.none(), st.booleans())),
    )


@anywhere
@given(sound_sales())
def test_nothing_is_made_or_lost(case: Case) -> None:
    split = reckon(case)
    assert split.price == (
        split.owner_net
        + split.commission
        + split.owner_costs
        + split.referral_owner
        + split.vat_on_commission
    )
    assert total([each.amount for each in split.owners], "USD") == split.owner_net
    assert split.buyer_pays == (
        split.owner_net
        + split.owner_costs
        + split.referral_owner
        + split.vat_on_commission
        + split.shop_keeps
        + split.shop_costs
        + split.referral_shop
        + split.margin_vat
        + split.sales_tax
    )
    if split.due_now is not None:
        assert Money.zero("USD") <= split.due_now <= max(split.owner_net, Money.zero("USD"))


@anywhere
@given(sound_sales())
def test_the_same_facts_give_the_same_figures(case: Case) -> None:
    assert reckon(case) == reckon(case)


@anywhere
@given(rate_rules(), prices, prices)
def test_a_higher_price_never_leaves_the_owner_less(
    rule: CommissionRate | CommissionBrackets, one: Money, other: Money
) -> None:
    low, high = sorted((one, other))
    terms = Terms(rule)
    # Each net is what remains of one rounded commission, so a higher price can't turn it by a cent either.
    below, above = (reckon(Case(currency="USD", price=price, terms=terms)) for price in (low, high))
    assert above.owner_net >= below.owner_net
    assert above.commission >= below.commission


@anywhere
@given(sound_sales())
def test_a_reversal_mirrors_every_figure_to_the_cent(case: Case) -> None:
    split = reckon(case)
    mirror = split.mirrored()
    for name, amount in split.figures().items():
        assert amount + mirror.figures()[name] == Money.zero("USD")
    assert mirror.mirrored() == split
    mirror.prove()
    # Reckoned on negative amounts, each rounded figure comes out as the mirror has it.
    rule = case.terms.commission
    if isinstance(rule, CommissionRate) and not split.made_up:
        assert (-case.price).times(rule.rate) == mirror.commission
    if case.owners is not None:
        parts = mirror.owner_net.shared([owner.share for owner in case.owners])
        assert parts == tuple(each.amount for each in mirror.owners)


@anywhere
@given(sound_sales())
def test_making_up_is_the_smallest_reduction_that_meets_the_floor(case: Case) -> None:
    case = replace(case, make_up=True, terms=replace(case.terms, floor=case.terms.floor or usd("1000")))
    before = reckon(replace(case, make_up=False))
    split = reckon(case)
    rate = case.tax.rate if case.tax.scheme is Scheme.VAT_ON_COMMISSION and case.tax.rate else Fraction(0)

    def net_at(commission: Money) -> Money:
        return case.price - split.owner_costs - split.referral_owner - commission - commission.times(rate)

    floor = case.terms.floor
    assert floor is not None
    assert split.commission == before.commission - split.made_up
    assert (split.referral_owner, split.referral_shop) == (before.referral_owner, before.referral_shop)
    assert Money.zero("USD") <= split.made_up <= before.commission
    if split.floor_short_by:
        assert not split.commission
    if split.made_up:
        assert net_at(split.commission + Money(1, "USD")) < floor
    assert split.owner_net == net_at(split.commission)
    assert split.floor_short_by == max(floor - split.owner_net, Money.zero("USD"))


def test_a_split_that_does_not_add_up_is_a_bug() -> None:
    split = reckon(sale("1000"))
    with pytest.raises(Bug, match="parts of the sale"):
        replace(split, commission=usd("201")).prove()
    with pytest.raises(Bug, match="parts of the sale"):
        replace(split, owners=(OwnerAmount("owner", usd("799")),)).prove()
