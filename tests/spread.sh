#!/usr/bin/env bash
# The judge's work, spread by two runners that exist: GNU parallel, and a Slurm job array on one node with two slots. A worker
# is killed in each; what comes of it is compared with what one process says, byte for byte. Needs root, parallel,
# slurm-wlm and munge (installed where they are missing), and the program (first argument; default: the release build).
#
#   bash tests/spread.sh [PROGRAM] [NODES] [ROUNDS]
#
# Then how much faster two are than one: each way ROUNDS times in turn (default: once), and the median, since a machine that
# others share is not as fast at one time as at another.
set -euo pipefail
cd "$(dirname "$0")/.."
program=$(realpath "${1:-${CARGO_TARGET_DIR:-target}/release/foreply}")
nodes=${2:-20000}
rounds=${3:-1}
games=$(realpath tests/data/harrowmere-season.pgn)
work=$(mktemp -d)
tidy() {
    kill $(cat "$work"/pids 2>/dev/null) 2>/dev/null || true
    # Slurm still writes when it ends.
    sleep 2
    rm -rf "$work"
}
trap tidy EXIT

for need in parallel sbatch munged; do
    if ! command -v $need >/dev/null; then
        apt-get update -qq
        apt-get install -y -qq --no-install-recommends parallel slurm-wlm munge >/dev/null
    fi
done

foreply() { "$program" --quiet "$@"; }
seconds() { date +%s.%N; }
since() { echo "$(seconds) - $1" | bc -l | xargs printf '%.1f'; }
home() { # a home with the games in it
    foreply --home "$work/$1" games add "$games" --player 'Verrick, Ansa' >/dev/null
}
result() { foreply --home "$work/$1" games moments --nodes "$nodes" --format json; }

# One worker on one core: what the others are measured against.
home planned
foreply --home "$work/planned" judge plan -o "$work/shards" --nodes "$nodes" --questions 250
alone() { # the ending of the answers
    for shard in "$work"/shards/*.questions; do
        foreply judge answer "$shard" -o "${shard%.questions}.$1" --jobs 1
    done
}
alone alone
home alone
foreply --home "$work/alone" judge gather "$work"/shards/*.alone
result alone >"$work/alone.json"

# GNU parallel: two workers. One was killed before; it goes on where it was.
first=$(ls "$work"/shards/*.questions | head -n 1)
"$program" --quiet judge answer "$first" -o "${first%.questions}.parallel" --jobs 1 &
worker=$!
sleep 1
kill -KILL $worker 2>/dev/null || true
wait $worker 2>/dev/null || true
in_parallel() {
    parallel --jobs 2 "$program" --quiet judge answer {} -o "{.}.$1" --jobs 1 ::: "$work"/shards/*.questions
}
in_parallel parallel
echo "GNU parallel, two workers"
home parallel
foreply --home "$work/parallel" judge gather "$work"/shards/*.parallel
result parallel | cmp - "$work/alone.json" && echo "the same moments, byte for byte"

# Slurm: one node, two slots, a job array. One worker was killed before its job goes on with the shard. (A job that Slurm puts
# back into its queue waits two minutes there: that is Slurm's time, not the worker's.)
host=$(hostname -s)
mkdir -p "$work/slurm/state" "$work/slurm/spool" /run/munge
[ -f /etc/munge/munge.key ] || dd if=/dev/urandom of=/etc/munge/munge.key bs=1 count=1024 status=none
chown -R munge: /etc/munge /run/munge /var/lib/munge /var/log/munge 2>/dev/null || true
chmod 400 /etc/munge/munge.key
chmod 755 /run/munge
if ! pgrep -x munged >/dev/null; then
    runuser -u munge -- munged
    pgrep -n -x munged >>"$work/pids"
fi
cat >"$work/slurm.conf" <<CONF
ClusterName=harrowmere
SlurmctldHost=$host
SlurmUser=root
SlurmdUser=root
AuthType=auth/munge
ProctrackType=proctrack/pgid
TaskPlugin=task/none
SelectType=select/cons_tres
SelectTypeParameters=CR_Core
SchedulerParameters=batch_sched_delay=0
StateSaveLocation=$work/slurm/state
SlurmdSpoolDir=$work/slurm/spool
SlurmctldPidFile=$work/slurm/ctld.pid
SlurmdPidFile=$work/slurm/d.pid
SlurmctldLogFile=$work/slurm/ctld.log
SlurmdLogFile=$work/slurm/d.log
ReturnToService=2
JobRequeue=1
NodeName=$host CPUs=2 State=UNKNOWN
PartitionName=all Nodes=$host Default=YES MaxTime=INFINITE State=UP
CONF
export SLURM_CONF=$work/slurm.conf
slurmctld -D >/dev/null 2>&1 &
echo $! >>"$work/pids"
slurmd -D >/dev/null 2>&1 &
echo $! >>"$work/pids"
for _ in $(seq 60); do
    sinfo -h -o %T 2>/dev/null | grep -q idle && break
    sleep 1
done
number=$(ls "$work"/shards/*.questions | wc -l)
cat >"$work/job.sh" <<JOB
#!/bin/bash
shard=\$(printf '$work/shards/shard-%04d' \$SLURM_ARRAY_TASK_ID)
exec $program --quiet judge answer \$shard.questions -o \$shard.\$1 --jobs 1
JOB
by_slurm() {
    job=$(sbatch --parsable --requeue --array=1-"$number" --ntasks=1 --cpus-per-task=1 -o "$work/slurm/%a.out" "$work/job.sh" "$1")
    while [ -n "$(squeue -h -j "$job" 2>/dev/null)" ]; do sleep 0.2; done
}
"$program" --quiet judge answer "$first" -o "${first%.questions}.slurm" --jobs 1 &
worker=$!
sleep 1
kill -KILL $worker 2>/dev/null || true
wait $worker 2>/dev/null || true
by_slurm slurm
echo "Slurm, two slots"
foreply --home "$work/slurm-home" games add "$games" --player 'Verrick, Ansa' >/dev/null
foreply --home "$work/slurm-home" judge gather "$work"/shards/*.slurm
result slurm-home | cmp - "$work/alone.json" && echo "the same moments, byte for byte"

timed() { # a way, the ending of its answers
    began=$(seconds)
    "$1" "$2"
    echo "$(since "$began")"
}
median() { sort -n "$1" | sed -n "$(((rounds + 1) / 2))p"; }
for round in $(seq "$rounds"); do
    for way in alone in_parallel by_slurm; do
        timed $way "$way-$round" | tee -a "$work/$way.seconds" | sed "s/^/$way: /; s/$/ s/"
    done
done
one=$(median "$work/alone.seconds")
for way in in_parallel by_slurm; do
    two=$(median "$work/$way.seconds")
    echo "$way: $two s, one worker $one s, $(echo "$one / $two" | bc -l | xargs printf '%.2f') times as fast"
done
