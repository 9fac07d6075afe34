"""Every fact names its source, and every source says where it is."""

from __future__ import annotations

from outside import facts


def test_every_fact_names_a_source_that_is_listed() -> None:
    sources = facts()["sources"]
    for section, entries in facts().items():
        if section == "sources":
            continue
        assert entries, section
        for entry in entries:
            assert entry["source"] in sources, entry


def test_every_source_has_a_title_and_a_place() -> None:
    for name, source in facts()["sources"].items():
        assert source["title"] and source["by"] and source["url"].startswith("http"), name


def test_no_source_is_listed_in_vain() -> None:
    used = {entry["source"] for section, entries in facts().items() if section != "sources" for entry in entries}
    assert used == set(facts()["sources"])
