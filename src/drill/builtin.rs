//! The collection that ships in the binary.
