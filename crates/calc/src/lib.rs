//! What a file means: names, dimensions, values, findings; incremental.
