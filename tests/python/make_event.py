"""The recipe of tests/data/harrowmere-event.pgn: two invented events, played by the embedded engine against itself.

    python3 tests/python/make_event.py target/release/foreply > tests/data/harrowmere-event.pgn

After opening moves that every book has, each move is searched with a number of nodes drawn at random (lognormal round
700; 45 for a planted slip, which either side makes now and then, the player more often with little time left). The clocks
are a model: quick openings and recaptures, a lognormal share of the time left for the rest. Who is far behind at 6,000
nodes for three moves of his gives up; what is level at the 60th move is given drawn. Needs python-chess 1.11. The file was
made once; the engine has changed since, so that another run gives other games.
"""

import random
import sys

import chess
import chess.engine
import chess.pgn

PLAYER = ("Verrick, Ansa", 1912)
EVENTS = [
    (
        "Harrowmere Open",
        "Harrowmere",
        [
            ("2026.04.03", "White", "Pell, Doran", 1935, "d4 d5 c4 e6 Nc3 Nf6 Bg5 Be7 e3 O-O Nf3"),
            ("2026.04.04", "Black", "Quillan, Tove", 1871, "e4 e6 d4 d5 Nc3 Nf6 Bg5 Be7 e5 Nfd7"),
            ("2026.04.04", "White", "Fennick, Joram", 1990, "d4 Nf6 c4 g6 Nc3 Bg7 e4 d6 Nf3 O-O Be2"),
            ("2026.04.05", "Black", "Ostrell, Pim", 1844, "d4 d5 c4 e6 Nc3 Nf6 Nf3 Be7 Bg5 h6"),
            ("2026.04.06", "White", "Marrowby, Ilse", 1858, "d4 d5 c4 c6 Nf3 Nf6 Nc3 dxc4 a4 Bf5"),
        ],
    ),
    (
        "Island Cup",
        "Tarrow",
        [
            ("2026.06.12", "Black", "Wick, Halvar", 1926, "e4 e6 d4 d5 e5 c5 c3 Nc6 Nf3"),
            ("2026.06.13", "White", "Dunmarsh, Edda", 1897, "d4 Nf6 c4 e6 Nc3 Bb4 e3 O-O Bd3"),
            ("2026.06.14", "Black", "Pell, Doran", 1940, "d4 d5 c4 e6 cxd5 exd5 Nc3 Nf6 Bg5"),
        ],
    ),
]
FIRST, INCREMENT = 5400, 30


def clock(seconds):
    return f"{seconds // 3600}:{seconds // 60 % 60:02}:{seconds % 60:02}"


def nodes(dice, own, left):
    slip = 0.10 if own and left < 600 else 0.045
    if dice.random() < slip:
        return 45
    return min(4000, int(dice.lognormvariate(6.55, 0.5)))


def spent(dice, board, move, ply, left):
    last = board.peek() if board.move_stack else None
    if ply < 16:
        return dice.randint(5, 50)
    if last and board.is_capture(move) and last.to_square == move.to_square:
        return dice.randint(5, 40)
    return max(5, int(min(left * dice.lognormvariate(-3.35, 0.75), left * 0.3)))


def play(engine, dice, event, site, round_number, date, colour, opponent, rating, opening):
    own = chess.WHITE if colour == "White" else chess.BLACK
    board, game = chess.Board(), chess.pgn.Game()
    names = {own: PLAYER, not own: (opponent, rating)}
    for tag, value in [
        ("Event", event), ("Site", site), ("Date", date), ("Round", str(round_number)),
        ("White", names[chess.WHITE][0]), ("Black", names[chess.BLACK][0]),
        ("TimeControl", f"{FIRST}+{INCREMENT}"),
        ("WhiteElo", str(names[chess.WHITE][1])), ("BlackElo", str(names[chess.BLACK][1])),
    ]:
        game.headers[tag] = value
    left = {chess.WHITE: FIRST, chess.BLACK: FIRST}
    behind = {chess.WHITE: 0, chess.BLACK: 0}
    node, book, result = game, opening.split(), "*"
    for ply in range(400):
        if board.is_game_over(claim_draw=True):
            result = board.result(claim_draw=True)
            break
        side = board.turn
        if ply < len(book):
            move = board.parse_san(book[ply])
        else:
            looked = engine.analyse(board, chess.engine.Limit(nodes=6000))
            score = looked["score"].pov(side).score(mate_score=10000)
            behind[side] = behind[side] + 1 if score < -650 else 0
            if behind[side] >= 3:
                result = "0-1" if side == chess.WHITE else "1-0"
                break
            if board.fullmove_number >= 60 and abs(score) < 60:
                result = "1/2-1/2"
                break
            limit = chess.engine.Limit(nodes=nodes(dice, side == own, left[side]))
            move = engine.play(board, limit).move
        used = spent(dice, board, move, ply, left[side])
        left[side] = max(4, left[side] - used) + INCREMENT
        node = node.add_variation(move)
        node.comment = f"[%clk {clock(left[side])}]"
        board.push(move)
    game.headers["Result"] = result
    return game


def main():
    dice = random.Random(20260403)
    engine = chess.engine.SimpleEngine.popen_uci([sys.argv[1], "engine"])
    print("% Two invented events; nobody in them is real. Made by tests/python/make_event.py.\n")
    for event, site, rounds in EVENTS:
        for number, of in enumerate(rounds, 1):
            print(play(engine, dice, event, site, number, *of), end="\n\n")
    engine.quit()


main()
