//! The press: fonts and parsed layouts shared by all documents, and the thin world in which one
//! document is typeset from its layout, its data and its pictures.

use super::layouts::LAYOUTS;
use super::raster::png;
use dovetally_photo::Fit;
use serde::{Deserialize, Serialize};
use std::collections::HashMap;
use std::ops::Range;
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::{Arc, LazyLock};
use typst::diag::{FileError, FileResult, SourceDiagnostic};
use typst::foundations::{Bytes, Datetime, Duration, Smart};
use typst::syntax::{FileId, RootedPath, Source, VirtualPath, VirtualRoot};
use typst::text::{Font, FontBook};
use typst::utils::LazyHash;
use typst::{Feature, Features, Library, LibraryExt, World, WorldExt};
use typst_layout::PagedDocument;
use typst_pdf::{PdfOptions, PdfStandard, PdfStandards};

/// The one family of the house.
const HOUSE_FONT: &str = "Libertinus Serif";

/// The file in which a layout finds how many pages its document has.
const PAGES: &str = "pages.json";

/// How often a document is laid out, at most, until it has as many pages as it was told.
const MOST_TRIES: usize = 4;

/// What letters the house's family lacks are set in: Arabic, then characters and arrows. `house.typ` names
/// the same.
const STAND_INS: [&str; 2] = ["Amiri", "DejaVu Sans Mono"];

/// The Amiri family, regular: SIL Open Font License 1.1, in `fonts/OFL.txt`.
const AMIRI: &[u8] = include_bytes!("fonts/Amiri-Regular.ttf");

/// Latin letters and all before them are drawn by every weight of it.
const FIRST_DOUBTFUL: u32 = 0x180;

/// The fonts and layouts of one run; built once, shared by every worker.
pub struct Press {
    builtins: LazyHash<Library>,
    book: LazyHash<FontBook>,
    fonts: Vec<Font>,
    sources: HashMap<FileId, Source>,
    /// The families the paper is set in; a character must be drawn by one of them.
    families: Vec<String>,
    /// The shop's logo, by the name a view gives it.
    logo: Option<(FileId, Bytes)>,
}

/// What a shop brings of its own besides layouts.
#[derive(Clone, Debug, Default)]
pub struct Brand {
    /// Files of fonts; see [`font_families`].
    pub fonts: Vec<Vec<u8>>,
    /// The family the paper is set in, of the house's or of `fonts`; else the house's own.
    pub family: Option<String>,
    /// The name a view gives the logo, and its bytes.
    pub logo: Option<(String, Vec<u8>)>,
}

/// The families in a file of fonts, each once; none in what is no font.
pub fn font_families(bytes: &[u8]) -> Vec<String> {
    let fonts = Font::iter(Bytes::new(bytes.to_vec()));
    let mut families: Vec<String> = fonts.map(|font| font.info().family.clone()).collect();
    families.sort();
    families.dedup();
    families
}

fn house_fonts() -> impl Iterator<Item = &'static [u8]> {
    typst_assets::fonts().chain([AMIRI])
}

/// The families that come with the program, sorted.
pub fn house_families() -> Vec<String> {
    let mut families: Vec<String> = house_fonts().flat_map(font_families).collect();
    families.sort();
    families.dedup();
    families
}

/// One document to typeset.
#[derive(Clone, Debug, Default)]
pub struct Draft {
    /// A file of `layouts/`.
    pub layout: &'static str,
    /// The view as JSON; the layout reads it as `data.json`.
    pub data: Vec<u8>,
    /// The pictures the view names.
    pub pictures: Vec<PictureUse>,
    /// Files the document carries inside, by the names the view gives them. They are shared and not
    /// copied: those of a large shop are larger than all of its paper.
    pub files: Vec<(String, Arc<String>)>,
    /// Names the document for good; two documents never share one.
    pub ident: String,
    /// PDF/A-3 beside PDF/UA-1, so that it is readable in six years.
    pub archival: bool,
}

impl Draft {
    /// The keys of the view, as the layout finds them.
    pub fn keys(&self) -> Vec<String> {
        let view: Result<serde_json::Map<String, serde_json::Value>, _> =
            serde_json::from_slice(&self.data);
        view.map(|view| view.keys().cloned().collect()).unwrap_or_default()
    }
}

/// A picture a view names: which photo of the piece it is, and how large it is printed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PictureUse {
    /// As the view names it: `photo-1.jpg`.
    pub name: String,
    /// Position among the piece's photos.
    pub photo: usize,
    pub fit: Fit,
}

/// A text that is held once, whoever carries it.
struct Shared(Arc<String>);

impl AsRef<str> for Shared {
    fn as_ref(&self) -> &str {
        &self.0
    }
}

/// A finished document.
#[derive(Clone, Debug)]
pub struct Paper {
    pub pdf: Vec<u8>,
    pub pages: usize,
}

/// An error in a layout, or in what it was given.
#[derive(Clone, Debug, Serialize, Deserialize)]
pub struct LayoutFault {
    /// The file of `layouts/` the error is in; the sheet's own when none is known.
    pub layout: String,
    /// Where in that file.
    pub range: Option<Range<usize>>,
    pub message: String,
    pub hints: Vec<String>,
}

/// The typesetter's own functions, with those that name the head of a table's row.
fn library() -> Library {
    Library::builder().with_features(Features::from_iter([Feature::A11yExtras])).build()
}

impl Press {
    /// A press with the built-in layouts, each replaced by the shop's own of that name.
    ///
    /// `own` may also hold files that only the shop's layouts import.
    pub fn new(own: &[(String, String)]) -> Press {
        let fonts: Vec<Font> =
            house_fonts().flat_map(|data| Font::iter(Bytes::new(data))).collect();
        let source = |name: &str, text: &str| {
            let id = file_id(name)?;
            Some((id, Source::new(id, text.to_owned())))
        };
        // A later file of the same name takes the place of an earlier one.
        let built_in = LAYOUTS.iter().map(|layout| (layout.name, layout.text));
        let own = own.iter().map(|(name, text)| (name.as_str(), text.as_str()));
        let sources = built_in.chain(own).filter_map(|(name, text)| source(name, text)).collect();
        Press {
            builtins: LazyHash::new(library()),
            book: LazyHash::new(FontBook::from_fonts(&fonts)),
            fonts,
            sources,
            families: [HOUSE_FONT].into_iter().chain(STAND_INS).map(str::to_owned).collect(),
            logo: None,
        }
    }

    /// The press with what the shop brings of its own. A font whose family the house has too is
    /// not looked at: the house's comes first.
    pub fn with(mut self, brand: &Brand) -> Press {
        let own = brand.fonts.iter().flat_map(|bytes| Font::iter(Bytes::new(bytes.clone())));
        self.fonts.extend(own);
        self.book = LazyHash::new(FontBook::from_fonts(&self.fonts));
        self.families.extend(brand.family.clone());
        self.logo = brand
            .logo
            .as_ref()
            .and_then(|(name, bytes)| Some((file_id(name)?, Bytes::new(bytes.clone()))));
        self
    }

    /// Prints the logo alone, as each paper will, to see whether it can be.
    pub fn check_logo(&self, name: &str) -> Result<(), Vec<LayoutFault>> {
        let Some(main) = file_id("logo.typ") else { return Ok(()) };
        let text = format!(
            "#set document(title: \"Logo\")\n#image(\"/{name}\", height: 14pt, alt: \"logo\")"
        );
        let page = Some(Source::new(main, text));
        let job = Job { main: Some(main), page, ..Job::empty(self) };
        let faults = |list: &[SourceDiagnostic]| list.iter().map(|f| job.fault(f)).collect();
        let document = typst::compile::<PagedDocument>(&job).output;
        let document = document.map_err(|list| -> Vec<_> { faults(&list) })?;
        let options = PdfOptions { standards: ACCESSIBLE.clone(), ..PdfOptions::default() };
        typst_pdf::pdf(&document, &options).map(drop).map_err(|list| faults(&list))
    }

    /// The characters in a draft's data that the house's font has no drawing for, each once, in order.
    pub fn missing_characters(&self, draft: &Draft) -> Vec<char> {
        self.missing_in(&String::from_utf8_lossy(&draft.data))
    }

    /// The same of any text.
    pub fn missing_in(&self, text: &str) -> Vec<char> {
        let mut missing: Vec<char> =
            text.chars().filter(|&character| !self.draws(character)).collect();
        missing.sort_unstable();
        missing.dedup();
        missing
    }

    /// Puts a question mark for each of some characters: for papers of many pieces, of which one is no
    /// reason to have none.
    pub fn without_characters(draft: &Draft, missing: &[char]) -> Draft {
        let text = String::from_utf8_lossy(&draft.data).replace(missing, "?");
        Draft { data: text.into_bytes(), ..draft.clone() }
    }

    /// Whether a text has characters that no font here may have: a quick look, without asking the fonts.
    pub fn may_lack(text: &str) -> bool {
        text.chars().any(|character| character as u32 >= FIRST_DOUBTFUL && !is_unseen(character))
    }

    fn draws(&self, character: char) -> bool {
        let house = self.fonts.iter().filter(|font| self.families.contains(&font.info().family));
        (character as u32) < FIRST_DOUBTFUL
            || is_unseen(character)
            || house.into_iter().any(|font| font.info().coverage.contains(character as u32))
    }

    /// Lays a draft out, without making a PDF of it. `pictures` are the JPEGs of
    /// [`Draft::pictures`], in their order.
    pub fn lay_out(
        &self,
        draft: &Draft,
        pictures: &[Vec<u8>],
    ) -> Result<PagedDocument, Vec<LayoutFault>> {
        let mut pages = 1;
        for _ in 1..MOST_TRIES {
            let (document, asked) = self.lay_out_once(draft, pictures, pages)?;
            let found = document.pages().len();
            if !asked || found == pages {
                return Ok(document);
            }
            pages = found;
        }
        Ok(self.lay_out_once(draft, pictures, pages)?.0)
    }

    /// Lays a draft out and tells it that it has so many pages; also whether it asked. A layout that
    /// asks the engine instead is laid out twice whenever it does.
    fn lay_out_once(
        &self,
        draft: &Draft,
        pictures: &[Vec<u8>],
        pages: usize,
    ) -> Result<(PagedDocument, bool), Vec<LayoutFault>> {
        let job = Job { pages, ..Job::new(self, draft, pictures) };
        match typst::compile::<PagedDocument>(&job).output {
            Ok(document) => Ok((document, job.asked_pages.load(Ordering::Relaxed))),
            Err(faults) => Err(faults.iter().map(|fault| job.fault(fault)).collect()),
        }
    }

    /// Typesets a draft into a tagged PDF/UA-1, which is also PDF/A-3a where it is archival.
    pub fn print(&self, draft: &Draft, pictures: &[Vec<u8>]) -> Result<Paper, Vec<LayoutFault>> {
        let job = Job::new(self, draft, pictures);
        let faults = |list: &[SourceDiagnostic]| list.iter().map(|f| job.fault(f)).collect();
        let document = self.lay_out(draft, pictures)?;
        let options = PdfOptions {
            ident: Smart::Custom(draft.ident.clone()),
            creator: Smart::Custom(Some("dovetally".to_owned())),
            standards: if draft.archival { ARCHIVAL.clone() } else { ACCESSIBLE.clone() },
            ..PdfOptions::default()
        };
        let pdf =
            typst_pdf::pdf(&document, &options).map_err(|list| -> Vec<_> { faults(&list) })?;
        let pages = document.pages().len();
        // Without this the memo cache grows by more than a megabyte a sheet.
        typst::comemo::evict(1);
        Ok(Paper { pdf, pages })
    }
}

/// Spaces, joiners and marks of direction, which are set without a drawing of their own.
fn is_unseen(character: char) -> bool {
    matches!(character, '\u{2000}'..='\u{200f}' | '\u{2028}'..='\u{202f}' | '\u{205f}'..='\u{2064}')
}

impl Press {
    /// The first page of a draft as a PNG whose longer side has `pixels` pixels.
    pub fn picture(
        &self,
        draft: &Draft,
        pictures: &[Vec<u8>],
        pixels: u32,
    ) -> Result<Vec<u8>, Vec<LayoutFault>> {
        let document = self.lay_out(draft, pictures)?;
        let drawn = document.pages().first().map(|page| png(page, pixels));
        typst::comemo::evict(1);
        Ok(drawn.unwrap_or_default())
    }
}

static ACCESSIBLE: LazyLock<PdfStandards> =
    LazyLock::new(|| PdfStandards::new(&[PdfStandard::Ua_1]).expect("one standard"));

static ARCHIVAL: LazyLock<PdfStandards> = LazyLock::new(|| {
    PdfStandards::new(&[PdfStandard::Ua_1, PdfStandard::A_3a]).expect("the two go together")
});

/// The world one document is typeset in: the press, and this document's own data and pictures.
///
/// File ids are interned for good and few, so every document uses the same names.
struct Job<'a> {
    press: &'a Press,
    main: Option<FileId>,
    layout: &'static str,
    files: Vec<(FileId, Bytes)>,
    /// How many pages the document is told it has, and whether it asked.
    pages: usize,
    asked_pages: AtomicBool,
    /// A page that is in no file of layouts.
    page: Option<Source>,
}

impl<'a> Job<'a> {
    fn new(press: &'a Press, draft: &Draft, pictures: &[Vec<u8>]) -> Job<'a> {
        let data = ("data.json", Bytes::new(draft.data.clone()));
        let names = draft.pictures.iter().map(|used| used.name.as_str());
        let pictures = names.zip(pictures.iter().map(|jpeg| Bytes::new(jpeg.clone())));
        let carried = draft
            .files
            .iter()
            .map(|(name, text)| (name.as_str(), Bytes::from_string(Shared(text.clone()))));
        let files = std::iter::once(data)
            .chain(pictures)
            .chain(carried)
            .filter_map(|(name, bytes)| Some((file_id(name)?, bytes)))
            .collect();
        let (main, layout) = (file_id(draft.layout), draft.layout);
        Job { main, layout, files, ..Job::empty(press) }
    }

    fn empty(press: &'a Press) -> Job<'a> {
        Job {
            press,
            main: None,
            layout: "",
            files: Vec::new(),
            pages: 1,
            asked_pages: AtomicBool::new(false),
            page: None,
        }
    }

    fn fault(&self, fault: &SourceDiagnostic) -> LayoutFault {
        LayoutFault {
            layout: fault.span.id().map_or(self.layout.to_owned(), name_of),
            range: self.range(fault.span),
            message: fault.message.to_string(),
            hints: fault.hints.iter().map(|hint| hint.v.to_string()).collect(),
        }
    }
}

impl World for Job<'_> {
    fn library(&self) -> &LazyHash<Library> {
        &self.press.builtins
    }

    fn book(&self) -> &LazyHash<FontBook> {
        &self.press.book
    }

    fn main(&self) -> FileId {
        self.main.unwrap_or_else(|| file_id("missing.typ").expect("a plain name"))
    }

    fn source(&self, id: FileId) -> FileResult<Source> {
        let page = self.page.as_ref().filter(|page| page.id() == id);
        page.or_else(|| self.press.sources.get(&id)).cloned().ok_or_else(|| not_found(id))
    }

    fn file(&self, id: FileId) -> FileResult<Bytes> {
        if Some(id) == file_id(PAGES) {
            self.asked_pages.store(true, Ordering::Relaxed);
            return Ok(Bytes::new(self.pages.to_string().into_bytes()));
        }
        let mut own = self.files.iter().chain(&self.press.logo);
        own.find(|(file, _)| *file == id)
            .map(|(_, bytes)| bytes.clone())
            .ok_or_else(|| not_found(id))
    }

    fn font(&self, index: usize) -> Option<Font> {
        self.press.fonts.get(index).cloned()
    }

    // Nothing asks the clock: a date on paper comes from the owner's files.
    fn today(&self, _: Option<Duration>) -> Option<Datetime> {
        None
    }
}

fn not_found(id: FileId) -> FileError {
    FileError::NotFound(name_of(id).into())
}

fn name_of(id: FileId) -> String {
    id.vpath().get_without_slash().to_owned()
}

fn file_id(name: &str) -> Option<FileId> {
    let path = VirtualPath::new(name).ok()?;
    Some(RootedPath::new(VirtualRoot::Project, path).intern())
}
