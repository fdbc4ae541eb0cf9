"""Schemas as files, and the line by which a new book's files name theirs."""

from __future__ import annotations

import json
import re
from pathlib import Path

import yaml
from jsonschema import Draft202012Validator

from typeset.schemas import kinds, schema_text, write_schemas
from typeset.starting import start_book


def test_a_new_books_files_name_the_schema_that_they_obey(tmp_path: Path) -> None:
    files = [file for file in start_book(tmp_path / "book") if file.suffix == ".yaml"]
    for file in files:
        text = file.read_text(encoding="utf-8")
        named = re.match(r"# yaml-language-server: \$schema=(\S+)\n", text)
        assert named
        schema = json.loads((file.parent / named[1]).read_text(encoding="utf-8"))
        data = yaml.load(text, yaml.BaseLoader)
        assert list(Draft202012Validator(schema).iter_errors(data)) == []
    assert len(files) == 2


def test_all_schemas_go_into_a_folder(tmp_path: Path) -> None:
    assert {file.stem for file in write_schemas(tmp_path / "here")} == set(kinds())


def test_a_schema_is_json() -> None:
    assert json.loads(schema_text("book"))["required"] == ["title", "chapters"]
