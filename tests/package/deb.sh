#!/usr/bin/env bash
# Builds the Debian package, installs it, uses what it brought, and takes it away again without a trace. Needs root, dpkg and
# cargo-deb (`cargo install cargo-deb`); leaves the package in the target folder.
set -euo pipefail
cd "$(dirname "$0")/../.."
target=${CARGO_TARGET_DIR:-target}
work=$target/release/package

fail() {
    echo "deb.sh: $*" >&2
    exit 1
}

cargo build --release --locked
program=$target/release/foreply
bytes=$(stat -c %s "$program")
[ "$bytes" -lt 12000000 ] || fail "the program has $bytes bytes; 12000000 are the most"

rm -rf "$work"
mkdir -p "$work/man"
"$program" --quiet --home "$work/home" man "$work/man"
gzip -9n "$work"/man/*.1
"$program" completions bash >"$work/foreply.bash"
"$program" completions zsh >"$work/_foreply"
"$program" completions fish >"$work/foreply.fish"
rm -rf "$work/home"
package=$(cargo deb --no-build --no-strip | tail -n 1)
[ -f "$package" ] || fail "cargo deb made no package"
echo "package: $package, $(stat -c %s "$package") bytes; program: $bytes bytes"

! command -v foreply >/dev/null || fail "there is a foreply in the PATH already"
dpkg -i "$package" >/dev/null
trap 'dpkg -P foreply >/dev/null 2>&1 || true' EXIT
listed=$(dpkg -L foreply)

# From another folder and in a fresh home: everything is found.
home=$(mktemp -d)
cd "$home"
env -i PATH="$PATH" HOME="$home" foreply --version
env -i PATH="$PATH" HOME="$home" foreply drills list >/dev/null
echo '[SetUp "1"]
[FEN "8/8/1KP5/3r4/8/8/8/k7 w - - 0 1"]

1. c7 Rd6+ *' >notes.pgn
env -i PATH="$PATH" HOME="$home" foreply --quiet review notes.pgn --nodes 300 | grep -q 'Judged by' || fail "no review"
for page in foreply foreply-review foreply-coach-take; do
    file=/usr/share/man/man1/$page.1.gz
    grep -qx "$file" <<<"$listed" || fail "$file is not in the package"
    # Some systems leave the pages of all packages out when they install.
    if [ -f "$file" ]; then
        gzip -dc "$file" | grep -q '^\.TH' || fail "$file is no manual page"
    fi
done
completions=/usr/share/bash-completion/completions/foreply
bash -n "$completions"
bash -c "source $completions && complete -p foreply" >/dev/null || fail "bash completes nothing"
cd /
rm -rf "$home"

dpkg -P foreply >/dev/null
trap - EXIT
while read -r path; do
    # Folders that other packages use too stay.
    [ ! -f "$path" ] || fail "$path is still there"
done <<<"$listed"
! command -v foreply >/dev/null || fail "the program is still there"
echo "installed, used, removed"
