//! The one file that knows the YAML library.
