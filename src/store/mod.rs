//! The one sled file: tables of any [`Record`]. No chess in here.
//!
//! Takes values that know their table, version and form; gives them back, or says what is damaged.
//! What [`Store`] has accepted is flushed: it survives the end of the process at any moment.
