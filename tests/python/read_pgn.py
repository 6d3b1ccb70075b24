#!/usr/bin/env python3
"""Reads PGN files with python-chess, a reader that shares no code with the project, and prints what it
found as JSON on standard output: one object per file, and totals over all of them.

Usage: read_pgn.py [--fens] [--phantoms] FILE.pgn...
  --fens      adds for each game the root and every end position of a line, to compare move by move.
  --phantoms  a move in a variation that is not legal there is listed and passed over, not an error: players'
              notes may hold such moves. One in the game itself stays an error.

Exit status: 0 all read, 1 the reader reported an error (an illegal or unreadable move, a bad FEN tag,
a file that cannot be opened), 2 wrong usage or python-chess is not installed."""

import argparse
import json
import logging
import sys

try:
    import chess.pgn
except ImportError:
    print("read_pgn.py: python-chess is not installed (pip install chess)", file=sys.stderr)
    sys.exit(2)

ROSTER = ["Event", "Site", "Date", "Round", "White", "Black", "Result"]


class Builder(chess.pgn.GameBuilder):
    """python-chess drops the rest of a variation after an illegal move, and in 1.11 then closes one
    variation too many. Passing a null move in its place keeps the tree whole and lets us count."""

    def begin_game(self):
        super().begin_game()
        self.game.phantoms = []

    def parse_san(self, board, san):
        try:
            return super().parse_san(board, san)
        except ValueError:
            self.game.phantoms.append({"move": san, "fen": board.fen(), "in_game": len(self.variation_stack) == 1})
            if len(self.variation_stack) == 1:
                raise
            return chess.Move.null()


def walk(game):
    """Every node below the root, without recursion: a line can be longer than Python's stack."""
    todo = [game]
    while todo:
        node = todo.pop()
        if node.parent is not None:
            yield node
        todo.extend(reversed(node.variations))


def summarise(game, fens, allow):
    main = sum(1 for _ in game.mainline())
    nodes = list(walk(game))
    nags = {}
    for node in nodes:
        for nag in node.nags:
            nags[f"${nag}"] = nags.get(f"${nag}", 0) + 1
    comments = [c for node in [game, *nodes] for c in (node.comment, node.starting_comment) if c]
    summary = {
        "tags": dict(game.headers),
        "roster_first": list(game.headers)[:7] == ROSTER,
        "mainline": main,
        "moves": len(nodes),
        "lines": sum(1 for node in nodes if node.parent.variations[0] is not node),
        "nags": dict(sorted(nags.items(), key=lambda item: int(item[0][1:]))),
        "comments": len(comments),
        "clocks": sum(1 for node in nodes if node.clock() is not None),
        "elapsed": sum(1 for node in nodes if node.emt() is not None),
        "result": game.headers.get("Result", "*"),
        "end": game.end().board().fen(),
        "phantoms": [p for p in game.phantoms if not p["in_game"]],
        "errors": [str(error) for error in game.errors],
    }
    if not allow:
        summary["errors"] += [f"illegal san: '{p['move']}' in {p['fen']}" for p in summary["phantoms"]]
    if fens:
        summary["root"] = game.board().fen()
        summary["ends"] = [node.board().fen() for node in nodes if not node.variations]
    return summary


def encoding(path):
    """UTF-8, or else ISO 8859-1, which the PGN standard asks for and which reads any bytes."""
    with open(path, "rb") as handle:
        try:
            handle.read().decode("utf-8")
        except UnicodeDecodeError:
            return "latin-1"
    return "utf-8"


def read(path, fens, allow):
    games, errors = [], []
    try:
        with open(path, encoding=encoding(path)) as handle:
            while (game := chess.pgn.read_game(handle, Visitor=Builder)) is not None:
                games.append(summarise(game, fens, allow))
    except (OSError, UnicodeDecodeError, ValueError, AssertionError) as error:
        errors.append(str(error))
    errors.extend(f"game {number}: {text}" for number, game in enumerate(games, 1) for text in game["errors"])
    return {"file": path, "games": games, "errors": errors}


def main():
    parser = argparse.ArgumentParser(description="Read PGN files with an independent reader.")
    parser.add_argument("files", nargs="+", metavar="FILE.pgn")
    parser.add_argument("--fens", action="store_true")
    parser.add_argument("--phantoms", action="store_true")
    options = parser.parse_args()
    logging.getLogger("chess.pgn").setLevel(logging.CRITICAL)
    files = [read(path, options.fens, options.phantoms) for path in options.files]
    games = [game for file in files for game in file["games"]]
    report = {
        "files": files,
        "games": len(games),
        "moves": sum(game["moves"] for game in games),
        "comments": sum(game["comments"] for game in games),
        "nags": sum(sum(game["nags"].values()) for game in games),
        "errors": [f"{file['file']}: {text}" for file in files for text in file["errors"]],
    }
    json.dump(report, sys.stdout, indent=1, ensure_ascii=False)
    print()
    sys.exit(1 if report["errors"] else 0)


if __name__ == "__main__":
    main()
