"""What is installed is listed with its licence, and each licence goes together with ours."""

from __future__ import annotations

import importlib.util
import re
from pathlib import Path
from types import ModuleType

import pytest

TOP = Path(__file__).parents[1]


@pytest.fixture(scope="module")
def licences() -> ModuleType:
    spec = importlib.util.spec_from_file_location("make_licences", TOP / "docs" / "make_licences.py")
    assert spec is not None and spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


def test_every_installed_package_is_on_the_page(licences: ModuleType) -> None:
    listed = licences.listed(licences.PAGE.read_text(encoding="utf-8"))
    missing = {name: licence for name, (licence, _) in licences.rows().items() if name not in listed}
    assert missing == {}, "run make licences"


def test_every_licence_on_the_page_goes_together_with_ours(licences: ModuleType) -> None:
    listed = licences.listed(licences.PAGE.read_text(encoding="utf-8"))
    assert len(listed) > 50
    others = {
        name: licence for name, (licence, _) in listed.items() if not set(licences.parts(licence)) & licences.FREE
    }
    assert others == {}


def test_what_is_locked_is_within_what_is_declared() -> None:
    tomllib = pytest.importorskip("tomllib")
    from packaging.requirements import Requirement
    from packaging.version import Version

    project = tomllib.loads((TOP / "pyproject.toml").read_text())["project"]
    declared = [Requirement(one) for one in project["dependencies"]]
    locked = (TOP / "requirements" / "book.txt").read_text()
    for one in declared:
        versions = re.findall(
            rf"^{re.escape(one.name.replace('_', '-'))}==([^\s;\\]+)", locked, re.MULTILINE | re.IGNORECASE
        )
        assert versions and all(Version(version) in one.specifier for version in versions), one
        bounds = {part.operator for part in one.specifier}
        assert bounds == {"=="} or bounds == {">=", "<"}, f"{one} has no lower and upper bound"
