"""From the reckoning to the lines an owner reads: what counts towards the net with its sign, the rest on the way."""

from __future__ import annotations

from shopledger.papers.parts import WorkingLine
from shopledger.rules.split import Split

_TAKEN_OFF = ("commission", "owner_costs", "referral_owner", "vat_on_commission")
_ON_THE_WAY = ("", "base", "discount", "made_up")


def owner_working(split: Split, *, price_how: str | None = None) -> tuple[WorkingLine, ...]:
    """Give the working of a split as account sales and worked examples show it.

    `price_how` says how the price came about where it was not agreed with a buyer ("the asking price").

    Shape:  price first, what comes off it negative; the counting lines add up to the owner's net. What
            concerns the shop's own purse (its costs, its tax, what it keeps) is left out.
    """
    counting = {name: split.step_of(name) for name in _TAKEN_OFF}
    lines: list[WorkingLine] = []
    for step in split.working:
        if step.figure == "price":
            how = step.how if price_how is None else price_how
            lines.append(WorkingLine(label=step.label, how=how, amount=step.amount))
        elif step.figure in counting:
            # A commission that gave way to a floor is told twice; the later figure counts.
            counts = counting[step.figure] is step
            amount = -step.amount if counts else step.amount
            lines.append(WorkingLine(label=step.label, how=step.how, amount=amount, counts=counts))
        elif step.figure in _ON_THE_WAY:
            lines.append(WorkingLine(label=step.label, how=step.how, amount=step.amount, counts=False))
    return tuple(lines)
