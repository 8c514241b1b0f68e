"""Workshop: the page that says in plain words what will stand here."""

from __future__ import annotations

from shopledger.desk.quiet_page import QuietPage
from shopledger.quantities.words import N_, _

SENTENCES = (
    N_(
        "Here will stand every job on the bench: what the client hears, what you see, the estimate and who approved"
        " it, hours and parts, and a claim ticket with a number that survives the telephone."
    ),
    N_(
        "An instrument that is here for repair is already in Stock, with its receipt; a repair that its owner pays"
        " from a sale is a cost of that sale."
    ),
)


def make() -> QuietPage:
    """Give the page."""
    page = QuietPage("workshop", _("Workshop"), SENTENCES)
    page.box.addStretch(1)
    return page
