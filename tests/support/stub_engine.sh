#!/bin/sh
# A UCI engine that plays a part. Usage: stub_engine.sh PART PIDS
#
# Each start adds a line with its process number to the file PIDS. The parts are in the case below. It plays
# e2e4 or e7e5 whatever the position, so it is asked only about positions where that is legal.
part=$1
pids=$2
echo $$ >>"$pids"
start=$(wc -l <"$pids")

# Ignores its input, its end, and politeness: only a kill ends it.
stone() { exec sleep 1000; }

flood() { while :; do echo "info string nothing to see"; done; }

search() {
    nodes=20000
    best=e2e4
    case $position in *" b "*) best=e7e5 ;; esac
    case "$go" in *" nodes "*) nodes=${go##* nodes }; nodes=${nodes%% *} ;; esac
    case "$go" in *searchmoves*) best=${go##*searchmoves }; best=${best%% *} ;; esac
    case $part in
    deaf-to-nodes) nodes=3 ;;
    deaf-to-searchmoves) best=e2e4 ;;
    never-ends | late-after-stop | dies-at-stop | hangs-at-stop) while read -r line; do [ "$line" = stop ] && break; done
        case $part in
        late-after-stop) sleep 4 ;;
        dies-at-stop) exit 4 ;;
        hangs-at-stop) stone ;;
        esac ;;
    esac
    # Measuring is done with the starting position; the faults of a search come later.
    case $position in *startpos*) ;; *)
        case $part in
        dies) exit 3 ;;
        dies-once) [ "$start" -eq 1 ] && exit 3 ;;
        hangs) stone ;;
        tires) searches=$((${searches:-0} + 1)); [ "$searches" -gt 1 ] && stone ;;
        floods) flood ;;
        illegal) best=a1a1 ;;
        no-move) best='(none)' ;;
        no-score) echo "bestmove $best"; return ;;
        cut-line) echo "info depth 7 score cp 25 pv $best zz9 a1a1"; echo "bestmove $best"; return ;;
        escape) printf 'info depth 1 score cp -900 pv \033[2Je2e4\n' ;;
        latin) printf 'info string d\351j\340 vu\n' ;;
        one-huge-line) head -c 300000000 /dev/zero | tr '\0' x; echo ;;
        bad-pv) printf 'info depth 9 score cp 25 pv \377\376 e9e4 %s\n' "$best" ;;
        long-line) head -c 300000 /dev/zero | tr '\0' x; echo ;;
        esac ;;
    esac
    printf 'info  depth 6\tseldepth 9 score cp 25 nodes %s pv %s\r\n' "$nodes" "$best"
    echo "bestmove $best"
}

case $part in
exits-at-once) exit 7 ;;
mute) stone ;;
floods-at-once) flood ;;
banner) echo "Stub engine by nobody"; echo "info by id option uciok-not-yet" ;;
esac

case $part in
rubbish) while :; do head -c 200 /dev/urandom; echo; sleep 0.01; done ;;
grandchild) sleep 1000 & echo $! >>"$pids"; exit 0 ;;
esac

while read -r line; do
    case $part in
    dies-at-stop | hangs-at-stop) ;;
    dies-at-*) [ "${line%% *}" = "${part#dies-at-}" ] && exit 4 ;;
    hangs-at-*) [ "${line%% *}" = "${part#hangs-at-}" ] && stone ;;
    esac
    case "$line" in
    uci)
        echo "id name Stub 1.0"
        echo "option name Hash type spin default 8 min 1 max 64"
        [ "$part" = one-line ] || echo "option name MultiPV type spin default 1 min 1 max 5"
        echo uciok
        ;;
    isready)
        [ "$part" = deaf-to-isready ] && stone
        echo readyok
        ;;
    position*) position=$line ;;
    go*) go=$line; search ;;
    quit) exit 0 ;;
    esac
done
