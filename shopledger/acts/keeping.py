"""Keeping a form's prepared photographs before its act, so that the act's transaction only names their files."""

from __future__ import annotations

from pathlib import Path

from shopledger.acts.declare import Form
from shopledger.quantities.errors import Typed
from shopledger.quantities.fields import Kind, inputs
from shopledger.quantities.words import N_
from shopledger.store.files import Files, Step, no_step
from shopledger.store.pictures import tidy_picture
from shopledger.store.prepared import AnyPicture, PreparedPicture


def keep_prepared(files: Files, form: Form, step: Step = no_step) -> None:
    """Keep all prepared photographs of a form, or none where it fails or `step` stops it.

    Shape:  `step(done, of)` is told as each file is written; nothing is told where no photograph is prepared.

    Raises: Typed: one is no longer where it was prepared. Trouble: they can't be kept. Whatever `step` raises.
    """
    waiting: dict[str, Path] = {}
    for name, field in inputs(type(form)).items():
        if field.kind is not Kind.PICTURES:
            continue
        for n, picture in enumerate(getattr(form, name)):
            if isinstance(picture, PreparedPicture):
                refuse_gone(files, picture, f"{name}[{n}]")
                if picture.path.exists():
                    waiting[picture.sha256] = picture.path
    if waiting:
        files.put_files(waiting, step)


def keep_picture(files: Files, picture: AnyPicture, field: str) -> str:
    """Give the name of a photograph's file, kept by now; one that wasn't prepared is tidied first.

    Raises: Typed: it is no photograph, or no longer where it was prepared. Trouble: it can't be kept.
    """
    if not isinstance(picture, PreparedPicture):
        return files.put(tidy_picture(picture, field=field))
    refuse_gone(files, picture, field)
    if not files.holds(picture.sha256):
        files.put_files({picture.sha256: picture.path})
    return picture.sha256


def refuse_gone(files: Files, picture: PreparedPicture, field: str) -> None:
    """Refuse a photograph that is neither kept nor where it was prepared."""
    if not picture.path.exists() and not files.holds(picture.sha256):
        raise Typed(
            N_("{name} was prepared, but is gone since: take it out and choose it again."),
            field=field,
            name=picture.name,
        )
