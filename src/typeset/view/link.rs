//! A link code as the layouts draw it.

use schemars::JsonSchema;
use serde::Serialize;

/// The QR code of an address, and the address as text.
#[derive(Clone, Debug, PartialEq, Eq, JsonSchema, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct LinkCode {
    /// "Online".
    pub label: String,
    /// The whole address, as the code holds it.
    pub address: String,
    /// The address as it is printed: without what a browser adds by itself.
    pub shown: String,
    /// "Link code of the address https://…".
    pub alt: String,
    /// Squares on each side; the layout keeps four more free all round.
    pub side: usize,
    /// Row by row from the top: where each dark run begins and how long it is, in squares.
    pub rows: Vec<Vec<[usize; 2]>>,
}
