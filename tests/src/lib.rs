//! What the tests of the whole product share.
