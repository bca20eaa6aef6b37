"""The promised JSON: its schema travels in the package and is the one the models write."""

from __future__ import annotations

import json
from pathlib import Path

import jsonschema

from briefing.pipeline import Briefed
from briefing.write import promised


def test_the_schema_in_the_package_is_the_models_own() -> None:
    path = Path(promised.__file__).with_name("outline.schema.json")
    assert path.read_text(encoding="utf-8") == promised.schema_text()
    jsonschema.Draft202012Validator.check_schema(json.loads(promised.schema_text()))


def test_the_demos_fit_the_schema(demos: dict[str, Briefed]) -> None:
    for name, briefed in demos.items():
        made = promised.outline_json(briefed.outline, briefed.clock).model_dump(mode="json")
        jsonschema.validate(made, promised.schema())
        assert made["video"] == {"slack-water": "2 of 13", "breakwater": "6 of 13", "long-swell": "10 of 13"}[name]
        assert [line["id"] for s in made["segments"] for line in s["lines"]] == [
            line.id for line in briefed.outline.lines
        ]


def test_line_ids_do_not_depend_on_the_length(demos: dict[str, Briefed]) -> None:
    from briefing.pipeline import brief  # noqa: PLC0415
    from briefing.settings.models import Length  # noqa: PLC0415
    from briefing.sources.folders import demo_folder  # noqa: PLC0415

    long = {line.id: line.text for line in demos["slack-water"].outline.lines}
    short = {
        line.id: line.text for line in brief(demo_folder() / "slack-water.md", length=Length(seconds=360)).outline.lines
    }
    assert set(short) < set(long) | {x.line.id for x in demos["slack-water"].outline.left_out}
    assert all(long.get(i, text) == text for i, text in short.items())
