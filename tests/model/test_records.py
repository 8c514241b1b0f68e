"""The room's list of records names each that its modules map, for whoever runs and for whoever checks types."""

from __future__ import annotations

import ast
import subprocess
import sys
from importlib import import_module
from pathlib import Path

import pytest

from shopledger import model
from shopledger.model import RECORDS, Record, tables

FOLDER = Path(model.__file__).parent


def _of_types() -> set[tuple[str, str]]:
    """Give (module, record) as the block for types imports them."""
    tree = ast.parse((FOLDER / "__init__.py").read_text(encoding="utf-8"))
    block = next(
        node
        for node in tree.body
        if isinstance(node, ast.If) and isinstance(node.test, ast.Name) and node.test.id == "TYPE_CHECKING"
    )
    return {
        (str(line.module).removeprefix("shopledger.model."), each.name)
        for line in block.body
        if isinstance(line, ast.ImportFrom)
        for each in line.names
        if each.asname == each.name
    }


def test_the_lists_and_the_modules_name_the_same_records() -> None:
    modules = {path.stem for path in FOLDER.glob("*.py")} - {"__init__"}
    for module in modules:
        import_module(f"shopledger.model.{module}")
    mapped = {
        (mapper.class_.__module__.removeprefix("shopledger.model."), mapper.class_.__name__)
        for mapper in Record.registry.mappers
    }
    listed = {(module, name) for module, names in RECORDS.items() for name in names}
    assert _of_types() == listed
    assert listed >= mapped
    for module, name in listed - mapped:  # the rows of a field are no record, and stand beside theirs
        assert getattr(model, name).__module__ == f"shopledger.model.{module}"
    assert set(tables().tables) == {mapper.class_.__tablename__ for mapper in Record.registry.mappers}


def test_a_record_is_mapped_when_it_is_asked_for() -> None:
    told = (
        "from shopledger.model import Person, Record\n"
        "from shopledger import model\n"
        "print(sorted(Record.metadata.tables), len(model.tables().tables) > 40)\n"
    )
    child = subprocess.run([sys.executable, "-c", told], capture_output=True, text=True, check=True)
    assert child.stdout == "['person'] True\n"


def test_a_name_that_is_no_record_is_refused() -> None:
    with pytest.raises(AttributeError, match="has no attribute 'Nobody'"):
        model.Nobody  # type: ignore[attr-defined]  # noqa: B018  # asked for on purpose
