//! What of the codes of this floor follows from another fault of the same file.

/// Findings that may only follow from TOML that could not be read whole.
pub(super) const FOLLOWS_FROM_SYNTAX: [&str; 2] = ["lot-without-pieces", "missing-key"];
