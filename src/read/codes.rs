//! What of the codes of this floor follows from another fault of the same file.

use crate::model::Code;

/// Findings that may only follow from TOML that could not be read whole.
pub(super) const FOLLOWS_FROM_SYNTAX: [Code; 2] = [Code::LotWithoutPieces, Code::MissingKey];
