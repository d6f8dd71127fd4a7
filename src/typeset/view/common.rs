//! The parts several sheets share: the document, the shop, photos, cautions and the drawing.

use schemars::JsonSchema;
use serde::Serialize;

/// What every document starts from; flattened into each view.
#[derive(Clone, Debug, JsonSchema, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct Sheet {
    /// Title of the document, which a reader's window shows.
    pub title: String,
    /// Language of the document's words: `en`; of a translated card its own, `es` or `fr`.
    pub lang: String,
    /// `us-letter` or `a4`. A card one up ignores it.
    pub paper: String,
    pub shop: ShopHead,
    pub words: PageWords,
}

/// The shop at the head and foot of a sheet.
#[derive(Clone, Debug, JsonSchema, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct ShopHead {
    pub name: String,
    /// Name and contact in lines, as they stand at the foot of a card.
    pub contact: Vec<String>,
    /// Name and contact in one line with `·` between, as they stand at the foot of a sheet.
    pub contact_line: String,
    /// The same line part by part, each with the address it leads to.
    pub contact_parts: Vec<ContactPart>,
    /// Name of the virtual file of the logo, `logo.svg` or `logo.png`, in place of the name at the
    /// head of sheets; its text alternative is the name.
    pub logo: Option<String>,
    /// The family the shop's paper is set in; the house's own serif when none is said.
    pub font: Option<String>,
    /// The accent colour, `#RRGGBB`, its contrast already checked.
    pub accent: String,
}

/// A part of the contact line.
#[derive(Clone, Debug, JsonSchema, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct ContactPart {
    pub text: String,
    /// `mailto:…`, `tel:…` or `https://…`, where it is an address or a telephone number.
    pub address: Option<String>,
}

/// The words around page numbers, which only the layout knows.
#[derive(Clone, Debug, JsonSchema, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct PageWords {
    /// "sheet", as in "sheet 1 of 2".
    pub sheet: String,
    /// "page".
    pub page: String,
    /// "of".
    pub of: String,
}

/// A label and what stands beside it: "Wood", "Appears to be white oak.".
#[derive(Clone, Debug, PartialEq, Eq, JsonSchema, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct LabelRow {
    pub label: String,
    /// Whole sentences.
    pub text: String,
}

/// A picture, already upright and scaled.
#[derive(Clone, Debug, PartialEq, Eq, JsonSchema, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct Photo {
    /// Name of the virtual file beside the data: `photo-1.jpg`.
    pub file: String,
    /// Pixels across, upright.
    pub width: u32,
    /// Pixels down, upright.
    pub height: u32,
    /// Text alternative: what it shows, else "Photograph of TITLE, 1 of 3".
    pub alt: String,
    /// One sentence with its full stop; nothing when the owner said nothing.
    pub caption: Option<String>,
}

/// The cautions of a piece under their label.
#[derive(Clone, Debug, PartialEq, Eq, JsonSchema, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct Cautions {
    /// "Caution", or "Cautions" when there are several.
    pub label: String,
    /// Empty when nothing applies: the label is then left out.
    pub entries: Vec<Caution>,
}

/// One caution. Its block names the sources once, after the last one.
#[derive(Clone, Debug, PartialEq, Eq, JsonSchema, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct Caution {
    pub text: String,
    /// Only with the last one, and only where there is something to say: "Sources: …; …." of all of
    /// them, and that such words are general information.
    pub source: Option<String>,
}

/// How a piece is drawn where its outline is known.
#[derive(Clone, Copy, Debug, PartialEq, Eq, JsonSchema, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum DrawingShape {
    Case,
    Lidded,
    Table,
    Seat,
    Shelves,
    Other,
}

/// The scale drawing: whole sixteenths of an inch for the lines, ready figures for the words.
#[derive(Clone, Debug, PartialEq, Eq, JsonSchema, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct Drawing {
    /// "Front and side to scale, 36 and a quarter inches wide, … beside a door 80 inches high".
    pub alt: String,
    pub shape: DrawingShape,
    /// Overall width in sixteenths of an inch; without it there is no front view.
    #[serde(rename = "width-16")]
    pub width_16: Option<u32>,
    /// Overall depth in sixteenths of an inch; without it there is no side view.
    #[serde(rename = "depth-16")]
    pub depth_16: Option<u32>,
    /// Overall height in sixteenths of an inch, never 0. A piece without a height has no drawing.
    #[serde(rename = "height-16")]
    pub height_16: u32,
    /// Height of the legs, if stated.
    #[serde(rename = "legs-16")]
    pub legs_16: Option<u32>,
    /// Thickness of the top or lid, if stated.
    #[serde(rename = "top-16")]
    pub top_16: Option<u32>,
    /// Height of the seat from the floor, if stated.
    #[serde(rename = "seat-16")]
    pub seat_16: Option<u32>,
    /// Rows of the front from the top; words `drawer`, `door`, `shelf`, `panel`, `open`. No row is
    /// empty; no rows draw a plain front.
    pub rows: Vec<Vec<String>>,
    /// Figure of the width in the shop's unit, without the unit: "36¼", "36 13/16", "92".
    pub width: Option<String>,
    pub depth: Option<String>,
    pub height: String,
    /// "front".
    pub front: String,
    /// "side".
    pub side: String,
    /// "door 80 in", or "door 203 cm".
    pub door: String,
    /// "Scale {scale}, inches.": the layout puts the scale it chose for `{scale}`.
    pub note: String,
}
