//! The language server protocol, and nothing else.
