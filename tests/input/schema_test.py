"""Validates site files against the JSON Schema with a validator that is not ours.

schema_test.py SCHEMA FOLDER…: every .yaml file below the folders must satisfy the schema, and each of
the small wrong files below must not.
"""

import json
import pathlib
import re
import sys

import jsonschema
import yaml


class CoreLoader(yaml.SafeLoader):
    """Reads YAML as editors do, by the core schema of YAML 1.2: 'no' and dates stay texts."""


CoreLoader.yaml_implicit_resolvers = {}
for tag, pattern, first in [
    ("bool", r"^(true|false)$", "tf"),
    ("null", r"^(~|null|)$", ["~", "n", ""]),
    ("int", r"^[-+]?[0-9]+$", "-+0123456789"),
    ("float", r"^[-+]?([0-9]+\.[0-9]*|\.[0-9]+)([eE][-+]?[0-9]+)?$", "-+.0123456789"),
]:
    CoreLoader.add_implicit_resolver("tag:yaml.org,2002:" + tag, re.compile(pattern), list(first))

WRONG = {
    "unknown key": "supply: {system: 1/N/PE 230 V, earthin: TT}",
    "unknown word": "supply: {system: 1/N/PE 230 V, earthing: TNT}",
    "missing unit": "boards: {+A1: {busbar: 63}}",
    "wrong dimension": "boards: {+A1: {busbar: 63 V}}",
    "no system": "supply: {earthing: TT}",
    "board without sign": "boards: {A1: {}}",
    "power factor": "boards: {+A1: {circuits: [{power factor: 1.2}]}}",
    "unknown state key": "states: {island: {-Q1: ajar}}",
}


def main() -> int:
    schema = json.loads(pathlib.Path(sys.argv[1]).read_text(encoding="utf-8"))
    jsonschema.Draft7Validator.check_schema(schema)
    validator = jsonschema.Draft7Validator(schema)
    failures = []
    files = sorted(path for folder in sys.argv[2:] for path in pathlib.Path(folder).rglob("*.yaml"))
    for path in files:
        site = yaml.load(path.read_text(encoding="utf-8"), CoreLoader)
        for error in validator.iter_errors(site):
            place = "/".join(str(part) for part in error.absolute_path)
            failures.append(f"{path}: {place}: {error.message[:200]}")
    for name, text in WRONG.items():
        if validator.is_valid(yaml.load(text, CoreLoader)):
            failures.append(f"not refused: {name}: {text}")
    print("\n".join(failures) or f"{len(files)} files satisfy the schema")
    return 1 if failures or not files else 0


if __name__ == "__main__":
    sys.exit(main())
