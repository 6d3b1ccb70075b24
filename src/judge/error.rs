//! What can go wrong with an engine: one message each, what happened and what to do.

/// The engine failed, also after it was ended and started once more. One message that says what
/// happened and what to do.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum JudgeError {
    #[error(
        "{}", tr!("'{text}' is not the command of an engine: {reason}; write it as on a command line, for example --engine \"/opt/engine/bin/engine --uci\""))]
    Command { text: String, reason: String },
    #[error("{}", tr!("the engine '{command}' did not start: {reason}; {mend}", mend = crate::translation::text(MEND)))]
    Start { command: String, reason: String },
    #[error(
        "{}", tr!("the engine '{command}' ended by itself while it {doing} ({how}), also after a new start; {mend}", mend = crate::translation::text(MEND)))]
    Died {
        command: String,
        /// What it was asked for, after 'while it'.
        doing: String,
        /// Exit status.
        how: String,
    },
    #[error(
        "{}", tr!("the engine '{command}' {doing} and did not answer for {seconds} s, also after a new start; it was ended; {mend}", mend = crate::translation::text(MEND)))]
    Silent {
        command: String,
        doing: String,
        seconds: u64,
    },
    #[error("{}", tr!("the engine '{command}' talks nonsense: {what}, also after a new start; {mend}", mend = crate::translation::text(MEND)))]
    Nonsense { command: String, what: String },
    #[error("{}", tr!("the table of known positions is wrong: {what}"))]
    Table { what: String },
    #[error(
        "{}", tr!("the judge left a question without an answer; nothing was concluded from that, ask again"))]
    Unanswered,
    #[error(
        "{}", tr!("the judge named {mv}, which cannot be played there; nothing was concluded from that, ask again"))]
    Impossible {
        /// In UCI notation.
        mv: String,
    },
}

const MEND: &str = tr_later!(
    "nothing else is affected; name another engine with --engine, or leave it out to use the embedded one"
);

/// One failure of one process; the second in a row becomes a [`JudgeError`].
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum Fault {
    Start(String),
    Died { doing: &'static str, how: String },
    Silent { doing: &'static str, seconds: u64 },
    Nonsense(String),
}

impl Fault {
    /// A program that is not there is not there the second time either.
    pub(super) fn may_pass(&self) -> bool {
        !matches!(self, Self::Start(_))
    }

    pub(super) fn of(self, command: String) -> JudgeError {
        match self {
            Self::Start(reason) => JudgeError::Start { command, reason },
            Self::Died { doing, how } => JudgeError::Died {
                command,
                doing: doing.to_owned(),
                how,
            },
            Self::Silent { doing, seconds } => JudgeError::Silent {
                command,
                doing: doing.to_owned(),
                seconds,
            },
            Self::Nonsense(what) => JudgeError::Nonsense { command, what },
        }
    }
}
