#!/usr/bin/env bash
# Makes the pictures of the README from a real run of the program in a terminal of 80 by 24: the sitting
# of the README's walk-through, typed by tmux. Needs tmux and Python 3.
# Usage: tests/pictures/make.sh [PROGRAM]   (default: target/release/foreply)
set -euo pipefail
cd "$(dirname "$0")/../.."
program=${1:-target/release/foreply}
home=$(mktemp -d)
socket=foreply-pictures-$$
run() { tmux -L "$socket" "$@"; }
trap 'run kill-server 2>/dev/null || true; rm -rf "$home"' EXIT

keys() { for key in "$@"; do run send-keys -t s "$key"; sleep 0.15; done; }
line() { run send-keys -t s -l "$1"; sleep 0.15; keys Enter; }
picture() {
    sleep 0.6
    run capture-pane -t s -e -p | python3 tests/pictures/ansi_to_svg.py 80 >"tests/pictures/$1.svg"
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

run -f /dev/null new-session -d -s s -x 80 -y 24 "env TERM=screen-256color $program --home $home"
await "Enter start"
# The tour would stand in the pictures.
keys F12
picture look
keys Enter
line "Nxc3 Nxc3 Rxc3 Rxc3 Rxc3"
line "+-"
keys Enter
line "Nd4 Qa5 Nb3"
line "="
line "{keeps the knight, c3 stays weak}"
picture entry
keys Tab F10
await "Lock the tree"
picture commit
keys y
await "Locked"
keys Enter
await "Depth in half-moves"
picture review
