//! Editor features as plain data.
