//! Games from text, one by one.

use shakmaty::{Chess, Position};

use super::comment::{self, Said};
use super::lexer::{Fault, Lexer, Token};
use super::{Chosen, Game, GameMove, MOVES_MAX, NESTING_MAX, PgnError};
use crate::board::{
    Line,
    line::{read_fen, san},
};
use crate::notation::{self, Reading, Shape};
use crate::text::FIELD_MAX;
use crate::tree::{DEPTH_MAX, Verdict};

/// The games of a text; see [`super::games`].
#[derive(Debug)]
pub struct Games<'a> {
    lexer: Lexer<'a>,
    number: usize,
    literal: bool,
}

impl<'a> Games<'a> {
    pub(super) fn new(text: &'a str) -> Self {
        Self {
            lexer: Lexer::new(text),
            number: 0,
            literal: false,
        }
    }

    pub(super) fn literal(text: &'a str) -> Self {
        Self {
            literal: true,
            ..Self::new(text)
        }
    }

    /// Byte of the text up to which has been read: where the next game begins, blanks before it.
    #[must_use]
    pub fn offset(&self) -> usize {
        self.lexer.at
    }
}

impl Iterator for Games<'_> {
    type Item = Result<Game, PgnError>;

    fn next(&mut self) -> Option<Self::Item> {
        self.number += 1;
        match game(&mut self.lexer, self.number, self.literal) {
            Ok(game) => game.map(Ok),
            Err(fault) => {
                let (line, column) = self.lexer.place(fault.at);
                self.lexer.resync();
                Some(Err(PgnError {
                    line,
                    column,
                    game: self.number,
                    token: notation::shown(&fault.token),
                    why: fault.why,
                }))
            }
        }
    }
}

/// The next game; `None` where nothing but blanks is left.
fn game(lexer: &mut Lexer, number: usize, literal: bool) -> Result<Option<Game>, Fault> {
    lexer.blanks();
    let (line, _) = lexer.place(lexer.at);
    let mut tags = Vec::new();
    let mut fen = None;
    while lexer.at_tag() {
        let at = lexer.at;
        let (name, value) = lexer.tag()?;
        if name == "FEN" {
            let pos = read_fen(&value).map_err(|e| Fault::new(at, "FEN", e.to_string()))?;
            fen = Some(pos);
        }
        tags.push((name, value));
        lexer.blanks();
    }
    let from_fen = fen.is_some();
    let mut reader = Reader::new(fen.unwrap_or_default(), !from_fen, lexer);
    reader.literal = literal;
    let seen = reader.movetext()?;
    if tags.is_empty() && !seen {
        return Ok(None);
    }
    Ok(Some(Game {
        number,
        line,
        tags,
        start: reader.start,
        from_fen,
        comment: reader.comment,
        moves: reader.moves,
        main: reader.main,
        main_moves: reader.main_moves,
        choice: reader.choice,
        result: reader.result,
    }))
}

struct Reader<'l, 'a> {
    lexer: &'l mut Lexer<'a>,
    start: Chess,
    /// The position reached by the main line, as long as its moves are legal.
    main_pos: Option<Chess>,
    /// An ordinary game: a move of the main line that is not legal is an error.
    strict: bool,
    moves: Vec<GameMove>,
    main: Vec<usize>,
    main_moves: Vec<shakmaty::Move>,
    comment: String,
    /// The move that was read last on this level, which the next one answers.
    last: Option<usize>,
    /// True between the opening of a variation and its first move.
    fresh: bool,
    /// Words between the opening of a variation and its first move.
    before: String,
    /// Moves on the written line up to each move: none for the moves of an ordinary game.
    depth: Vec<usize>,
    /// For each open variation: the move it is an alternative to, and the line and column where it
    /// was opened.
    open: Vec<(usize, (usize, usize))>,
    choice: Chosen,
    result: Option<String>,
    /// Movetext inside a comment: percentages stand as words, comments are nothing but words, and no
    /// position is asked.
    plain: bool,
    /// Comments and glyphs are kept as they stand, one line for each comment.
    literal: bool,
}

impl<'l, 'a> Reader<'l, 'a> {
    fn new(start: Chess, strict: bool, lexer: &'l mut Lexer<'a>) -> Self {
        Self {
            lexer,
            main_pos: Some(start.clone()),
            start,
            strict,
            moves: Vec::new(),
            main: Vec::new(),
            main_moves: Vec::new(),
            comment: String::new(),
            last: None,
            fresh: false,
            before: String::new(),
            depth: Vec::new(),
            open: Vec::new(),
            choice: Chosen::Main,
            result: None,
            plain: false,
            literal: false,
        }
    }

    /// For moves that are not legal.
    fn plain(lexer: &'l mut Lexer<'a>) -> Self {
        Self {
            plain: true,
            main_pos: None,
            ..Self::new(Chess::default(), false, lexer)
        }
    }

    /// Reads to the termination marker, the next tag pair or the end of the text. True where there
    /// was any token.
    fn movetext(&mut self) -> Result<bool, Fault> {
        let mut seen = false;
        while let Some((token, at)) = self.lexer.next()? {
            seen = true;
            match token {
                Token::Open => self.open(at)?,
                Token::Close => self.close(at)?,
                Token::Comment(text) => self.commented(text, at)?,
                Token::Nag(nag) => self.nag(nag),
                Token::Result(result) if self.open.is_empty() => {
                    self.result = Some(result.to_owned());
                    break;
                }
                Token::Result(_) => {}
                Token::Word(word) => self.word(word, at)?,
            }
        }
        match self.open.last() {
            Some((_, (line, column))) => {
                let why = tr!("the variation of line {line}, column {column} is not closed");
                Err(Fault::new(self.lexer.at, "(", why))
            }
            None => Ok(seen),
        }
    }

    fn open(&mut self, at: usize) -> Result<(), Fault> {
        let alternative = self.last.filter(|_| !self.fresh);
        let Some(to) = alternative else {
            let why = tr!("a variation stands behind the move it is an alternative to");
            return Err(Fault::new(at, "(", why));
        };
        if self.open.len() >= NESTING_MAX {
            let why = tr!("variations are nested at most {NESTING_MAX} deep");
            return Err(Fault::new(at, "(", why));
        }
        self.open.push((to, self.lexer.place(at)));
        self.last = self.moves.get(to).and_then(|m| m.parent);
        self.fresh = true;
        Ok(())
    }

    fn close(&mut self, at: usize) -> Result<(), Fault> {
        let Some((to, _)) = self.open.pop() else {
            return Err(Fault::new(at, ")", tr!("no variation is open here")));
        };
        self.last = Some(to);
        self.fresh = false;
        // Words of a variation without a move still are words on the move before it.
        let words = std::mem::take(&mut self.before);
        self.say(&words, at)
    }

    fn commented(&mut self, text: &str, at: usize) -> Result<(), Fault> {
        if self.plain {
            return self.say(text, at);
        }
        if self.literal {
            let words: Vec<&str> = text.split_whitespace().collect();
            return self.say(&words.join(" "), at);
        }
        let (clock, said) = comment::read(text);
        if let Some(mv) = self.here().filter(|_| clock.is_some()) {
            mv.clock_ms = mv.clock_ms.or(clock);
        }
        let elapsed = comment::elapsed_ms(text);
        if let Some(mv) = self.here().filter(|_| elapsed.is_some()) {
            mv.elapsed_ms = mv.elapsed_ms.or(elapsed);
        }
        match said {
            Said::Words(words) => self.say(&words, at),
            Said::Percent(verdict) => {
                if let Some(mv) = self.here() {
                    mv.verdict = Some(verdict);
                }
                Ok(())
            }
            Said::NoChoice if self.moves.is_empty() => {
                self.choice = Chosen::Nothing;
                Ok(())
            }
            Said::NoChoice => self.say(comment::NO_CHOICE, at),
            Said::NotLegal { movetext, chosen } => self.aside(&movetext, chosen, text, at),
        }
    }

    /// The move that a comment or glyph is about; `None` before the first of a game or variation.
    fn here(&mut self) -> Option<&mut GameMove> {
        let last = self.last.filter(|_| !self.fresh)?;
        self.moves.get_mut(last)
    }

    fn say(&mut self, words: &str, at: usize) -> Result<(), Fault> {
        let said = if self.fresh {
            &mut self.before
        } else {
            match self.last.and_then(|l| self.moves.get_mut(l)) {
                Some(mv) => &mut mv.comment,
                None => &mut self.comment,
            }
        };
        if !said.is_empty() && !words.is_empty() {
            said.push(if self.literal { '\n' } else { ' ' });
        }
        said.push_str(words);
        if said.len() > FIELD_MAX {
            let why = tr!("the words on one move are longer than {FIELD_MAX} bytes");
            return Err(Fault::new(at, words, why));
        }
        Ok(())
    }

    /// Moves that are not legal, written as a comment; where they cannot be read, it was one.
    fn aside(&mut self, movetext: &str, chosen: bool, text: &str, at: usize) -> Result<(), Fault> {
        let mut lexer = Lexer::inside_comment(movetext);
        let mut inner = Reader::plain(&mut lexer);
        let read = !self.fresh && inner.movetext().is_ok() && inner.lexer.at_end();
        let (moves, inner_depth) = (inner.moves, inner.depth);
        if !read || moves.is_empty() {
            let words: Vec<&str> = text.split_whitespace().collect();
            return self.say(&words.join(" "), at);
        }
        self.room_for(moves.len(), at, movetext)?;
        let (line, column) = self.lexer.place(at);
        let first = self.moves.len();
        let above = self.depth_below(self.last);
        let deepest = inner_depth.iter().max().copied().unwrap_or(0);
        self.check_depth(above + deepest, at, movetext)?;
        self.depth.extend(inner_depth.iter().map(|d| d + above));
        if chosen && self.last.is_none() {
            self.choice = Chosen::Aside(first);
        }
        let parent = self.last;
        self.moves.extend(moves.into_iter().map(|mv| GameMove {
            parent: mv.parent.map(|p| p + first).or(parent),
            comment: comment::unescaped(&mv.comment),
            line,
            column,
            ..mv
        }));
        Ok(())
    }

    fn room_for(&self, more: usize, at: usize, token: &str) -> Result<(), Fault> {
        if self.moves.len() + more > MOVES_MAX {
            let why = tr!("a game holds at most {MOVES_MAX} moves, variations included");
            return Err(Fault::new(at, token, why));
        }
        Ok(())
    }

    fn depth_below(&self, parent: Option<usize>) -> usize {
        parent.and_then(|p| self.depth.get(p).copied()).unwrap_or(0)
    }

    fn check_depth(&self, depth: usize, at: usize, token: &str) -> Result<(), Fault> {
        if depth > DEPTH_MAX {
            let why = tr!("a written line holds at most {DEPTH_MAX} half-moves");
            return Err(Fault::new(at, token, why));
        }
        Ok(())
    }

    fn nag(&mut self, nag: u8) {
        let literal = self.literal;
        let Some(mv) = self.here() else {
            return;
        };
        match Verdict::from_nag(nag).filter(|_| !literal) {
            Some(verdict) => mv.verdict = Some(verdict),
            None if !mv.nags.contains(&nag) && nag != 0 => mv.nags.push(nag),
            None => {}
        }
    }

    fn word(&mut self, word: &str, at: usize) -> Result<(), Fault> {
        let text = word.trim_end_matches(['!', '?', '‼', '⁇', '⁈', '⁉']);
        let suffix = word.get(text.len()..).unwrap_or_default();
        if text.is_empty() {
            self.suffix(suffix);
            return Ok(());
        }
        let sign = self.plain || !text.ends_with('%');
        if sign
            && let Ok(verdict) = Verdict::parse(text)
            && let Some(mv) = self.here()
        {
            mv.verdict = Some(verdict);
            return Ok(());
        }
        let token = notation::parse(text).map_err(|e| Fault::new(at, word, e.why))?;
        self.room_for(1, at, word)?;
        let (line, column) = self.lexer.place(at);
        let place = self.moves.len();
        let mut depth = self.depth_below(self.last) + 1;
        if self.open.is_empty() && !self.plain {
            self.main_move(&token, place, word, at)?;
            depth = if self.strict { 0 } else { depth };
        }
        self.check_depth(depth, at, word)?;
        self.depth.push(depth);
        self.moves.push(GameMove {
            text: text.to_owned(),
            verdict: None,
            nags: Vec::new(),
            comment: std::mem::take(&mut self.before),
            clock_ms: None,
            elapsed_ms: None,
            line,
            column,
            parent: self.last,
        });
        self.last = Some(place);
        self.fresh = false;
        self.suffix(suffix);
        Ok(())
    }

    /// Suffix annotations as glyphs (section 8.2.3.8); other runs of `!` and `?` have none.
    fn suffix(&mut self, suffix: &str) {
        let nag = match suffix {
            "!" => 1,
            "?" => 2,
            "!!" | "‼" => 3,
            "??" | "⁇" => 4,
            "!?" | "⁉" => 5,
            "?!" | "⁈" => 6,
            _ => return,
        };
        self.nag(nag);
    }

    /// Plays a move of the main line.
    fn main_move(
        &mut self,
        token: &notation::Token,
        place: usize,
        word: &str,
        at: usize,
    ) -> Result<(), Fault> {
        self.main.push(place);
        let Some(pos) = &mut self.main_pos else {
            return Ok(());
        };
        match notation::meanings(token, pos).as_slice() {
            [mv] => {
                pos.play_unchecked(mv);
                self.main_moves.push(mv.clone());
                Ok(())
            }
            _ if self.strict => {
                // Reasons of a game's own move need no history beyond the position.
                let reading = notation::resolve(token, &Line::new(pos.clone()));
                Err(Fault::new(at, word, not_played(&reading, token, pos)))
            }
            _ => {
                self.main_pos = None;
                Ok(())
            }
        }
    }
}

/// Why a text is no move of a game that was played.
fn not_played(reading: &Reading, token: &notation::Token, pos: &Chess) -> String {
    match reading {
        Reading::Phantom(phantom) => match phantom.reasons.first() {
            Some(reason) => tr!("not legal here: {reason}"),
            None => tr!("not legal here").to_owned(),
        },
        Reading::Ambiguous(moves) => {
            let moves: Vec<String> = moves.iter().map(|m| san(pos, m)).collect();
            tr!("can mean {}", crate::text::list(&moves))
        }
        _ if token.shape == Shape::Pass => tr!("nobody passes in a game").to_owned(),
        _ => tr!("not legal here").to_owned(),
    }
}
