#!/usr/bin/env python3
"""Edits a PGN file with python-chess as a coach may with any editor, and writes it with its own writer.

Usage: edit_pgn.py none|shuffle|coach IN.pgn OUT.pgn
  none     reads and writes
  shuffle  reverses all variations (so that other main lines stand), drops the first comment of a move
  coach    shuffle, and adds a line, glyphs and words to the first move of the last variation

Exit status: 2 where python-chess is not installed."""

import sys

try:
    import chess.pgn
except ImportError:
    print("edit_pgn.py: python-chess is not installed (pip install chess)", file=sys.stderr)
    sys.exit(2)


def shuffle(game):
    todo = [game]
    while todo:
        node = todo.pop()
        node.variations.reverse()
        todo.extend(node.variations)


def coach(game):
    node = game.variations[-1]
    node.comment = f"{node.comment} {{not this}} \"why not\" & <b>more</b>. Homework: look again.".replace("{", "(").replace("}", ")")
    node.nags.add(chess.pgn.NAG_GOOD_MOVE)
    move = next(m for m in node.board().legal_moves if all(v.move != m for v in node.variations))
    line = node.add_variation(move, comment="The coach's line.")
    line.nags.add(10)


def main():
    how, source, target = sys.argv[1:4]
    with open(source, encoding="utf-8") as handle, open(target, "w", encoding="utf-8") as out:
        while (game := chess.pgn.read_game(handle)) is not None:
            assert not game.errors, game.errors
            if how != "none":
                shuffle(game)
            if how == "coach":
                coach(game)
                game.headers["Annotator"] = "Oskarn, \"Bram\""
            exporter = chess.pgn.StringExporter(columns=61)
            print(game.accept(exporter), file=out, end="\n\n")


main()
