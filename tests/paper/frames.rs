//! What a laid-out page holds, as boxes in points from its upper left corner, and what is wrong
//! with how they stand: text that leaves its page or is cut off, text over other text, over a
//! picture or under a rule, boxes for characters a font lacks.

use typst::layout::{Abs, Frame, FrameItem, Point, Rect, Transform};
use typst::text::TextItem;
use typst::visualize::Geometry;
use typst_layout::PagedDocument;

/// A box on a page.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Area {
    pub left: f64,
    pub top: f64,
    pub right: f64,
    pub bottom: f64,
}

/// A run of text as it is inked.
struct Run<'a> {
    text: &'a TextItem,
    at: Transform,
    area: Area,
}

/// Everything on one page that can stand in another's way.
#[derive(Default)]
struct Page<'a> {
    runs: Vec<Run<'a>>,
    pictures: Vec<Area>,
    rules: Vec<Area>,
    cut: Vec<&'a TextItem>,
}

/// Points by which two things may share a place: side bearings of italics across, an accent on a
/// capital under a descender down.
const ACROSS: f64 = 0.8;
const DOWN: f64 = 1.2;

/// The least a text must stay away from the edge of the paper, 5 mm: most printers reach that far
/// (common practice, no source).
const EDGE: f64 = 14.2;

impl Area {
    fn of(rect: Rect, at: Transform) -> Area {
        let corner = |x, y| Point::new(x, y).transform(at);
        let (min, max) = (rect.min, rect.max);
        let corners = [
            corner(min.x, min.y),
            corner(max.x, min.y),
            corner(min.x, max.y),
            corner(max.x, max.y),
        ];
        let xs = corners.map(|p| p.x.to_pt());
        let ys = corners.map(|p| p.y.to_pt());
        let least = |of: [f64; 4]| of.into_iter().fold(f64::INFINITY, f64::min);
        let most = |of: [f64; 4]| of.into_iter().fold(f64::NEG_INFINITY, f64::max);
        Area { left: least(xs), top: least(ys), right: most(xs), bottom: most(ys) }
    }

    fn within(&self, outer: &Area, slack: f64) -> bool {
        self.left >= outer.left - slack
            && self.top >= outer.top - slack
            && self.right <= outer.right + slack
            && self.bottom <= outer.bottom + slack
    }

    /// What two boxes share, across and down; below nothing where they are apart.
    fn shared(&self, other: &Area) -> (f64, f64) {
        let across = self.right.min(other.right) - self.left.max(other.left);
        let down = self.bottom.min(other.bottom) - self.top.max(other.top);
        (across, down)
    }

    fn meets(&self, other: &Area, across: f64, down: f64) -> bool {
        let shared = self.shared(other);
        shared.0 > across && shared.1 > down
    }

    fn cut_to(self, clip: Option<Area>) -> Area {
        let Some(clip) = clip else { return self };
        Area {
            left: self.left.max(clip.left),
            top: self.top.max(clip.top),
            right: self.right.min(clip.right),
            bottom: self.bottom.min(clip.bottom),
        }
    }

    fn is_ink(&self) -> bool {
        self.left < self.right && self.top < self.bottom
    }
}

impl<'a> Page<'a> {
    fn of(page: &'a typst_layout::Page) -> Page<'a> {
        let mut found = Page::default();
        found.take(&page.frame, Transform::identity(), None);
        found
    }

    fn take(&mut self, frame: &'a Frame, at: Transform, clip: Option<Area>) {
        for (place, item) in frame.items() {
            let at = at.pre_concat(Transform::translate(place.x, place.y));
            match item {
                FrameItem::Group(group) => {
                    let at = at.pre_concat(group.transform);
                    let own = group.clip.as_ref().map(|curve| Area::of(curve.bbox(None), at));
                    let inner = own.map(|own| own.cut_to(clip)).or(clip);
                    self.take(&group.frame, at, inner);
                }
                FrameItem::Text(text) => self.text(text, at, clip),
                FrameItem::Image(_, size, _) => {
                    let whole = Area::of(Rect::from_pos_size(Point::zero(), *size), at);
                    self.pictures.push(whole.cut_to(clip));
                }
                FrameItem::Shape(shape, _) => {
                    if let Geometry::Line(_) = shape.geometry {
                        self.rules.push(Area::of(shape.bbox(false), at).cut_to(clip));
                    }
                }
                FrameItem::Link(..) | FrameItem::Tag(_) => {}
            }
        }
    }

    fn text(&mut self, text: &'a TextItem, at: Transform, clip: Option<Area>) {
        let area = Area::of(text.bbox(), at);
        if !area.is_ink() {
            return;
        }
        if clip.is_some_and(|clip| !area.within(&clip, 0.5)) {
            self.cut.push(text);
        }
        self.runs.push(Run { text, at, area });
    }

    fn faults(&mut self, paper: Area) -> Vec<String> {
        let mut faults: Vec<String> =
            self.cut.iter().map(|text| format!("cut off: “{}”", text.text)).collect();
        for run in &self.runs {
            let (text, area) = (&run.text.text, run.area);
            if !area.within(&paper, 0.0) {
                faults.push(format!("too near the edge: “{text}” at {area:.1?}"));
            }
            // Glyph 0 of every font is the box for a character it lacks.
            if run.text.glyphs.iter().any(|glyph| glyph.id == 0) {
                faults.push(format!("a box for a character: “{text}” at {area:.1?}"));
            }
            if self.pictures.iter().any(|picture| area.meets(picture, ACROSS, DOWN)) {
                faults.push(format!("over a picture: “{text}” at {area:.1?}"));
            }
            if self.rules.iter().any(|rule| strikes(rule, run)) {
                faults.push(format!("struck through: “{text}” at {area:.1?}"));
            }
        }
        faults.extend(self.overlaps());
        faults
    }

    /// Pairs of runs whose ink shares a place. Sorted by their tops, a run is compared only with
    /// those that begin above its foot.
    fn overlaps(&mut self) -> Vec<String> {
        self.runs.sort_by(|a, b| a.area.top.total_cmp(&b.area.top));
        let mut faults = Vec::new();
        for (i, run) in self.runs.iter().enumerate() {
            let below = self.runs[i + 1..].iter();
            for other in below.take_while(|other| other.area.top < run.area.bottom) {
                if run.meets(other) {
                    let (a, b) = (&run.text.text, &other.text.text);
                    faults.push(format!("one over the other: “{a}” and “{b}” at {:.1?}", run.area));
                }
            }
        }
        faults
    }
}

impl Run<'_> {
    /// Whether the ink of two runs shares a place, glyph by glyph once their boxes do.
    fn meets(&self, other: &Run) -> bool {
        self.area.meets(&other.area, ACROSS, DOWN) && {
            let others = other.glyphs();
            self.glyphs().iter().any(|a| others.iter().any(|b| a.meets(b, ACROSS, DOWN)))
        }
    }

    /// The ink of each glyph.
    fn glyphs(&self) -> Vec<Area> {
        let mut cursor = Abs::zero();
        let mut areas = Vec::new();
        for glyph in &self.text.glyphs {
            let one = TextItem { glyphs: vec![glyph.clone()], ..self.text.clone() };
            let at = self.at.pre_concat(Transform::translate(cursor, Abs::zero()));
            areas.push(Area::of(one.bbox(), at));
            cursor += glyph.x_advance.at(self.text.size);
        }
        areas.retain(Area::is_ink);
        areas
    }
}

/// Whether a rule runs through the ink of a text, and not only along an edge of it.
fn strikes(rule: &Area, run: &Run) -> bool {
    let shared = |area: &Area| {
        let (across, down) =
            rule.shared(&Area { top: area.top + DOWN, bottom: area.bottom - DOWN, ..*area });
        across >= 0.0 && down >= 0.0 && (across > ACROSS || down > DOWN)
    };
    shared(&run.area) && run.glyphs().iter().any(shared)
}

/// Everything wrong with how the pages of a document stand, each with its page.
pub fn faults(document: &PagedDocument) -> Vec<String> {
    let mut faults = Vec::new();
    for (i, laid_out) in document.pages().iter().enumerate() {
        let size = laid_out.frame.size();
        let paper = Area {
            left: EDGE,
            top: EDGE,
            right: size.x.to_pt() - EDGE,
            bottom: size.y.to_pt() - EDGE,
        };
        faults.extend(
            Page::of(laid_out).faults(paper).into_iter().map(|f| format!("page {}: {f}", i + 1)),
        );
    }
    faults
}

/// How many runs of text there are: a check of nothing proves nothing.
pub fn runs(document: &PagedDocument) -> usize {
    document.pages().iter().map(|page| Page::of(page).runs.len()).sum()
}

/// The families of the text on the pages.
pub fn families(document: &PagedDocument) -> Vec<String> {
    let pages = document.pages().iter().map(Page::of);
    pages.flat_map(|page| page.runs.into_iter().map(|run| family(run.text))).collect()
}

fn family(text: &TextItem) -> String {
    text.font.info().family.clone()
}
