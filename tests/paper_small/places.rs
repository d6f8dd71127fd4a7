//! Where text and lines stand on the pages of a draft, in points from the upper left corner.

use super::PRESS;
use dovetally::typeset::Draft;
use typst::layout::{Frame, FrameItem, Point};
use typst::model::Destination;
use typst::visualize::Geometry;
use typst_layout::PagedDocument;

/// One page of a document.
pub struct Laid {
    pub width: f64,
    pub height: f64,
    /// Each run of text: where its baseline begins, where it ends, and what it says.
    pub words: Vec<(f64, f64, f64, String)>,
    /// Straight lines: where they begin, and how far they go across and down.
    pub lines: Vec<[f64; 4]>,
    /// Inner links: where their area begins, and the page they lead to.
    pub links: Vec<(f64, f64, usize)>,
}

/// The pages of a draft without pictures.
pub fn lay(draft: &Draft) -> Vec<Laid> {
    let document = PRESS.lay_out(draft, &[]).unwrap_or_else(|faults| panic!("{faults:?}"));
    let pages = document.pages().iter();
    pages
        .map(|page| {
            let size = page.frame.size();
            let mut laid = Laid {
                width: size.x.to_pt(),
                height: size.y.to_pt(),
                words: Vec::new(),
                lines: Vec::new(),
                links: Vec::new(),
            };
            walk(&page.frame, Point::zero(), &document, &mut laid);
            laid
        })
        .collect()
}

fn walk(frame: &Frame, at: Point, document: &PagedDocument, laid: &mut Laid) {
    for (below, item) in frame.items() {
        let point = at + *below;
        let (x, y) = (point.x.to_pt(), point.y.to_pt());
        match item {
            FrameItem::Group(group) => {
                let moved = Point::new(group.transform.tx, group.transform.ty);
                walk(&group.frame, point + moved, document, laid);
            }
            FrameItem::Text(text) => {
                laid.words.push((x, y, x + text.width().to_pt(), text.text.to_string()));
            }
            FrameItem::Shape(shape, _) => {
                if let Geometry::Line(to) = shape.geometry {
                    laid.lines.push([x, y, to.x.to_pt(), to.y.to_pt()]);
                }
            }
            FrameItem::Link(Destination::Location(to), _) => {
                let page = document.introspector().position(*to).expect("a place").page.get();
                laid.links.push((x, y, page));
            }
            _ => {}
        }
    }
}

impl Laid {
    /// Whether some run of text holds these words.
    pub fn says(&self, words: &str) -> bool {
        self.words.iter().any(|(_, _, _, text)| text.contains(words))
    }

    /// Where the text that begins with these words stands, each time it does.
    pub fn places_of(&self, words: &str) -> Vec<(f64, f64)> {
        let found = self.words.iter().filter(|(_, _, _, text)| text.starts_with(words));
        found.map(|(x, y, _, _)| (*x, *y)).collect()
    }

    /// The text on a baseline between two edges, from left to right.
    pub fn line_at(&self, y: f64, from: f64, to: f64) -> String {
        let on = |(x, at, _, _): &&(f64, f64, f64, String)| {
            (at - y).abs() < 0.5 && *x >= from && *x < to
        };
        let mut found: Vec<_> = self.words.iter().filter(on).collect();
        found.sort_by(|a, b| a.0.total_cmp(&b.0));
        found.iter().map(|(_, _, _, text)| text.as_str()).collect::<Vec<_>>().join(" ")
    }

    /// Texts that leave the page.
    pub fn outside(&self) -> Vec<&str> {
        let leaves = |(x, y, end, _): &&(f64, f64, f64, String)| {
            *x < 0.0 || *y < 0.0 || *end > self.width || *y > self.height
        };
        self.words.iter().filter(leaves).map(|(_, _, _, text)| text.as_str()).collect()
    }
}
