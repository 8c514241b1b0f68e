"""What stands against recording a sale that could be reckoned: consent below the floor, disclosure, a reason."""

from __future__ import annotations

from shopledger.quantities.errors import Refused
from shopledger.quantities.words import N_
from shopledger.rules.split import Split
from shopledger.rules.terms import Case


def against_recording(case: Case, split: Split, *, floor_consent: bool = False) -> tuple[Refused, ...]:
    """Give what stands against recording the sale as it was reckoned; empty where nothing does.

    The figures may be told to anyone; the sale itself waits for the owner's recorded consent below the floor,
    for disclosure of a referral fee to both sides, and for the reason of an exemption.
    """
    found: list[Refused] = []
    if split.floor_short_by and not floor_consent:
        found.append(
            Refused(
                N_(
                    "The owner would get {short} less than the lowest net agreed. Record the owner's consent (who, "
                    "when, how), make it up from the commission, or raise the price."
                ),
                field="terms.floor",
                short=split.floor_short_by,
            )
        )
    if case.referral is not None and not case.referral.is_disclosed:
        found.append(
            Refused(
                N_("The referral fee must be disclosed to buyer and owner. Tell both, and record it."),
                field="referral.disclosed_to",
            )
        )
    if case.tax.exempt and not (case.tax.exempt_reason or "").strip():
        found.append(
            Refused(
                N_("An exempt sale needs its reason. Write it, such as the buyer's certificate."),
                field="tax.exempt_reason",
            )
        )
    return tuple(found)
