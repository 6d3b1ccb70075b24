#!/usr/bin/env python3
"""Turns what `tmux capture-pane -e -p` prints (standard input) into an SVG picture (standard output).

Usage: tmux capture-pane -e -p | ansi_to_svg.py [COLUMNS [dark|light]] > screen.svg
Knows the SGR attributes of ECMA-48 that a terminal program uses: bold, faint, underline, reverse, the 8, 16
and 256 colours and direct colours. In a light terminal letters and ground change places; what a program colours itself
keeps its colour."""

import re
import sys
import unicodedata
from html import escape

BASE = ["#1d1f21", "#b04a4a", "#5c8a5c", "#b08c4a", "#4f6f9f", "#8a5c8a", "#4f8f8f", "#c8c8c0",
        "#55585c", "#d07070", "#80b080", "#d8b870", "#7f9fcf", "#b080b0", "#80b8b8", "#f0f0e8"]
GROUNDS = {"dark": ("#1d1f21", "#c8c8c0"), "light": ("#fbfaf6", "#24292f")}
CELL_W, CELL_H, PAD = 8.4, 18, 10


# Blocks: where they begin in their row, and how much of it they fill.
BLOCKS = {"█": (0, 1), "▀": (0, .5), "▄": (.5, .5)}


def colour(n):
    if n < 16:
        return BASE[n]
    if n < 232:
        n -= 16
        level = lambda v: 0 if v == 0 else 55 + 40 * v
        return "#%02x%02x%02x" % (level(n // 36), level(n // 6 % 6), level(n % 6))
    return "#%02x%02x%02x" % ((8 + 10 * (n - 232),) * 3)


def attributes(codes, style):
    codes = [int(c or 0) for c in codes.split(";")] if codes else [0]
    while codes:
        c = codes.pop(0)
        if c == 0:
            style = dict(fg=None, bg=None, bold=False, faint=False, under=False, rev=False)
        elif c == 1: style["bold"] = True
        elif c == 2: style["faint"] = True
        elif c == 4: style["under"] = True
        elif c == 7: style["rev"] = True
        elif c == 22: style["bold"] = style["faint"] = False
        elif c == 24: style["under"] = False
        elif c == 27: style["rev"] = False
        elif 30 <= c <= 37: style["fg"] = BASE[c - 30]
        elif 90 <= c <= 97: style["fg"] = BASE[c - 82]
        elif 40 <= c <= 47: style["bg"] = BASE[c - 40]
        elif 100 <= c <= 107: style["bg"] = BASE[c - 92]
        elif c == 39: style["fg"] = None
        elif c == 49: style["bg"] = None
        elif c in (38, 48) and codes:
            key = "fg" if c == 38 else "bg"
            if codes[0] == 5 and len(codes) > 1:
                style[key] = colour(codes[1]); codes = codes[2:]
            elif codes[0] == 2 and len(codes) > 3:
                style[key] = "#%02x%02x%02x" % tuple(codes[1:4]); codes = codes[4:]
    return style


def width(c):
    return 2 if unicodedata.east_asian_width(c) in "WF" else 0 if unicodedata.combining(c) else 1


def main():
    lines = sys.stdin.read().rstrip("\n").split("\n")
    columns = int(sys.argv[1]) if len(sys.argv) > 1 else 80
    ground, ink = GROUNDS[sys.argv[2] if len(sys.argv) > 2 else "dark"]
    w, h = columns * CELL_W + 2 * PAD, len(lines) * CELL_H + 2 * PAD
    out = [f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {w:.0f} {h:.0f}" width="{w:.0f}" height="{h:.0f}">',
           f'<rect width="100%" height="100%" rx="6" fill="{ground}"/>',
           '<g font-family="DejaVu Sans Mono, Menlo, Consolas, monospace" font-size="14" xml:space="preserve">']
    style = attributes("", {})
    for row, line in enumerate(lines):
        column = 0
        for part in re.split(r"(\x1b\[[0-9;]*m)", line):
            if part.startswith("\x1b"):
                style = attributes(part[2:-1], style)
                continue
            for c in part:
                if width(c) == 0:
                    continue
                fg, bg = style["fg"] or ink, style["bg"]
                if style["rev"]:
                    fg, bg = bg or ground, fg
                x, y = PAD + column * CELL_W, PAD + row * CELL_H
                if bg:
                    out.append(f'<rect x="{x:.1f}" y="{y}" width="{CELL_W * width(c) + .3:.1f}" height="{CELL_H + .3}" fill="{bg}"/>')
                if c in BLOCKS:
                    # Drawn, so that blocks of two rows meet as they do in a terminal.
                    top, part_of = BLOCKS[c]
                    out.append(f'<rect x="{x:.1f}" y="{y + top * CELL_H:.1f}" width="{CELL_W + .3:.1f}" '
                               f'height="{part_of * CELL_H + .3:.1f}" fill="{fg}"/>')
                elif c != " ":
                    more = ' font-weight="bold"' if style["bold"] else ""
                    more += ' fill-opacity=".7"' if style["faint"] else ""
                    more += ' text-decoration="underline"' if style["under"] else ""
                    out.append(f'<text x="{x:.1f}" y="{y + 14}" fill="{fg}"{more}>{escape(c)}</text>')
                elif style["under"]:
                    out.append(f'<rect x="{x:.1f}" y="{y + 15}" width="{CELL_W}" height="1" fill="{fg}"/>')
                column += width(c)
    out.append("</g></svg>")
    print("\n".join(out))


main()
