"""The bibliography: every key that is cited stands in it, and every entry is cited by a header.

Reads the sources as text, with the standard library alone.
"""

import re
from pathlib import Path

import pytest

INCLUDE = Path(__file__).resolve().parents[2] / "include" / "epicotyl"
PACKAGE = Path(__file__).resolve().parents[2] / "bindings" / "epicotyl"
BIBLIOGRAPHY = INCLUDE / "REFERENCES.md"

# The first author's name without marks, the year, and a letter where one year has two.
KEY = r"[a-z]+(?P<year>1[6-9]\d\d|20\d\d)[a-z]?"
CITED = re.compile(rf"\[(?P<key>{KEY})\]")


def entries():
    """Key and text of every entry, in the order of the file."""
    parts = re.split(r"^### (.+)$", BIBLIOGRAPHY.read_text(encoding="utf-8"), flags=re.MULTILINE)
    return list(zip(parts[1::2], parts[2::2], strict=True))


def citations():
    """Keys that headers cite, each with the headers that do."""
    found = {}
    for header in sorted(INCLUDE.rglob("*.hpp")):
        for match in CITED.finditer(header.read_text(encoding="utf-8")):
            found.setdefault(match["key"], []).append(header.relative_to(INCLUDE).as_posix())
    return found


def test_every_key_cited_stands_in_the_bibliography():
    known = {key for key, _ in entries()}
    missing = {key: where for key, where in citations().items() if key not in known}
    assert missing == {}


def test_every_entry_is_cited():
    assert {key for key, _ in entries()} - set(citations()) == set()


def test_entries_stand_once_and_in_order():
    keys = [key for key, _ in entries()]
    assert keys == sorted(set(keys))
    assert len(keys) > 10


@pytest.mark.parametrize(("key", "text"), entries(), ids=[key for key, _ in entries()])
def test_an_entry_has_what_a_reader_needs_to_find_it(key, text):
    assert re.fullmatch(KEY, key)
    year = re.fullmatch(KEY, key)["year"]
    assert re.search(rf"\b{year}\. \*[^*]+\*", text), "no year before the title"
    assert re.search(r"^- DOI: (10\.\d{4,}/\S+|none|not looked up)$", text, re.MULTILINE)
    assert re.search(r"^- checked: \S", text, re.MULTILINE), "not said what was checked"


@pytest.mark.parametrize(
    "header", sorted(INCLUDE.rglob("*.hpp")), ids=lambda path: path.relative_to(INCLUDE).as_posix()
)
def test_a_header_leaves_dois_to_the_bibliography(header):
    assert not re.search(r"\bdoi\b|10\.\d{4,}/", header.read_text(encoding="utf-8"), re.IGNORECASE)


@pytest.mark.parametrize("module", sorted(PACKAGE.glob("*.py")), ids=lambda path: path.name)
def test_the_package_cites_by_the_same_keys(module):
    text = module.read_text(encoding="utf-8")
    assert {match["key"] for match in CITED.finditer(text)} <= {key for key, _ in entries()}
    assert not re.search(r"\bdoi\b|10\.\d{4,}/|\bet al\b", text, re.IGNORECASE)


def test_every_reading_stands_in_the_index_in_its_order():
    readings = (INCLUDE / "READINGS.md").read_text(encoding="utf-8")
    index, _, _ = readings.partition("\n## ")
    linked = [" ".join(title.split()) for title in re.findall(r"\[([^]]+)\]\(#", index)]
    assert linked == re.findall(r"^### (.+)$", readings, re.M)
    for title, anchor in re.findall(r"\[([^]]+)\]\(#([^)]+)\)", index):
        words = re.sub(r"[^a-z0-9 _-]", "", " ".join(title.split()).lower())
        assert anchor == words.replace(" ", "-"), title
