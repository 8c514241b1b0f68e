"""Papers and files proved: facts are what their digest says, anchors are in the chain, every file is there whole."""

from __future__ import annotations

import hashlib

from sqlalchemy import select

from shopledger.model import Paper, PaperFile, Picture, Seal, Signature
from shopledger.quantities.errors import NotFound, Trouble
from shopledger.quantities.words import N_
from shopledger.rules.journal import FIRST_HASH
from shopledger.store.proof.finding import Proof


def prove_papers(proof: Proof) -> None:
    """Go through every paper: its facts, its anchor, its file."""
    seals = {0: FIRST_HASH} | proof.pairs(select(Seal.entry_id, Seal.hash))
    question = (
        select(
            Paper.number,
            Paper.facts,
            Paper.facts_sha256,
            Paper.anchor_entry,
            Paper.anchor_hash,
            PaperFile.sha256,
            PaperFile.size,
        )
        .outerjoin(PaperFile, PaperFile.paper_id == Paper.id)
        .order_by(Paper.id)
    )
    for paper in proof.rows(question):
        if hashlib.sha256(paper.facts.encode()).hexdigest() != paper.facts_sha256:
            proof.wrong(
                "paper",
                paper.number,
                N_("What the paper {number} states is not what its digest says."),
                number=paper.number,
            )
        if seals.get(paper.anchor_entry) != paper.anchor_hash:
            proof.wrong(
                "anchor",
                paper.number,
                N_(
                    "The paper {number} carries the hash of entry {entry}; the journal has another there, or none."
                ),
                number=paper.number,
                entry=str(paper.anchor_entry),
            )
        if (
            paper.sha256 is not None
        ):  # one that was never opened since a rendering failed is rendered when it is
            _prove_file(proof, "paper", paper.number, paper.sha256, paper.size)


def prove_pictures(proof: Proof) -> None:
    """Look for the file of every photograph and of every scan of a signed paper."""
    for key, sha256 in proof.rows(select(Picture.id, Picture.sha256).order_by(Picture.id)):
        _prove_file(proof, "picture", f"picture {key}", sha256)
    for key, sha256 in proof.rows(select(Signature.id, Signature.scan_sha256).order_by(Signature.id)):
        if sha256:
            _prove_file(proof, "scan", f"signature {key}", sha256)


def _prove_file(proof: Proof, what: str, where: str, sha256: str, size: int | None = None) -> None:
    try:
        content = proof.files.get(sha256)
    except (NotFound, Trouble) as error:
        proof.wrong(what, where, N_("{thing}: {said}"), thing=where, said=error.sentence())
        return
    if size is not None and len(content) != size:
        proof.wrong(
            what,
            where,
            N_("{thing}: the file has {found} bytes, the ledger says {size}."),
            thing=where,
            found=len(content),
            size=size,
        )
