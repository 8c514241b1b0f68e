"""The people of the example: an invented harbour town's players, owners, heirs, a school, a dealer, an insurer."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType


@dataclass(frozen=True, slots=True)
class Someone:
    """A person of the story: their key in it, name, street, the last digits of their telephone, what they play."""

    key: str
    name: str
    street: str
    phone: str
    plays: str = ""
    kind: str = "person"
    relation: str = "none"
    town: str = "Saltmere"
    notes: str = ""

    def values(self) -> Mapping[str, str]:
        """Give them as the form of a person takes them."""
        return {
            "name": self.name,
            "kind": self.kind,
            "relation": self.relation,
            "address": f"{self.street}\n{self.town}",
            "phone": f"555-01{self.phone}",
            "email": f"{self.key}@example.org",
            "plays": self.plays,
            "notes": self.notes,
        }


PEOPLE = (
    Someone("orla", "Orla Tidewell", "8 Net Loft Steps", "01", "cello, the Saltmere Chamber Players"),
    Someone("tam", "Tam Brinegard", "21 Ballast Quay", "02", "cello, freelance"),
    Someone("ida", "Ida Skerrow", "5 Lantern Row", "03", "cello, teaches at home",
            notes="Sends her pupils to us. Always tell both sides about her fee."),
    Someone("adaline", "Adaline Fenwraith", "9 Chandlers’ Court", "04", notes="Speaks for the three heirs."),
    Someone("bastian", "Bastian Fenwraith", "2 Mill Sluice", "05", town="Underhaven"),
    Someone("corin", "Corin Fenwraith", "14 Kelp Lane", "06", "treble viol", town="Wrackport"),
    Someone("jonas", "Jonas Quillon", "1 Old Customs House", "07", "bass viol, Consort of the Tides"),
    Someone("maeve", "Maeve Sandrift", "30 Heron Walk", "08", "bass viol"),
    Someone("wenna", "Wenna Pellow", "17 Slipway Street", "09", "piccolo cello and cello"),
    Someone("silvan", "Silvan Rookley", "4 Bell Yard", "10", "cello, student",
            notes="Pays by standing order on the 5th."),
    Someone("hale", "Estate of Hale Ostrand", "care of Ruddock and Vane, 6 Assize Street", "11", kind="estate"),
    Someone("perpetua", "Perpetua Lanyard", "12 Ropewalk", "12", "viola"),
    Someone("dunstan", "Dunstan Wick", "7 Tallow Hill", "13", "violin, Harbour Theatre pit"),
    Someone("celestine", "Célestine Oar", "33 Ballast Quay", "14", "cello"),
    Someone("school", "Saltmere School of Music", "1 Chapel Green", "15", "a set of cellos for pupils", kind="firm",
            notes="Exempt from sales tax; certificate on file, ask for a fresh one each year."),
    Someone("dealer", "Ebbing and Low, Strings", "40 Exchange Street", "16", kind="firm", town="Wrackport"),
    Someone("insurer", "Lantern Mutual Insurance", "2 Beacon Square", "17", kind="firm", town="Wrackport"),
    Someone("nerys", "Nerys Halloway", "19 Gull Terrace", "18", "violin"),
    Someone("ossian", "Ossian Drift", "3 Pilot’s Rest", "19", "violin and viola"),
    Someone("tilda", "Tilda Marram", "26 Heron Walk", "20", "tenor viol"),
    Someone("ambrose", "Ambrose Keel", "11 Sailmakers’ Row", "21", "viola, Saltmere Chamber Players"),
    Someone("linnet", "Linnet Shoal", "8 Bell Yard", "22", "treble viol"),
    Someone("radek", "Radek Morrow", "5 Mill Sluice", "23", "cello", town="Underhaven"),
    Someone("isolde", "Isolde Fathom", "2 Lighthouse Road", "24", "viola d’amore and viola"),
    Someone("gwendolen", "Gwendolen Spar", "15 Chandlers’ Court", "25", "cello",
            notes="Widow of the cellist Piers Spar."),
    Someone("piran", "Piran Thole", "9 Slipway Street", "26", "cello, amateur"),
    Someone("juno", "Juno Merrow", "3 Ropewalk", "27", "violin", relation="family", notes="Elias’s niece."),
    Someone("hester", "Hester Bight", "22 Gull Terrace", "28", "bass viol, beginner"),
    Someone("lorcan", "Lorcan Vane", "6 Assize Street", "29", notes="Solicitor for the Ostrand estate."),
    Someone("mirabel", "Mirabel Tern", "31 Lantern Row", "30", "cello"),
)  # fmt: skip
"""Everyone but the shop itself."""

BY_KEY: Mapping[str, Someone] = MappingProxyType({someone.key: someone for someone in PEOPLE})
