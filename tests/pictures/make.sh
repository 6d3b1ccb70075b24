#!/usr/bin/env bash
# Makes the pictures of the README from real runs of the program, each for a light and a dark page: the sitting of its
# walk-through, typed by tmux in a terminal of 80 by 24; the home screen of a demo home (an invented player with a season, her
# coach's homework and notes of her own); and the page of a coach with three students, in a browser. To be looked at, all other
# screens and a terminal of 140 by 45 go into target/pictures. Needs tmux, Python 3 and chromium.
# Usage: tests/pictures/make.sh [PROGRAM]   (default: target/release/foreply)
set -euo pipefail
cd "$(dirname "$0")/../.."
program=${1:-target/release/foreply}
homes=$(mktemp -d)
socket=foreply-pictures-$$
columns=80
mkdir -p target/pictures
run() { tmux -L "$socket" "$@"; }
trap 'run kill-server 2>/dev/null || true; rm -rf "$homes"' EXIT

keys() { for key in "$@"; do run send-keys -t s "$key"; sleep 0.15; done; }
line() { run send-keys -t s -l "$1"; sleep 0.15; keys Enter; }
picture() {
    sleep 0.6
    local folder=target/pictures
    case $1 in entry | review | tree-wide | demo-home | sheet | game | event) folder=tests/pictures ;; esac
    run capture-pane -t s -e -p >"$homes/screen"
    for theme in light dark; do
        python3 tests/pictures/ansi_to_svg.py "$columns" "$theme" <"$homes/screen" >"$folder/$1-$theme.svg"
    done
}
# Waits until the screen shows the text: a review takes as long as the machine needs.
await() {
    for _ in $(seq 1200); do
        if run capture-pane -t s -p | grep -qF "$1"; then return; fi
        sleep 0.25
    done
    echo "the screen never showed: $1" >&2
    exit 1
}

# sitting COLUMNS ROWS SUFFIX
sitting() {
    columns=$1
    run new-session -d -s s -x "$1" -y "$2" "env TERM=screen-256color $program --home $homes/home$3"
    await "Enter start"
    # The tour would stand in the pictures.
    keys F12
    picture "look$3"
    keys Enter
    line "Nxc3 Nxc3 Rxc3 Rxc3 Rxc3"
    line "+-"
    keys Enter
    line "Nd4 Qa5 Nb3"
    line "="
    line "{keeps the knight, c3 stays weak}"
    picture "entry$3"
    keys Tab F10
    await "Lock the tree"
    picture "commit$3"
    keys y
    await "Locked"
    keys Enter
    await "Depth in half-moves"
    picture "summary$3"
    keys n
    picture "review$3"
    keys t
    picture "tree$3"
    keys Escape g
    picture "figures$3"
    keys Escape Escape
    await "The whole collection"
    picture "home$3"
    keys c
    sleep 0.3
    picture "collection$3"
    run kill-session -t s
}

# A home as it is after a season: own games, notes, and what the coach has set.
demo_home() {
    foreply() { "$program" --quiet --home "$homes/demo" "$@" >/dev/null; }
    cat >"$homes/autumn.pgn" <<'PGN'
[FEN "8/8/1KP5/3r4/8/8/8/k7 w - - 0 1"]

{Homework: how far does the pawn get?} 1. c7 Rd6+ 2. Kb5 Rd5+ 3. Kb4 Rd4+ 4. Kb3 Rd3+ 5. Kc2 {towards the rook} Rd4
6. c8=R $1 (6. c8=Q Rc4+ $1) 6... Ra4 7. Kb3 $18 *

[FEN "7K/8/k1P5/7p/8/8/8/8 w - - 0 1"]

{Homework by 2031-12-05: can the king be in two places?} 1. Kg7 h4 2. Kf6 {two ways at once} Kb6 (2... h3 3. Ke7 $10)
3. Ke5 $10 *
PGN
    foreply coach hand-out "$homes/autumn.pgn" --by "Bram Oskarn" --name Autumn -o "$homes/for-students.pgn"
    foreply games add tests/data/harrowmere-season.pgn --player "Verrick, Ansa"
    foreply games moments --nodes 2000
    foreply review tests/data/harrowmere-homework.pgn --mine --nodes 5000
    foreply coach take "$homes/for-students.pgn"
    columns=80
    run new-session -d -s s -x 80 -y 24 "env TERM=screen-256color $program --home $homes/demo"
    await "The whole collection"
    picture demo-home
    run kill-session -t s
}

# student NAME MOVES
student() {
    printf '[White "%s"]\n[FEN "8/8/1KP5/3r4/8/8/8/k7 w - - 0 1"]\n\n%s *\n' "$1" "$2" >"$homes/back/${1%%,*}.pgn"
}

# The page of a coach, as a browser shows it.
pages() {
    local theme scheme
    mkdir "$homes/back"
    student "Marrowby, Ilse" '1. c7 Rd6+ 2. Kb5 Rd5+ 3. Kb4 Rd4+ 4. Kb3 Rd3+ 5. Kc2 Rd4 6. c8=Q $18'
    student "Pell, Doran" '1. c7 Rd6+ 2. Kc5 $18'
    student "Ostrell, Pim" '1. c7 Rd6+ 2. Kb5 Rd5+ 3. Kb4 Rd4+ 4. Kb3 Rd3+ 5. Kc2 Rd4 6. c8=R Ra4 7. Kb3 $18'
    "$program" --quiet --home "$homes/demo" coach table "$homes/back" --model "$homes/autumn.pgn" --review -o "$homes/table.html"
    for theme in light dark; do
        scheme=1
        if [ "$theme" = dark ]; then scheme=0; fi
        chromium --headless --no-sandbox --disable-gpu --hide-scrollbars --user-data-dir="$homes/browser-$theme" \
            --blink-settings=preferredColorScheme=$scheme --window-size=900,620 \
            --screenshot="$PWD/tests/pictures/table-$theme.png" "file://$homes/table.html" 2>/dev/null
    done
}

# Keeps the server alive between the sittings.
run -f /dev/null new-session -d -s keep
sitting 80 24 ""
sitting 140 45 "-wide"

# The invented event: a score sheet that is typed with a slip of the pen, the account of a game on its board, and the event.
event() {
    columns=80
    local home=$homes/event
    "$program" --home "$home" --quiet games add tests/data/harrowmere-event.pgn --player "Verrick, Ansa" >/dev/null
    "$program" --home "$home" --quiet games event "Harrowmere Open" \
        --takeaway "Before a capture I look for his check." --tie reply-overlooked >/dev/null
    run new-session -d -s s -x 80 -y 24 "env TERM=screen-256color $program --home $home"
    await "F1 help"
    keys F12 q
    await "Enter open"
    keys o
    await "Your own games"
    keys s
    line "White: Verrick, Ansa"
    line "Black: Pell, Doran"
    line "Event: Harrowmere Open"
    line "Round: 1"
    line "d4 d5 c4 e6 Nc3 Nf6 Bg5 Be7 e3 0-0 Nf3 1:30 c6 1:29 Bh4 h6 a3 Nd7 Be2"
    line "Na6 1:27 c5 1:28 Nc4 Bxc4 dxc4 Ne5 g5 Bg3 Nd7 Nxd7 Bxd7"
    await "F2:"
    picture sheet
    keys Escape
    await "Your own games"
    # The second round of the first event, which was not won: to the first move that gave some of it away.
    keys Down Down Down Down Down Down a
    await "Of a hundred such games"
    for _ in $(seq 20); do
        if run capture-pane -t s -p | grep -qF "keeps more"; then break; fi
        keys n
    done
    picture game
    keys Escape
    await "Your own games"
    keys PPage e
    await "What runs through"
    picture event
    run kill-session -t s
}
event
demo_home
pages
