//! PGN into own games: which games are his, which are new, and what is wrong with the others.

use std::collections::HashMap;
use std::io::{self, Read};

use super::kept::{KeptGame, Player, uci_text};
use super::name::{self, Same};
use super::split::{Piece, Pieces};
use crate::tree::pgn::{self, Game, PgnError};

/// Games of one block in the store, and the most bytes of their texts.
const BLOCK_GAMES: usize = 200;
const BLOCK_BYTES: usize = 512 * 1024;
/// Most refusals and names that are remembered for the report; more are only counted.
const TOLD_MAX: usize = 200;
const NAMES_MAX: usize = 5000;

/// What a file gave.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Added {
    /// Games in the file.
    pub games: usize,
    /// New games of the player's.
    pub new: usize,
    /// Games that were there already.
    pub known: usize,
    /// Games that were there with less: fewer moves, no clock, no variations.
    pub better: usize,
    /// Games of other players.
    pub others: usize,
    /// Games without a move.
    pub empty: usize,
    /// Games refused, and the first of them with their reasons.
    pub refused: usize,
    pub refusals: Vec<PgnError>,
    /// New or better games with clocks, and with variations.
    pub with_clock: usize,
    pub with_notes: usize,
    /// Variations that were written with a move that is not legal, by the game's heading.
    pub phantoms: Vec<Phantom>,
    /// Names that may be the player's, with the number of their games.
    pub unsure: Vec<(String, usize)>,
    /// All names of the file, the most frequent first.
    pub names: Vec<(String, usize)>,
}

/// A move of a variation that is not legal where it stands. It is kept as it was written.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Phantom {
    pub line: usize,
    pub column: usize,
    pub game: usize,
    pub text: String,
    pub why: String,
}

/// Where a name is not sure: `Some(true)` takes it, `Some(false)` does not, `None` leaves it open.
pub type Decide<'a> = &'a mut dyn FnMut(&str) -> Option<bool>;

/// Takes games in.
pub struct Importer<'a> {
    player: Player,
    decide: Decide<'a>,
    /// What was answered for each name, as the file writes it.
    verdicts: HashMap<String, Same>,
    counts: HashMap<String, usize>,
    unsure: HashMap<String, usize>,
    known: Known,
    block: Vec<KeptGame>,
    block_bytes: usize,
    added: Added,
}

/// The games that are there, by their players.
#[derive(Debug, Default)]
struct Known {
    by_players: HashMap<String, Vec<usize>>,
    games: Vec<KnownGame>,
    ids: HashMap<String, usize>,
}

#[derive(Debug)]
struct KnownGame {
    id: String,
    date: String,
    moves: String,
    worth: usize,
}

impl<'a> Importer<'a> {
    /// For a player, with the games that are kept already.
    pub fn new(player: Player, kept: &[KeptGame], decide: Decide<'a>) -> Self {
        let mut known = Known::default();
        for kept in kept {
            if let Some(Ok(game)) = pgn::games(&kept.pgn).next() {
                known.put(players(&game), KnownGame::of(kept, &game));
            }
        }
        Self {
            player,
            decide,
            verdicts: HashMap::new(),
            counts: HashMap::new(),
            unsure: HashMap::new(),
            known,
            block: Vec::new(),
            block_bytes: 0,
            added: Added::default(),
        }
    }

    /// Reads a whole stream; `keep` gets the new games block by block, `progress` the bytes read.
    ///
    /// # Errors
    /// The stream cannot be read, or `keep` fails; what was kept before stays.
    pub fn read<E: From<io::Error>>(
        mut self,
        stream: impl Read,
        keep: &mut dyn FnMut(Vec<KeptGame>) -> Result<(), E>,
        progress: &mut dyn FnMut(u64),
    ) -> Result<(Added, Player), E> {
        let mut pieces = Pieces::new(stream);
        while let Some(piece) = pieces.next()? {
            self.piece(&piece);
            progress(pieces.bytes_read());
            if self.block.len() >= BLOCK_GAMES || self.block_bytes >= BLOCK_BYTES {
                self.block_bytes = 0;
                keep(std::mem::take(&mut self.block))?;
            }
        }
        if !self.block.is_empty() {
            keep(std::mem::take(&mut self.block))?;
        }
        Ok(self.done())
    }

    fn done(mut self) -> (Added, Player) {
        let sorted = |counts: HashMap<String, usize>| {
            let mut all: Vec<(String, usize)> = counts.into_iter().collect();
            all.sort_by(|a, b| b.1.cmp(&a.1).then_with(|| a.0.cmp(&b.0)));
            all
        };
        self.added.names = sorted(self.counts);
        self.added.unsure = sorted(self.unsure);
        (self.added, self.player)
    }

    /// The games of a piece: one, or several without tags.
    fn piece(&mut self, piece: &Piece) {
        let names = quick_names(&piece.bytes);
        let sides = [&names.0, &names.1].map(|n| match n {
            Some(name) => self.is_his(name),
            None => Same::No,
        });
        if sides == [Same::No, Same::No] && piece.fault.is_none() && one_game(&piece.bytes) {
            self.added.games += 1;
            self.added.others += 1;
            self.count(&names);
            return;
        }
        if let Some(fault) = &piece.fault {
            self.added.games += 1;
            self.count(&names);
            if sides == [Same::No, Same::No] {
                self.added.others += 1;
            } else {
                self.refuse(PgnError {
                    line: fault.line,
                    column: 1,
                    game: self.added.games,
                    token: String::new(),
                    why: fault.why.clone(),
                });
            }
            return;
        }
        self.read_games(piece);
    }

    fn read_games(&mut self, piece: &Piece) {
        let text = pgn::decode(&piece.bytes);
        let mut games = pgn::games(&text);
        let mut from = 0;
        while let Some(game) = games.next() {
            let to = games.offset();
            self.added.games += 1;
            match game {
                Ok(game) => {
                    let own = text.get(from..to).unwrap_or_default().trim();
                    self.game(&game, own, piece.line);
                }
                Err(error) => self.refuse(PgnError {
                    line: error.line + piece.line - 1,
                    game: self.added.games,
                    ..error
                }),
            }
            from = to;
        }
    }

    fn refuse(&mut self, error: PgnError) {
        self.added.refused += 1;
        if self.added.refusals.len() < TOLD_MAX {
            self.added.refusals.push(error);
        }
    }

    fn game(&mut self, game: &Game, text: &str, first_line: usize) {
        let [white, black] = ["White", "Black"].map(|t| game.tag(t).unwrap_or_default().to_owned());
        let sides = [&white, &black].map(|n| self.is_his(n));
        self.count(&(Some(white.clone()), Some(black.clone())));
        let is_white = match sides {
            [Same::Yes, Same::Yes] => {
                let why = tr!("both players have your name").to_owned();
                return self.refuse(self.error(game, first_line, why));
            }
            [Same::Yes, _] => true,
            [_, Same::Yes] => false,
            [Same::Perhaps, _] => return *self.unsure.entry(white).or_default() += 1,
            [_, Same::Perhaps] => return *self.unsure.entry(black).or_default() += 1,
            [Same::No, Same::No] => return self.added.others += 1,
        };
        if game.main_moves.is_empty() {
            self.added.empty += 1;
            return;
        }
        if game.from_fen && game.main_moves.len() < game.main.len() {
            let why = tr!("the main line goes on with a move that is not legal").to_owned();
            return self.refuse(self.error(game, first_line, why));
        }
        self.own(game, text, is_white, first_line);
    }

    fn error(&self, game: &Game, first_line: usize, why: String) -> PgnError {
        PgnError {
            line: first_line + game.line - 1,
            column: 1,
            game: self.added.games,
            token: String::new(),
            why,
        }
    }

    fn own(&mut self, game: &Game, text: &str, white: bool, first_line: usize) {
        let mut kept = KeptGame {
            id: String::new(),
            white,
            pgn: text.to_owned(),
            moves: uci_text(&game.main_moves),
        };
        let players = players(game);
        match self.known.find(&players, game, &kept.moves) {
            Some(old) if old.worth >= worth(game) => {
                self.added.known += 1;
                return;
            }
            Some(old) => {
                kept.id.clone_from(&old.id);
                self.added.better += 1;
            }
            None => {
                kept.id = self.known.fresh_id(game, &players, &kept.moves);
                self.added.new += 1;
            }
        }
        self.added.with_clock += usize::from(has_clock(game));
        self.added.with_notes += usize::from(game.moves.len() > game.main.len());
        self.tell_phantoms(game, first_line);
        self.known.put(players, KnownGame::of(&kept, game));
        self.block_bytes += kept.pgn.len() + kept.moves.len();
        self.block.push(kept);
    }

    fn tell_phantoms(&mut self, game: &Game, first_line: usize) {
        if game.moves.len() == game.main.len() {
            return;
        }
        for written in pgn::written_trees(game) {
            for (node, place) in written.tree.nodes().zip(&written.source) {
                let reason = match &node.1.reading {
                    crate::notation::Reading::Phantom(phantom) => phantom.reasons.first(),
                    _ => continue,
                };
                let Some(mv) = game.moves.get(*place) else {
                    continue;
                };
                if self.added.phantoms.len() < TOLD_MAX {
                    self.added.phantoms.push(Phantom {
                        line: mv.line + first_line - 1,
                        column: mv.column,
                        game: self.added.games,
                        text: mv.text.clone(),
                        why: reason.map_or(tr!("not legal there").to_owned(), ToString::to_string),
                    });
                }
            }
        }
    }

    /// Counts a game for its two names.
    fn count(&mut self, names: &(Option<String>, Option<String>)) {
        for name in [&names.0, &names.1].into_iter().flatten() {
            let room = self.counts.len() < NAMES_MAX || self.counts.contains_key(name);
            if room && !name.is_empty() && name != "?" {
                *self.counts.entry(name.clone()).or_default() += 1;
            }
        }
    }

    /// Whether a name is the player's; asks once where it is not sure.
    fn is_his(&mut self, name: &str) -> Same {
        if name.is_empty() || name == "?" {
            return Same::No;
        }
        if let Some(same) = self.verdicts.get(name) {
            return *same;
        }
        let same = self.judge_name(name);
        if self.verdicts.len() < NAMES_MAX {
            self.verdicts.insert(name.to_owned(), same);
        }
        same
    }

    fn judge_name(&mut self, name: &str) -> Same {
        let key = name::key(name);
        let is = |list: &[String]| list.iter().any(|n| name::key(n) == key);
        if is(&self.player.not) {
            return Same::No;
        }
        if is(&self.player.also) {
            return Same::Yes;
        }
        match name::same(&self.player.name, name) {
            Same::Perhaps => match (self.decide)(name) {
                Some(true) => {
                    self.player.also.push(name.to_owned());
                    Same::Yes
                }
                Some(false) => {
                    self.player.not.push(name.to_owned());
                    Same::No
                }
                None => Same::Perhaps,
            },
            sure => sure,
        }
    }
}

/// The names of a PGN stream with the number of their games, the most frequent first.
pub fn names_in(stream: impl Read) -> Vec<(String, usize)> {
    let mut decide = |_: &str| None;
    let importer = Importer::new(Player::default(), &[], &mut decide);
    let read = importer.read::<io::Error>(stream, &mut |_| Ok(()), &mut |_| {});
    read.map(|(added, _)| added.names).unwrap_or_default()
}

impl KnownGame {
    fn of(kept: &KeptGame, game: &Game) -> Self {
        Self {
            id: kept.id.clone(),
            date: game.tag("Date").unwrap_or_default().to_owned(),
            moves: kept.moves.clone(),
            worth: worth(game),
        }
    }
}

impl Known {
    fn put(&mut self, players: String, game: KnownGame) {
        if let Some(place) = self.ids.get(&game.id).copied() {
            if let Some(old) = self.games.get_mut(place) {
                *old = game;
            }
            return;
        }
        let place = self.games.len();
        self.ids.insert(game.id.clone(), place);
        self.by_players.entry(players).or_default().push(place);
        self.games.push(game);
    }

    /// The same game: the same players, no other date, and the moves of one begin the other's.
    fn find(&self, players: &str, game: &Game, moves: &str) -> Option<&KnownGame> {
        let date = game.tag("Date").unwrap_or_default();
        let places = self.by_players.get(players)?;
        places
            .iter()
            .filter_map(|p| self.games.get(*p))
            .find(|known| {
                dates_agree(&known.date, date)
                    && (begins(&known.moves, moves) || begins(moves, &known.moves))
            })
    }

    fn fresh_id(&self, game: &Game, players: &str, moves: &str) -> String {
        let digits: String = game
            .tag("Date")
            .unwrap_or_default()
            .chars()
            .filter(char::is_ascii_digit)
            .take(8)
            .collect();
        let date = if digits.len() == 8 {
            digits
        } else {
            "undated".to_owned()
        };
        let mut salt = 0u32;
        loop {
            let id = format!("{date}-{:06x}", hash(&format!("{salt} {players} {moves}")));
            if !self.ids.contains_key(&id) {
                return id;
            }
            salt += 1;
        }
    }
}

/// True where the moves of `short` are the first of `long`.
fn begins(short: &str, long: &str) -> bool {
    long.strip_prefix(short)
        .is_some_and(|rest| rest.is_empty() || rest.starts_with(' '))
}

/// True where no known part of one date contradicts the other.
fn dates_agree(a: &str, b: &str) -> bool {
    let mut parts = a.split('.').zip(b.split('.'));
    let open = |s: &str| s.is_empty() || s.contains('?');
    parts.all(|(a, b)| a == b || open(a) || open(b))
}

/// How much a text of a game says: moves (variations included), clocks, words and a result.
fn worth(game: &Game) -> usize {
    let clocks = game
        .moves
        .iter()
        .filter(|m| m.clock_ms.is_some() || m.elapsed_ms.is_some());
    let words: usize = game.moves.iter().map(|m| m.comment.len()).sum();
    let result = usize::from(super::kept::result(game).is_some());
    10 * (game.main_moves.len() * 10 + game.moves.len() + clocks.count() + result) + words.min(9)
}

fn has_clock(game: &Game) -> bool {
    game.moves
        .iter()
        .any(|m| m.clock_ms.is_some() || m.elapsed_ms.is_some())
}

fn players(game: &Game) -> String {
    let [white, black] = ["White", "Black"].map(|t| name::key(game.tag(t).unwrap_or_default()));
    format!("{white}|{black}")
}

/// 24 bits of FNV-1a of G. Fowler, L. C. Noll and K.-P. Vo (1991; numbers from memory).
fn hash(text: &str) -> u32 {
    let mut hash: u32 = 0x811c_9dc5;
    for byte in text.bytes() {
        hash = (hash ^ u32::from(byte)).wrapping_mul(0x0100_0193);
    }
    (hash >> 24) ^ (hash & 0x00ff_ffff)
}

/// The values of the tags White and Black, found without reading the game.
fn quick_names(bytes: &[u8]) -> (Option<String>, Option<String>) {
    (
        quick_tag(bytes, b"[White \""),
        quick_tag(bytes, b"[Black \""),
    )
}

/// The value of a tag that begins a line.
fn quick_tag(bytes: &[u8], start: &[u8]) -> Option<String> {
    let lines = bytes.split(|b| *b == b'\n' || *b == b'\r');
    let tags = lines.take_while(|l| {
        let l = l.trim_ascii();
        l.is_empty() || l.starts_with(b"[") || l.starts_with(b"%") || l.starts_with(b"\xEF\xBB\xBF")
    });
    let line = tags
        .map(|l| l.strip_prefix(b"\xEF\xBB\xBF").unwrap_or(l).trim_ascii())
        .find_map(|l| l.strip_prefix(start))?;
    let end = line.iter().rposition(|b| *b == b'"')?;
    let value = pgn::decode(line.get(..end)?).into_owned();
    Some(value.replace("\\\"", "\"").replace("\\\\", "\\"))
}

/// True where the piece cannot hold more than one game: it has its own names, and no second one hides
/// behind its movetext on the same line.
fn one_game(bytes: &[u8]) -> bool {
    let whites = bytes.split(|b| *b == b'[');
    let whites = whites.filter(|behind| behind.starts_with(b"White \""));
    bytes.starts_with(b"[") && whites.count() == 1
}
