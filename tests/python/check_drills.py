"""Holds drill files against the JSON Schema, and reads EPD, with independent libraries.

Usage: check_drills.py SCHEMA.json EPD FILE.yaml ...
Prints JSON: {"faults": [...], "records": N, "epd": [[fen, [best moves in UCI]], ...]}. Exits 2 where a library is missing.
"""
import json
import sys

try:
    import chess
    import jsonschema
    import yaml
except ImportError as missing:
    print(missing, file=sys.stderr)
    sys.exit(2)

schema = json.load(open(sys.argv[1], encoding="utf-8"))
jsonschema.Draft202012Validator.check_schema(schema)
validator = jsonschema.Draft202012Validator(schema)
faults, records = [], 0
for name in sys.argv[3:]:
    data = yaml.safe_load(open(name, encoding="utf-8"))
    records += len(data)
    faults += [f"{name}: {list(e.path)}: {e.message}" for e in validator.iter_errors(data)]

epd = []
for line in open(sys.argv[2], encoding="utf-8"):
    board = chess.Board(None)
    operations = board.set_epd(line)
    best = sorted(move.uci() for move in operations.get("bm", []))
    epd.append([board.epd(), best, operations.get("id")])
print(json.dumps({"faults": faults, "records": records, "epd": epd}))
