//! The longer help of the commands: what a manual would say, behind `--help`.

/// What a review tells, and how it counts.
pub(super) const REVIEW: &str = "\
WHAT A REVIEW TELLS
  What held comes first, always. Then each place where your tree and the truth part, in the order of what it
  cost, one sentence and one question each:

  missed candidate           a move you did not write is clearly better than all you wrote
  wrong choice               you had the better move on your list, and why you passed it over
  feared too much            the reply you rejected it for does no harm
  missed threat              what he was threatening before you moved, and no line of yours meets it
  missed resource            on the way you had something better than the natural move
  missed defence             he has a reply you did not write
  missed counter-sacrifice   the same, and he gives something up for it
  seen, misjudged            you saw his best reply and judged it wrongly
  stopped short              your line ends one move before something happens
  misjudged                  nothing happens; the end is just not what you thought
  phantom move               a move that is not possible there, and since when
  bare candidate             you chose it without writing one reply

  A finding counts if it changes what your choice is worth by an eighth of a point or more, and only after it was
  searched again with four times the nodes (eight where two moves differ by little) and the line that proves it
  still keeps half of its promise on its last board (or eight times the nodes find what is worth three tenths; a
  repetition only if it cannot be left). Between two moves that leave the same side better it takes more, up to a
  quarter; a missed threat takes two tenths, and three where it is quiet and shows nothing; a line that stops before
  quiet moves which show nothing takes two tenths as well. What your choice plainly fails by is told first, while the
  rest of the tree is still compared. What is close, what does not touch your choice, and what is hard at the board
  (few would find it, or the engine itself finds no way in) is told apart and not counted. A review without a finding
  is common, and says so: your tree holds.

  A move has the name of its pattern (a double attack, a discovered attack or check, a double check, a deflection, an
  underpromotion, 'which overloads', 'which traps', 'which takes the opposition') where the board and the told line
  show it: of a double attack something is taken, of a trapped piece it is that piece.

  Last come your candidates side by side and your whole tree, move by move, with what each is worth in words.

  Worth is expected score, from 0 (lost) over .5 (level) to 1 (won). The same tree with the same engine gives the
  same review, byte for byte.

NOTES IN YOUR OWN GAMES
  Put what you saw at the board behind your moves, as variations, in any PGN editor:

    17. g4 (17. g4 hxg4 18. h5 $18 {The h-file opens.}) (17. Qg5 Qxc3 $15)

  Every move at which variations stand is reviewed. The game's move is your choice, the first move of each variation
  is a candidate (a variation that begins with the game's own move is what you calculated behind it), $10 to $21 are
  verdicts. A move that is not possible where you wrote it is never a reason to refuse the file: it is told as what
  it is. A game with a FEN tag is one written tree, its main line being the line of your choice. A comment on the
  choice's line that begins with 'At the end:' is held against the board there:
  {At the end: I am to move; material pawn up; then h4}.

  Findings are told as soon as they are sure. Notes are locked, with the time, before the engine first speaks of
  them: what you change after that is reviewed, but told as changed, and is not from memory. With --mine each tree
  becomes an attempt of yours, from memory; `foreply progress` counts those apart.

FOR A COACH WITH MANY STUDENTS
  A folder of their files (or one file of many games) becomes a table with --table, a row for each student, or a page
  for each file and an index.html that links them with --format html -o DIR; a file that cannot be read stops no other,
  and a run that was interrupted goes on. With --model FILE your own variations at the same positions are held against theirs. A page is one file
  without network: the tree first, what the engine says folded, boards to step through with the arrow keys.

EXAMPLES
  foreply review last
  foreply review game.pgn --mine
  foreply review last --answer 'Nxc3 Nxc3 Rxc3 Rxc3 Rxc3 Qb1+ Qf1'
  foreply review homework/ --model model.pgn
  foreply review homework/ --format html -o pages/

Exit codes: 0 done, 1 bad input, 2 wrong usage, 3 engine, 4 store.

For training only, never during a game in progress: the FIDE Laws of Chess (article 11.3) and the
fair-play rules of every event forbid it. A coach's judgement outranks an engine's number.";

pub(super) const GAMES: &str = "\
THE WAY OF A SEASON
  foreply games add season.pgn --player 'Verrick, Ansa'
  foreply games moments            judges every move and picks what is worth a sitting
  foreply                          offers those positions first
  foreply games clock              where the time went, and what became of your advantages
  foreply games openings           how you stood, and what time was left, when the opening was over
  foreply games plan               the pawn structures you keep meeting, and your plan for each

  `moments` says how many positions it has picked and why, but not which move: about one in four is a position where
  you thought well, so that being shown one tells nothing. --tell gives moves and reasons, for afterwards; -o FILE.yaml
  writes the drills. After the review of such a position `s` shows what you played in the game and how long you took.
  A game dated today without a result is not judged before you say that it is over (--over).

  `clock --format html -o time.html` draws it, with the numbers below. It ends with your advantages: of the games in
  which you stood at .70, .85 and .95 the points you took, the move at which the most was lost, and the trend by month.

  `openings` branches where your games do; for each branch it tells games, points, your expected score before the
  13th and the 21st move (of games that are judged) and the time you had used. -o FILE.yaml makes drills of the
  positions in which you stood worse or had taken much time, --branch 8 of all in one branch.

  `plan 1 --break 'f7-f6' --trade 'the bishop on c8'` writes on the card of a pawn structure that stood in two of your
  games or more; nobody marks these words, and a coach's stand beside yours (--coach WORDS --by NAME).

For training only, never during a game in progress: the FIDE Laws of Chess (article 11.3) and the
fair-play rules of every event forbid it. A coach's judgement outranks an engine's number.";

pub(super) const PROGRESS: &str = "\
WHAT IT TELLS
  The kinds of moves that you miss more often than your other moves of the same depth and kind, each with the moments
  it is made of; whether your verdicts are too hopeful or too gloomy; how deep your calculation held, week by week and
  by difficulty; how often you win from .70, .85 and .95 on, in play-outs and in your own games that were judged; how
  good your verdicts were against results; and the last four weeks against the twelve before. Every figure comes with
  its counts and its 95 % interval, and 'not enough yet' is a common answer.

  Expect a weakness of 20 points in a common kind of move to be named after 100 to 150 attempts, in a rare kind after
  300, one of 10 points perhaps never. So it was with invented players of four to nine moments an attempt
  (200 runs a row; named in so many of 100 runs; `foreply method` tells how every figure is made):

    missed more often                             after 50 attempts   100   200   400
    moves backward, by 10 points                                  9    18    45    56
    moves backward, by 20 points                                 45    72    99   100
    moves backward, by 30 points                                 83    98   100   100
    replies that give something up, by 20 points                  4    31    67    98
    no weakness: something is named after all                     7     7     7     7

  On the screens `b` in the history lists the same kinds of moves with their moments. The reasons you give for a miss
  (`w` in the review) are a list of your own: reword one (`e`) or take it off the list (`d`); attempts that you
  explained with it keep it.

  Failed positions come back, never before two days; positions of your own games not before two weeks after the game.
  One new position in four holds nothing special, so being shown one is no hint. Why a position was chosen is told
  after you have committed. On the eve of a game --eve brings three positions that you have solved and two habits in
  words, nothing new.

  What you calculate at speed is counted apart (`foreply quick --help`), and so is an experiment with your own practice
  (`foreply experiment --help`): while one goes on, its blocks are what is practised.

EXAMPLES
  foreply progress --format html -o progress.html
  foreply progress --sittings 3 --habit replies-that-give-up
  foreply progress --eve";

pub(super) const COACH: &str = "\
OUT AND BACK
  foreply coach send last --player 'Marrowby, Ilse' -o for-bram.pgn
  foreply coach take from-bram.pgn --by 'Bram Oskarn'
  foreply review last --format html -o review.html

  `send` writes your tree as a PGN file, one game per attempt: verdicts as glyphs, your words and times as comments,
  what PGN cannot hold as a move in comments. The coach needs no Foreply: he opens it in any PGN editor, adds lines,
  glyphs and words, and sends it back. `take` puts what is his beside your tree, never over it, and says what is new.
  Order, main line and line breaks do not matter; what is not clear is shown (!) and not guessed, a file of another
  game is refused. --with-review sends the findings too; without, the coach thinks first.

  On the screens `c` in the history writes the marked attempt to a file in the home folder for him, and with `K` he
  strikes a finding himself when he sits beside you (`coach rule` is the same without the screens). What he has struck
  counts in no figure, is told as his, and only he takes it back. 'Homework by 2026-12-05: what to do' in a comment makes
  the position after the move a task: it stands on the home screen, `practice --homework` opens it, and the next file
  that you send says of each whether it is done. A position without moves whose comment says 'Homework:' is a task too,
  and needs no attempt before it. Positions with solution go out as PGN and in with `foreply drills add for-tuesday.pgn`.

TO MANY, AND BACK AS ONE TABLE
  foreply coach hand-out autumn.pgn --by 'Bram Oskarn' --until 2026-12-05 -o for-students.pgn
  foreply coach table back/*.pgn --model autumn.pgn -o table.html
  foreply review back --format html -o pages                      a page for each file, and index.html that links them

  The coach's lines stay with him; the table says who saw which of them, what most missed first.
 Everything is a plain file, so a club can use mail, a chat or a
  shared folder; two people's stores never meet.";
