"""The documentation says what the program does: findings, links, pages, floors."""

from __future__ import annotations

import importlib
import re
import tomllib
from pathlib import Path

import pytest

from seamproof.findings import Kind

ROOT = Path(__file__).resolve().parents[2]
DOCS = ROOT / "docs"
PAGES = sorted([*DOCS.rglob("*.md"), ROOT / "README.md", ROOT / "CHANGELOG.md"])

HUNDREDS = {"draft": 1, "piecing": 2, "cutting": 3, "proof": 9, "booklet": 9}
HUNDREDS |= {"pressing": 4, "accuracy": 5, "setting": 6, "cloth": 7, "programme": 8}

ROW = re.compile(r"^\| (\d{3}) \| (\w+) \| (.+?) \| (.+?) \|$", re.MULTILINE)
LINK = re.compile(r"!?\[[^\]]*\]\(([^)\s]+)\)")
HEADING = re.compile(r"^#+ (.+)$", re.MULTILINE)
CODE = re.compile(r"^```.*?^```$", re.MULTILINE | re.DOTALL)


def kinds() -> list[tuple[str, Kind]]:
    """Every sort of finding with the stage that defines it."""
    found = []
    for path in sorted((ROOT / "src" / "seamproof").glob("*/checks.py")):
        stage = path.parent.name
        module = importlib.import_module(f"seamproof.{stage}.checks")
        found += [(stage, kind) for kind in vars(module).values() if isinstance(kind, Kind)]
    return found


def documented() -> list[tuple[int, str, str, str]]:
    page = (DOCS / "reference" / "findings.md").read_text("utf-8")
    return [(int(code), *rest) for code, *rest in ROW.findall(page)]


def anchors(page: Path) -> set[str]:
    """What can stand after # in a link to a page."""
    names = HEADING.findall(CODE.sub("", page.read_text("utf-8")))
    return {re.sub(r"[^\w\- ]", "", name).strip().lower().replace(" ", "-") for name in names}


def test_every_finding_is_documented_and_every_documented_one_exists() -> None:
    written = {(code, severity, title) for code, severity, title, _ in documented()}
    assert written == {(kind.code, kind.severity, kind.title) for _, kind in kinds()}


def test_findings_are_documented_once_in_order_and_with_a_mend() -> None:
    codes = [code for code, *_ in documented()]
    assert codes == sorted(set(codes))
    assert all(len(mend) >= 15 and mend.endswith(".") for *_, mend in documented())


def test_codes_are_unique_and_lie_in_the_hundred_of_their_stage() -> None:
    found = kinds()
    assert len(found) > 30
    assert len({kind.code for _, kind in found}) == len(found)
    assert [kind for stage, kind in found if kind.code // 100 != HUNDREDS[stage]] == []


def test_findings_are_defined_in_checks_only() -> None:
    defined = re.compile(r"\bKind\(\s*\d{3}\b")
    for path in (ROOT / "src" / "seamproof").rglob("*.py"):
        if path.name not in {"checks.py", "findings.py"}:
            assert not defined.search(path.read_text("utf-8")), path


@pytest.mark.parametrize("page", PAGES, ids=lambda page: page.relative_to(ROOT).as_posix())
def test_links_lead_somewhere(page: Path) -> None:
    for link in LINK.findall(CODE.sub("", page.read_text("utf-8"))):
        if link.startswith(("http://", "https://", "mailto:")):
            continue
        path, _, anchor = link.partition("#")
        target = (page.parent / path).resolve() if path else page
        assert target.exists(), link
        assert not anchor or anchor in anchors(target), link


def test_every_page_is_reached_from_the_index() -> None:
    reached: set[Path] = set()
    waiting = [DOCS / "README.md"]
    while waiting:
        page = waiting.pop()
        if page in reached:
            continue
        reached.add(page)
        links = [link.partition("#")[0] for link in LINK.findall(page.read_text("utf-8"))]
        targets = [(page.parent / link).resolve() for link in links if link.endswith(".md")]
        waiting += [target for target in targets if target.is_file()]
    assert [page.name for page in DOCS.rglob("*.md") if page not in reached] == []


def test_the_drawing_of_the_house_agrees_with_the_law() -> None:
    rules = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))["tool"]["importlinter"]
    layers = next(
        contract["layers"] for contract in rules["contracts"] if contract["id"] == "layers"
    )
    built = [[name for name in row.split(" | ") if "(" not in name] for row in layers]
    page = (DOCS / "explanation" / "house.md").read_text("utf-8")
    drawn = [
        re.findall(r"`(\w+)`", row) for row in re.findall(r"^\| (`.+?) \|", page, re.MULTILINE)
    ]
    assert drawn == [row for row in built if row]


def test_the_readme_names_the_commands_of_the_set_up() -> None:
    text = (ROOT / "README.md").read_text("utf-8")
    assert "demo test soak lint setup serve:\n" in (ROOT / "Makefile").read_text("utf-8")
    for words in ("make demo", "make test", "bootstrap.py demo", "bootstrap.py test"):
        assert words in text
