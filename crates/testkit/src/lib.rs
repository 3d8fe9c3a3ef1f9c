//! Fixtures with marked positions, for tests.
