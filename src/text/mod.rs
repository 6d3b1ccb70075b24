//! Strings that are safe to show in a terminal, their width, and numbers in words.
