"""The command `explain`: exit statuses of section 9 of the project's contract, JSON alone, and wrong usage."""

import json
from dataclasses import replace

import pytest

from planner.cli import main
from planner.commands import explain as command
from planner.commands.inputs import Inputs
from tests.demand.shop import HOUSE
from tests.optimum.bench import bench
from tests.oracle.instance import Instance
from tests.plan.test_conflict import CASES


def reading(monkeypatch: pytest.MonkeyPatch, instance: Instance) -> None:
    inputs = Inputs(brief=instance.brief, catalogue=instance.catalogue, house=instance.house)
    monkeypatch.setattr(command, "read_inputs", lambda *_: inputs)


@pytest.fixture
def system(monkeypatch: pytest.MonkeyPatch) -> Instance:
    instance = bench(outputs=3, speakers=1, subs=2)
    reading(monkeypatch, instance)
    return instance


def test_json_to_standard_output_comes_alone(system: Instance, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["explain", "b.toml", "--json", "-"]) == 0
    out, err = capsys.readouterr()
    assert json.loads(out)["status"] == "proven"
    assert err == ""


def test_every_part_is_printed(system: Instance, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["explain", "b.toml"]) == 0
    out = capsys.readouterr().out
    for title in (
        "Price steps",
        "Why the devices of option 1",
        "Devices that no option uses",
        "If rates and prices move",
    ):
        assert title in out
    assert all(len(line) <= 80 for line in out.splitlines())


def test_without_a_design_the_status_says_so(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    found, sold, _ = CASES["one output too few"]
    reading(monkeypatch, Instance(name="none", brief=found, catalogue=sold.catalogue(), house=HOUSE))
    assert main(["explain", "b.toml"]) == 3
    assert "Conflict 1: these cannot hold together" in capsys.readouterr().out


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (["--option", "9"], "no option 9."),
        (["--compare", "1"], "name 2 to 4 different options"),
        (["--band", "XYZ=-5..5"], "no band for 'XYZ'"),
        (["--band", "USD"], "is not a band such as"),
        (["--discount", "lots"], "is not a percentage"),
    ],
)
def test_wrong_usage_is_told(
    system: Instance, arguments: list[str], said: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["explain", "b.toml", *arguments]) == 2
    assert said in capsys.readouterr().err


def test_a_time_limit_that_is_too_short_is_marked(system: Instance, capsys: pytest.CaptureFixture[str]) -> None:
    status = main(["explain", "b.toml", "--time-limit", "0.000001"])
    out = capsys.readouterr().out
    assert status == 4
    assert "Time ran out" in out


def test_rooms_are_ordered_together(
    monkeypatch: pytest.MonkeyPatch, system: Instance, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr(command, "catalogue_near", lambda path: path)
    assert main(["explain", "b.toml", "--room", "other.toml"]) == 0
    assert "2 rooms in one order" in capsys.readouterr().out
    assert replace(system) == system
