"""Holds documents of the program against its own schemas with an independent validator.

Usage: check_json.py SCHEMA.json DOCUMENT.json [SCHEMA.json DOCUMENT.json ...]
Prints JSON: {"faults": [...], "checked": N}. Exits 2 where the library is missing.

Fields that a schema does not name are faults here: what the program writes is to be described whole. (A reader must pass over
them, so the schemas themselves allow them.)
"""
import json
import sys

try:
    import jsonschema
except ImportError as missing:
    print(missing, file=sys.stderr)
    sys.exit(2)


def closed(schema):
    """The schema, with every object that names properties closed against others."""
    if isinstance(schema, list):
        return [closed(part) for part in schema]
    if not isinstance(schema, dict):
        return schema
    made = {key: closed(part) for key, part in schema.items()}
    if "properties" in made and "additionalProperties" not in made:
        made["unevaluatedProperties"] = False
    return made


faults, checked = [], 0
pairs = zip(sys.argv[1::2], sys.argv[2::2])
for schema_file, document_file in pairs:
    schema = json.load(open(schema_file, encoding="utf-8"))
    jsonschema.Draft202012Validator.check_schema(schema)
    document = json.load(open(document_file, encoding="utf-8"))
    for kind in (schema, closed(schema)):
        validator = jsonschema.Draft202012Validator(kind)
        faults += [f"{document_file}: {list(e.path)}: {e.message[:300]}" for e in validator.iter_errors(document)]
    checked += 1
print(json.dumps({"faults": faults, "checked": checked}))
