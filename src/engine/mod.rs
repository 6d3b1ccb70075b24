//! The embedded UCI engine: our own search and evaluation, met by everyone else as a UCI process.
