"""The answer to a case: the written shape for programs, and a statement that a person can read."""

from __future__ import annotations

from shopledger.quantities.manners import PLAIN, Manners
from shopledger.quantities.showing import show_amount
from shopledger.quantities.words import N_, _
from shopledger.rules.split import Split

CAUTION = N_(
    "Tax rules differ by place and change: this is arithmetic, not advice. Ask the tax authority or an accountant."
)


def answer_of(split: Split) -> dict[str, object]:
    """Give the answer in its written shape and order; `due_now` stands there only where paid was told."""
    answer: dict[str, object] = {"currency": split.currency}
    for name, amount in split.figures().items():
        answer[name] = amount.plain()
    answer["owners"] = [{"name": each.name, "amount": each.amount.plain()} for each in split.owners]
    if split.due_now is not None:
        answer["due_now"] = split.due_now.plain()
    answer["working"] = [
        {"label": step.label, "how": step.how, "amount": step.amount.plain()} for step in split.working
    ]
    return answer


def statement_of(split: Split, manners: Manners = PLAIN) -> str:
    """Give the split as a statement: one line a figure, the amount right-aligned, then how it came about."""
    lines = [_("Reckoning of a sale, amounts in {currency}").format(currency=split.currency), ""]
    labels = max(len(step.label) for step in split.working)
    amounts = [show_amount(step.amount, manners) for step in split.working]
    width = max(len(amount) for amount in amounts)
    for step, amount in zip(split.working, amounts, strict=True):
        lines.append(f"{step.label.ljust(labels)}  {amount.rjust(width)}  {step.how}")
    lines.extend(_remarks(split, manners))
    return "\n".join(lines) + "\n"


def _remarks(split: Split, manners: Manners) -> list[str]:
    """Give what must be said below the figures, each after an empty line."""
    remarks: list[str] = []
    if split.floor_short_by:
        short = show_amount(split.floor_short_by, manners)
        remarks.append(
            _("The owner's net is {short} below the lowest net agreed: it takes the owner's consent.").format(
                short=short
            )
        )
    if split.owner_net.minor < 0:
        owed = show_amount(abs(split.owner_net), manners)
        remarks.append(_("The owner owes the shop {owed}.").format(owed=owed))
    if any(split.step_of(figure) is not None for figure in ("sales_tax", "vat_on_commission", "margin_vat")):
        remarks.append(_(CAUTION))
    return [line for remark in remarks for line in ("", remark)]
