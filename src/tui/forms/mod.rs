//! Dialogues and facts that the screens and the line mode share.
//!
//! A sitting, an attempt or a typed answer comes in; a question in words, a filled-in card or a refusal
//! goes out. How it is drawn or printed is left to those who ask, but for the board of [`own_game`].
//!
//! What belongs before the lock ([`end_card`]) or directly behind it ([`clarification`]) knows neither
//! review nor solution. [`drill_source`], [`finding_spot`] and [`review_words`] do, and are for what comes
//! after the review was opened: nothing under `screens/writing` may take them. No form may know a screen or the
//! router.

pub mod clarification;
pub mod drill_source;
pub mod end_card;
pub mod finding_spot;
pub mod own_game;
pub mod played_line;
pub mod review_words;
