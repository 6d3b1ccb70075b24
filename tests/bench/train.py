#!/usr/bin/env python3
"""Trains the evaluation network on packed self-play records and writes it in whole numbers.

    train.py --train FILE... --holdout FILE... --out DIR [--run NAME:OPTION=VALUE,...]...

A run's NAME.bin in DIR is a file in the form of `src/engine/evaluation/learned/net.bin`, which `net.rs` beside
that describes. The options of a run, all with defaults:

    width=256     units of the hidden layer
    share=0.1     weight of the game's result in the target, beside that of the search's score
    passes=10     how often all positions are seen
    rate=0.001    greatest rate of learning; it falls to a hundredth of that as a cosine
    batch=16384   positions a step
    part=1.0      share of the training positions that is used
    decay=0.0     of the weights
    start=FILE    begin with the weights of this net, not with random ones
    seed=1        of the random numbers

Records are the 28-byte ones of `foreply engine selfplay` (`src/engine/record.rs`); only quiet ones are used. The
target is share * points + (1 - share) * logistic(score / 200), and the net's output times 200 is centipawns.
PyTorch, on a GPU if there is one: 4 s for a pass over 33 million positions there, about an hour on a processor.

Inputs and layers: see `src/engine/evaluation/learned/mod.rs`. Steps after D. Kingma and J. Ba, "Adam", ICLR 2015;
decay after I. Loshchilov and F. Hutter, "Decoupled Weight Decay Regularization", ICLR 2019; the rate after the same,
"SGDR", ICLR 2017. Weights are clipped, so that the whole numbers fit 16 bits.
"""

import argparse
import math
import os
import struct
import sys
import time

import numpy as np
import torch
import torch.nn.functional as F

RECORD = 28
UNIT = 200.0  # centipawns that multiply the odds by e
FEATURES = 768
PADDED = 776  # slot 768 is the missing man; a multiple of 8 keeps the products fast
GROUPS = 8
QA, QB = 255, 64
DE_BRUIJN = 0x03F79D71B4CB0A89

DEVICE = torch.device("cuda" if torch.cuda.is_available() else "cpu")


def say(text):
    print(text, flush=True)


# ---------------------------------------------------------------- records


def de_bruijn_table():
    table = np.zeros(64, dtype=np.int64)
    for i in range(64):
        table[((DE_BRUIJN << i) & (2**64 - 1)) >> 58] = i
    return torch.from_numpy(table).to(DEVICE)


def decode(raw, table):
    """Both sides' features of whole-board records, the side to move first: int16 [n][2][32]."""
    n = raw.shape[0]
    occupied = raw[:, :8].contiguous().view(torch.int64).squeeze(1)
    nibbles = torch.stack([raw[:, 8:24] & 15, raw[:, 8:24] >> 4], 2).reshape(n, 32)
    men = torch.full((n, 32), FEATURES, dtype=torch.int16, device=raw.device)
    left = occupied.clone()
    for slot in range(32):
        low = left & -left
        square = table[((low * DE_BRUIJN) >> 58) & 63]
        man = nibbles[:, slot].long()
        feature = (man >> 3) * 384 + (man & 7) * 64 + square
        men[:, slot] = torch.where(low != 0, feature, FEATURES).to(torch.int16)
        left = left ^ low
    count = (men < FEATURES).sum(1)
    turn = (raw[:, 26] & 1).bool()
    # Black's view: colours change places, ranks are turned round.
    white = men
    black = torch.where(men < 384, men + 384, men - 384) ^ 56
    black = torch.where(men < FEATURES, black, men)
    views = []
    for view in (white, black):
        own_king = (view >= 320) & (view < 384)
        king = torch.where(own_king, view, torch.zeros_like(view)).sum(1) - 320
        mirrored = (king & 4) != 0
        views.append(torch.where(mirrored[:, None] & (view < FEATURES), view ^ 7, view))
    first = torch.where(turn[:, None], views[1], views[0])
    second = torch.where(turn[:, None], views[0], views[1])
    return torch.stack([first, second], 1), count, turn


class Records:
    """The quiet positions of some files, decoded, on the device. Everything for the side to move."""

    def __init__(self, paths):
        table = de_bruijn_table()
        parts = []
        base = 0
        for path in paths:
            data = np.fromfile(path, dtype=np.uint8)
            data = data[: len(data) // RECORD * RECORD].reshape(-1, RECORD)
            ends = data[:, :8].view(np.uint64).squeeze(1) == 0
            game = np.cumsum(ends) - ends + base
            base = int(game[-1]) + 1 if len(game) else base
            keep = ~ends & ((data[:, 27] & 1) == 0)
            quiet, game = data[keep], game[keep]
            say(f"{path}: {len(data)} records, {int(ends.sum())} games, {len(quiet)} quiet positions")
            for at in range(0, len(quiet), 4_000_000):
                to = at + 4_000_000
                raw = torch.from_numpy(quiet[at:to]).to(DEVICE)
                features, count, turn = decode(raw, table)
                score = raw[:, 24:26].contiguous().view(torch.int16).squeeze(1).float()
                points = (raw[:, 26] >> 1 & 3).float() / 2
                sign = 1 - 2 * turn.float()
                parts.append(
                    (
                        features,
                        ((count - 2) // 4).to(torch.uint8),
                        score * sign,
                        torch.where(turn, 1 - points, points),
                        torch.from_numpy(game[at:to].astype(np.int32)).to(DEVICE),
                    )
                )
        columns = [torch.cat(c) for c in zip(*parts)]
        self.features, self.group, self.score, self.points, self.game = columns

    def __len__(self):
        return len(self.score)

    def target(self, share, at=slice(None)):
        return share * self.points[at] + (1 - share) * torch.sigmoid(self.score[at] / UNIT)


# ---------------------------------------------------------------- network


class Net(torch.nn.Module):
    def __init__(self, width):
        super().__init__()
        self.width = width
        span = 1 / math.sqrt(32)
        self.input = torch.nn.Parameter(torch.empty(FEATURES, width).uniform_(-span, span))
        self.bias = torch.nn.Parameter(torch.zeros(width) + 0.1)
        span = 1 / math.sqrt(2 * width)
        self.output = torch.nn.Parameter(torch.empty(GROUPS, 2 * width).uniform_(-span, span))
        self.output_bias = torch.nn.Parameter(torch.zeros(GROUPS))

    @torch.no_grad()
    def start_from(self, path):
        """Takes over the weights of a written net."""
        data = open(path, "rb").read()
        magic, width, kings, groups, act = struct.unpack("<8s4H", data[:16])
        if (magic, width, kings, groups, act) != (b"FORENET1", self.width, 1, GROUPS, 1):
            sys.exit(f"{path}: not a net of {self.width} units; name another file, or give its width")
        at = 88
        for to, kind, one in (
            (self.input, "<i2", QA),
            (self.bias, "<i2", QA),
            (self.output, "<i2", QB),
            (self.output_bias, "<i4", QA * QB),
        ):
            count = to.numel()
            whole = np.frombuffer(data, dtype=kind, count=count, offset=at).astype(np.float32) / one
            to.copy_(torch.from_numpy(whole).reshape(to.shape))
            at += count * np.dtype(kind).itemsize

    def dense(self, records, at, dtype=torch.float32):
        """Rows of ones and zeros: first the sides to move, then the others."""
        features = records.features[at].long().transpose(0, 1).reshape(-1, 32)
        x = torch.zeros(features.shape[0], PADDED, dtype=dtype, device=features.device)
        return x.scatter_(1, features, 1.0)

    def forward(self, records, at):
        x = self.dense(records, at)
        h = (x @ F.pad(self.input, (0, 0, 0, PADDED - FEATURES)) + self.bias).clamp(0, 1)
        h = h * h
        n = h.shape[0] // 2
        out = torch.cat([h[:n], h[n:]], 1) @ self.output.t() + self.output_bias
        return out.gather(1, records.group[at].long()[:, None]).squeeze(1)

    @torch.no_grad()
    def clip(self):
        self.input.clamp_(-1.98, 1.98)
        self.output.clamp_(-1.98, 1.98)


class Quantised:
    """The same in whole numbers, as the engine computes it (in double precision: exact)."""

    @torch.no_grad()
    def __init__(self, net):
        self.net = net
        self.input = (net.input * QA).round()
        self.bias = (net.bias * QA).round()
        self.output = (net.output * QB).round()
        self.output_bias = (net.output_bias * QA * QB).round()
        worst = self.output.abs().sum(1).max().item() * QA * QA
        say(f"  largest weights: in {self.input.abs().max().item():.0f}, out "
            f"{self.output.abs().max().item():.0f}; output sums at most {worst:.3g} (i32 holds 2.1e9)")

    @torch.no_grad()
    def evaluate(self, records, at):
        x = self.net.dense(records, at, torch.float64)
        whole = F.pad(self.input, (0, 0, 0, PADDED - FEATURES)).double()
        acc = (x @ whole + self.bias.double()).clamp(0, QA)
        h = acc * acc
        n = h.shape[0] // 2
        out = torch.cat([h[:n], h[n:]], 1) @ self.output.double().t()
        group = records.group[at].long()
        out = torch.trunc(out.gather(1, group[:, None]).squeeze(1) / QA)
        out = out + self.output_bias[group].double()
        return torch.trunc(out * UNIT / (QA * QB)) / UNIT

    def write(self, path):
        cpu = lambda t, kind: t.cpu().numpy().astype(kind).tobytes()
        with open(path, "wb") as f:
            f.write(b"FORENET1")
            f.write(struct.pack("<4H", self.net.width, 1, GROUPS, 1))
            f.write(struct.pack("<4h", QA, QB, int(UNIT), 0))
            f.write(bytes(64))
            f.write(cpu(self.input, "<i2"))
            f.write(cpu(self.bias, "<i2"))
            f.write(cpu(self.output, "<i2"))
            f.write(cpu(self.output_bias, "<i4"))


# ---------------------------------------------------------------- measuring


def cross_entropy(logit, target):
    return F.softplus(logit) - target * logit


def fit_scale(logit, target):
    """The factor on `logit` with the least loss, by golden section on its logarithm."""
    low, high = math.log(0.2), math.log(5.0)
    g = (math.sqrt(5) - 1) / 2
    loss = lambda x: cross_entropy(logit * math.exp(x), target).mean().item()
    a, b = high - g * (high - low), low + g * (high - low)
    la, lb = loss(a), loss(b)
    while high - low > 1e-4:
        if la < lb:
            high, b, lb = b, a, la
            a = high - g * (high - low)
            la = loss(a)
        else:
            low, a, la = a, b, lb
            b = low + g * (high - low)
            lb = loss(b)
    return math.exp((low + high) / 2)


def losses(logit, records, shares=(0.7, 1.0, 0.0)):
    """For each share of the result in the target: factor, mean loss, losses."""
    answer = []
    for share in shares:
        target = records.target(share).double()
        factor = fit_scale(logit.double(), target)
        each = cross_entropy(logit.double() * factor, target)
        answer.append((factor, each.mean().item(), each))
    return answer


def report(name, logit, records, base=None):
    """Prints losses; against `base` the paired difference with its standard error over games."""
    found = losses(logit, records)
    text = f"{name:28} " + "  ".join(f"{l:.5f} (x{f:.2f})" for f, l, _ in found)
    if base is not None:
        games = int(records.game.max()) + 1
        for (_, _, each), (_, _, other) in list(zip(found, base))[:1]:
            difference = each - other
            mean = difference.mean().item()
            sums = torch.zeros(games, dtype=torch.float64, device=DEVICE)
            sums.index_add_(0, records.game.long(), difference - mean)
            error = sums.pow(2).sum().sqrt().item() / len(difference)
            text += f"  against the first {mean:+.5f} +- {error:.5f}"
    say(text)
    return found


def outputs(function, records, batch=16384):
    parts = []
    with torch.no_grad():
        for at in range(0, len(records), batch):
            parts.append(function(records, slice(at, at + batch)))
    return torch.cat(parts)


# ---------------------------------------------------------------- training


def train(name, options, data, holdout, base, out):
    known = dict(width=256, share=0.1, passes=10, rate=1e-3, batch=16384, part=1.0, decay=0.0, start="", seed=1)
    for key in options:
        if key not in known:
            raise ValueError(f"no option {key}; there are {', '.join(known)}")
    take = lambda key: type(known[key])(options.get(key, known[key]))
    passes, rate, batch, share = take("passes"), take("rate"), take("batch"), take("share")
    torch.manual_seed(take("seed"))
    say(f"run {name}: " + ", ".join(f"{key} {take(key)}" for key in known))
    started = time.time()
    net = Net(take("width")).to(DEVICE)
    if take("start"):
        net.start_from(take("start"))
    quick = {"fused": True} if DEVICE.type == "cuda" else {}
    adam = torch.optim.AdamW(net.parameters(), lr=rate, weight_decay=take("decay"), **quick)
    count = int(len(data) * take("part"))
    batch = min(batch, count)
    batches = count // batch
    steps, step = batches * passes, 0
    for number in range(passes):
        order = torch.randperm(count, device=DEVICE)
        total = torch.zeros((), device=DEVICE)
        for i in range(batches):
            for group in adam.param_groups:
                group["lr"] = rate * (0.01 + 0.99 * 0.5 * (1 + math.cos(math.pi * step / steps)))
            at = order[i * batch : (i + 1) * batch]
            loss = cross_entropy(net(data, at), data.target(share, at)).mean()
            adam.zero_grad(set_to_none=True)
            loss.backward()
            adam.step()
            net.clip()
            total += loss.detach()
            step += 1
        if number % max(1, passes // 5) == 0 or number == passes - 1:
            logit = outputs(net, holdout)
            held = losses(logit, holdout, (0.7, 0.0))
            say(f"  pass {number + 1}: training {total.item() / max(1, batches):.5f}  held out "
                f"{held[0][1]:.5f}, against the score alone {held[1][1]:.5f}  {time.time() - started:.0f} s")
    report(f"{name} float", outputs(net, holdout), holdout, base)
    quantised = Quantised(net)
    found = report(f"{name} quantised", outputs(quantised.evaluate, holdout, 8192), holdout, base)
    quantised.write(os.path.join(out, f"{name}.bin"))
    return found


def main():
    parser = argparse.ArgumentParser(
        description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter
    )
    parser.add_argument("--train", nargs="+", required=True, metavar="FILE")
    parser.add_argument("--holdout", nargs="+", required=True, metavar="FILE")
    parser.add_argument("--out", required=True, metavar="DIR", help="for NAME.bin of each run")
    parser.add_argument("--run", action="append", metavar="NAME:OPTION=VALUE,...")
    parser.add_argument("--seconds", type=float, default=math.inf, help="begin no run after this")
    args = parser.parse_args()
    started = time.time()
    torch.set_float32_matmul_precision("high")
    os.makedirs(args.out, exist_ok=True)
    holdout = Records(args.holdout)
    say("held-out losses against .7 result + .3 score, result alone, score alone; each with its own scale;")
    say("differences between nets with their standard error over games")
    report("score of the search", holdout.score / UNIT, holdout)
    data = Records(args.train)
    say(f"{len(data)} quiet positions, {time.time() - started:.0f} s")
    base = None
    for run in args.run or ["net:"]:
        if time.time() - started > args.seconds:
            say(f"no time for {run}")
            continue
        name, _, text = run.partition(":")
        options = dict(pair.split("=", 1) for pair in text.split(",") if pair)
        try:
            found = train(name, options, data, holdout, base, args.out)
            base = base or found
        except Exception as error:  # One run that fails must not cost the others.
            say(f"run {name} failed: {error!r}")


if __name__ == "__main__":
    sys.exit(main())
