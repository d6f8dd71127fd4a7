//! What the before-and-after picture gets.

use super::common::{Photo, Sheet};
use schemars::JsonSchema;
use serde::Serialize;

/// A piece as it came and as it is now: one page that is made into a picture.
#[derive(Clone, Debug, JsonSchema, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct BeforeAfterView {
    #[serde(flatten)]
    pub sheet: Sheet,
    pub heading: String,
    /// "No. 25–001".
    pub number: String,
    pub before: MomentPicture,
    pub after: MomentPicture,
}

/// A picture and the word for its moment.
#[derive(Clone, Debug, PartialEq, Eq, JsonSchema, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct MomentPicture {
    /// "Before", "After".
    pub word: String,
    pub photo: Photo,
}
