"""A folder of briefs under a catalogue: all invented, of the demo or spoiled from it."""

import json
import re
from pathlib import Path

from tests.plan.demo import DEMO

QUICK = "desk-no-subwoofer"


def demo_text(name: str) -> str:
    return (DEMO / "briefs" / f"{name}.toml").read_text(encoding="utf-8")


def fill(folder: Path, **text_by_name: str) -> Path:
    """A folder with a brief for each name."""
    folder.mkdir(exist_ok=True)
    for name, text in text_by_name.items():
        (folder / f"{name}.toml").write_text(text, encoding="utf-8")
    return folder


def impossible() -> str:
    """A brief that no design can keep."""
    return f'{demo_text(QUICK)}\n[limits]\nbudget = "100"\n'


def results(out: Path) -> dict[str, str]:
    """The result of every brief by name, but for how long it took."""
    texts = {path.stem: path.read_text(encoding="utf-8") for path in out.glob("*.json")}
    return {name: re.sub(r'"seconds": [0-9.]+', '"seconds": 0', text) for name, text in texts.items()}


def outcomes(out: Path) -> dict[str, str]:
    """What the records say became of every brief, by name."""
    records = {path.stem: json.loads(path.read_bytes()) for path in (out / "records").glob("*.json")}
    return {name: record["outcome"] for name, record in records.items()}
