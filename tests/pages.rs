//! What lies where on a laid-out page: lines and texts with their places in millimetres from the
//! upper left corner of the trim.

use typst::layout::{Abs, Frame, FrameItem, Point, Transform};
use typst::visualize::Geometry;
use typst_layout::PagedDocument;

/// A straight line from one point to another.
#[derive(Clone, Copy, Debug)]
pub struct Line {
    pub from: (f64, f64),
    pub to: (f64, f64),
}

/// A run of text: its words, where its baseline begins, how wide and how large it is.
#[derive(Clone, Debug)]
pub struct Run {
    pub words: String,
    pub at: (f64, f64),
    pub width: f64,
    /// In points.
    pub size: f64,
}

/// A page with all that a test asks of it.
#[derive(Default)]
pub struct Page {
    pub width: f64,
    pub height: f64,
    pub lines: Vec<Line>,
    pub runs: Vec<Run>,
}

/// Every page of a document.
pub fn pages(document: &PagedDocument) -> Vec<Page> {
    let page = |frame: &Frame| {
        let mut page = Page {
            width: frame.width().to_mm(),
            height: frame.height().to_mm(),
            ..Page::default()
        };
        page.walk(frame, Transform::identity());
        page
    };
    document.pages().iter().map(|found| page(&found.frame)).collect()
}

impl Page {
    fn walk(&mut self, frame: &Frame, place: Transform) {
        for (at, item) in frame.items() {
            let here = place.pre_concat(Transform::translate(at.x, at.y));
            match item {
                FrameItem::Group(group) => {
                    self.walk(&group.frame, here.pre_concat(group.transform));
                }
                FrameItem::Text(text) => self.runs.push(Run {
                    words: text.text.replace("\u{200b}", "").to_string(),
                    at: spot(Point::zero(), here),
                    width: text.width().to_mm(),
                    size: text.size.to_pt(),
                }),
                FrameItem::Shape(shape, _) => {
                    if let Geometry::Line(to) = shape.geometry {
                        let from = spot(Point::zero(), here);
                        self.lines.push(Line { from, to: spot(to, here) });
                    }
                }
                _ => {}
            }
        }
    }

    /// The words within a rectangle (left, top, right, bottom), sorted.
    pub fn words_in(&self, (left, top, right, bottom): (f64, f64, f64, f64)) -> Vec<String> {
        let inside =
            |run: &&Run| (left..right).contains(&run.at.0) && (top..bottom).contains(&run.at.1);
        let runs: Vec<&str> =
            self.runs.iter().filter(inside).map(|run| run.words.as_str()).collect();
        sorted_words(&runs.join(" "))
    }

    /// All words of the page, sorted.
    pub fn words(&self) -> Vec<String> {
        self.words_in((f64::MIN, f64::MIN, f64::MAX, f64::MAX))
    }

    /// Where a text begins that stands on the page, once for each time it does.
    pub fn places_of(&self, words: &str) -> Vec<(f64, f64)> {
        self.runs.iter().filter(|run| run.words == words).map(|run| run.at).collect()
    }

    /// The x of upright lines and the y of level ones that lie wholly outside of a rectangle.
    pub fn marks_outside(&self, rectangle: (f64, f64, f64, f64)) -> (Vec<f64>, Vec<f64>) {
        let (left, top, right, bottom) = rectangle;
        let out = |(x, y): (f64, f64)| x < left || x > right || y < top || y > bottom;
        let marks = self.lines.iter().filter(|line| out(line.from) && out(line.to));
        let (upright, level): (Vec<&Line>, Vec<&Line>) =
            marks.partition(|line| (line.from.0 - line.to.0).abs() < 1e-6);
        (
            distinct(upright.iter().map(|line| line.from.0)),
            distinct(level.iter().map(|line| line.from.1)),
        )
    }
}

/// The words of a text, sorted; a line may end at a hyphen, which therefore parts words everywhere.
pub fn sorted_words(text: &str) -> Vec<String> {
    let mut words: Vec<String> = text
        .split([' ', '-', '\u{a0}'])
        .filter(|word| !word.is_empty())
        .map(str::to_owned)
        .collect();
    words.sort();
    words
}

fn spot(point: Point, place: Transform) -> (f64, f64) {
    let point = point.transform(place);
    (point.x.to_mm(), point.y.to_mm())
}

fn distinct(values: impl Iterator<Item = f64>) -> Vec<f64> {
    let mut values: Vec<f64> = values.collect();
    values.sort_by(f64::total_cmp);
    values.dedup_by(|a, b| (*a - *b).abs() < 1e-3);
    values
}

/// Millimetres of points.
pub fn mm(points: f64) -> f64 {
    Abs::pt(points).to_mm()
}
