"""The shape of the project, kept by tests: who may import whom, and how it is installed."""

import re
import shutil
import subprocess
import sys
from pathlib import Path

import pytest
from packaging.requirements import Requirement

ROOT = Path(__file__).resolve().parent.parent
MOST_LINES = 400


def modules() -> list[Path]:
    return sorted(path for top in ("planner", "ui", "tests") for path in (ROOT / top).rglob("*.py"))


def lint_imports(root: Path) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, "-c", "from importlinter.cli import lint_imports_command as lint; lint()", "--no-cache"],
        cwd=root,
        env={"PYTHONPATH": str(root), "PATH": ""},
        capture_output=True,
        text=True,
        check=False,
    )


@pytest.fixture(scope="module")
def copy_of_the_project(tmp_path_factory: pytest.TempPathFactory) -> Path:
    root = tmp_path_factory.mktemp("project")
    shutil.copy(ROOT / "pyproject.toml", root)
    for top in ("planner", "ui"):
        shutil.copytree(ROOT / top, root / top, ignore=shutil.ignore_patterns("__pycache__"))
    return root


def test_the_import_contract_holds(copy_of_the_project: Path) -> None:
    ran = lint_imports(copy_of_the_project)
    assert ran.returncode == 0, ran.stdout


@pytest.mark.parametrize(
    ("module", "line", "contract"),
    [
        ("planner/helpers.py", "", "One direction"),
        ("planner/design.py", "import planner.costing", "One direction"),
        ("planner/checks/planted.py", "import ortools", "Only the allocation knows the solver"),
        ("planner/checks/planted.py", "import planner.costing", "The verifier shares nothing"),
        ("planner/words.py", "import streamlit", "The planner runs without the form"),
        ("ui/planted.py", "import planner.costing", "The form asks the pipeline"),
    ],
)
def test_the_import_contract_catches_what_breaks_it(
    module: str, line: str, contract: str, copy_of_the_project: Path
) -> None:
    path = copy_of_the_project / module
    before = path.read_text(encoding="utf-8") if path.exists() else None
    path.write_text(f"{before or ''}\n{line}\n", encoding="utf-8")
    try:
        ran = lint_imports(copy_of_the_project)
    finally:
        if before is None:
            path.unlink()
        else:
            path.write_text(before, encoding="utf-8")
    assert ran.returncode != 0
    assert re.search(rf"{contract}.* BROKEN|not listed as layers", ran.stdout), ran.stdout


def test_files_are_short() -> None:
    lines_by_file = {path: len(path.read_text(encoding="utf-8").splitlines()) for path in modules()}
    assert lines_by_file
    assert {path: lines for path, lines in lines_by_file.items() if lines > MOST_LINES} == {}


def test_modules_are_named_for_their_subject() -> None:
    names = {part for path in modules() for part in path.relative_to(ROOT).with_suffix("").parts}
    assert "planner" in names
    assert names & {"utils", "util", "helpers", "common", "misc"} == set()


def test_the_package_itself_exports_nothing() -> None:
    # What others may build on are the modules; a name exported here is to be pinned here.
    ran = subprocess.run(
        [sys.executable, "-c", "import planner; print(*(n for n in vars(planner) if not n.startswith('_')))"],
        env={"PYTHONPATH": str(ROOT), "PATH": ""},
        capture_output=True,
        text=True,
        check=True,
    )
    assert ran.stdout.split() == []


@pytest.mark.parametrize("name", ["main", "cluster", "test"])
def test_a_lock_holds_pins_within_the_ranges_and_nothing_else(name: str) -> None:
    folder = ROOT / ".requirements"
    pins = [Requirement(line) for line in (folder / f"{name}.lock").read_text(encoding="utf-8").splitlines()]
    wanted = [
        Requirement(line)
        for line in (folder / f"{name}.in").read_text(encoding="utf-8").splitlines()
        if line and not line.startswith("#")
    ]
    for pin in pins:
        assert pin.url is None
        assert [clause.operator for clause in pin.specifier] == ["=="]
    for requirement in wanted:
        versions = [next(iter(pin.specifier)).version for pin in pins if same_name(pin, requirement)]
        assert versions
        assert all(requirement.specifier.contains(version) for version in versions)


def same_name(one: Requirement, other: Requirement) -> bool:
    return one.name.lower().replace("_", "-") == other.name.lower().replace("_", "-")


@pytest.mark.parametrize("heading", ["Run it", "Test it"])
def test_the_readme_gives_one_line_to_run_and_one_to_test(heading: str) -> None:
    text = (ROOT / "README.md").read_text(encoding="utf-8")
    found = re.search(rf"^## {heading}$(.*?)(?=^## |\Z)", text, re.MULTILINE | re.DOTALL)
    assert found is not None
    fenced = re.findall(r"^```\w*\n(.*?)^```$", found.group(1), re.MULTILINE | re.DOTALL)
    assert len(fenced) == 1
    assert len(fenced[0].splitlines()) == 1
