//! What every PDF must be, whatever is on it: valid by a PDF/UA-1 validator, and right in the
//! ways no validator checks.

pub mod aloud;

use lopdf::{Dictionary, Document, Object};
use page_validation::{ValidationOptions, ValidationProfile, validate_pdf_bytes};

/// Everything wrong with a PDF, each as one line; nothing when it is in order.
pub fn faults(pdf: &[u8], archival: bool) -> Vec<String> {
    let mut faults = broken_rules(pdf, ValidationProfile::PdfUa1);
    if archival {
        faults.extend(broken_rules(pdf, ValidationProfile::PdfA3a));
    }
    match Document::load_mem(pdf) {
        Ok(document) => faults.extend(structure_faults(&document)),
        Err(e) => faults.push(format!("cannot be opened: {e}")),
    }
    faults
}

/// The same for many files, on every core: each fault after its file's name.
pub fn faults_of_all(pdfs: &[&(String, Vec<u8>)]) -> Vec<String> {
    let cores = std::thread::available_parallelism().map_or(2, usize::from);
    let check = |(path, bytes): &(String, Vec<u8>)| {
        let found = faults(bytes, path.ends_with("income-summary.pdf"));
        found.into_iter().map(|fault| format!("{path}: {fault}")).collect::<Vec<_>>()
    };
    std::thread::scope(|scope| {
        let parts: Vec<_> = pdfs
            .chunks(pdfs.len().div_ceil(cores).max(1))
            .map(|part| {
                scope.spawn(move || part.iter().flat_map(|pdf| check(pdf)).collect::<Vec<_>>())
            })
            .collect();
        parts.into_iter().flat_map(|part| part.join().expect("no panic")).collect()
    })
}

fn broken_rules(pdf: &[u8], profile: ValidationProfile) -> Vec<String> {
    let options = ValidationOptions::default().profile(profile);
    match validate_pdf_bytes(pdf, &options) {
        Ok(report) if report.is_compliant => Vec::new(),
        Ok(report) => {
            let faults = report.failures.iter().map(|f| format!("{profile:?} {f}"));
            faults.filter(|f| !f.ends_with(LENGTH_FAULT) || !lengths_hold(pdf)).collect()
        }
        Err(e) => vec![format!("{profile:?}: {e}")],
    }
}

const LENGTH_FAULT: &str = "a stream /Length does not match its raw content length";

/// Whether every stream ends where its length says. The validator takes a packed stream whose own
/// last byte is a carriage return for one that is a byte too long.
fn lengths_hold(pdf: &[u8]) -> bool {
    let find = |what: &[u8], from: usize| {
        pdf[from..].windows(what.len()).position(|window| window == what).map(|at| from + at)
    };
    let mut at = 0;
    while let Some(length) = find(b"/Length ", at) {
        let digits = pdf[length + 8..].iter().take_while(|b| b.is_ascii_digit());
        let length_value = digits.fold(0, |n, b| n * 10 + usize::from(b - b'0'));
        let Some(start) = find(b"stream\n", length) else { return false };
        let end = start + 7 + length_value;
        if !pdf.get(end..).is_some_and(|rest| rest.starts_with(b"\nendstream")) {
            return false;
        }
        at = end;
    }
    at > 0
}

/// What no validator looks at: heading order, table heads with a scope, pictures that say
/// something, the title in both its places, the language, decoration that is marked as such, no
/// metadata in embedded photos.
fn structure_faults(document: &Document) -> Vec<String> {
    let tags = tags(document);
    let mut faults = Vec::new();
    let levels: Vec<u32> = tags.iter().filter_map(|tag| heading_level(&tag.role)).collect();
    if levels.first() != Some(&1) {
        faults.push(format!("the first heading is not a title: {levels:?}"));
    }
    if levels.windows(2).any(|pair| pair[1] > pair[0] + 1) {
        faults.push(format!("a heading level is skipped: {levels:?}"));
    }
    for tag in &tags {
        if tag.role == "TH" && !tag.has_scope {
            faults.push("a table head without a scope".to_owned());
        }
        if tag.role == "Figure" && tag.alt.trim().chars().count() < 4 {
            faults.push(format!("a picture that says nothing: {:?}", tag.alt));
        }
    }
    faults.extend(head_faults(document));
    if aloud::decorations(document) == 0 {
        faults.push("no rule, head or foot is marked as decoration".to_owned());
    }
    let said = aloud::aloud(document);
    if !said.iter().any(|said| said.role == "H1") {
        faults.push("the title is not read aloud".to_owned());
    }
    if tags.iter().any(|t| t.role == "Table") && !tags.iter().any(|t| t.role == "TH") {
        faults.push("a table without heads".to_owned());
    }
    faults.extend(
        photos(document)
            .iter()
            .filter(|jpeg| carries_metadata(jpeg))
            .map(|_| "an embedded photo still carries what a camera wrote into it".to_owned()),
    );
    faults
}

/// The title where a reader's window and where a catalogue looks for it, and the language.
fn head_faults(document: &Document) -> Vec<String> {
    let dictionary = |object: Option<&Object>| match document.dereference(object?).ok()?.1 {
        Object::Dictionary(found) => Some(found.clone()),
        _ => None,
    };
    let catalog = document.catalog().unwrap();
    let info = dictionary(document.trailer.get(b"Info").ok()).unwrap_or_default();
    let title = info.get(b"Title").map(text_of).unwrap_or_default();
    let described = catalog.get(b"Metadata").and_then(|object| document.dereference(object));
    let described = match described {
        Ok((_, Object::Stream(stream))) => String::from_utf8_lossy(&stream.content).into_owned(),
        _ => String::new(),
    };
    let shown = dictionary(catalog.get(b"ViewerPreferences").ok());
    let shown =
        shown.and_then(|shown| shown.get(b"DisplayDocTitle").and_then(Object::as_bool).ok());
    let plain = title.replace('&', "&amp;").replace('<', "&lt;").replace('>', "&gt;");
    let language = catalog.get(b"Lang").map(text_of).unwrap_or_default();
    [
        (title.trim().is_empty(), format!("no title: {title:?}")),
        (!described.contains(&format!(">{plain}<")), format!("another title than {title:?}")),
        (shown != Some(true), "its window shows its file's name".to_owned()),
        (language.len() < 2, format!("no language: {language:?}")),
    ]
    .into_iter()
    .filter_map(|(is_wrong, fault)| is_wrong.then_some(fault))
    .collect()
}

/// One element of the structure tree, in reading order.
#[derive(Debug)]
pub struct Tag {
    pub role: String,
    pub alt: String,
    has_scope: bool,
}

fn heading_level(role: &str) -> Option<u32> {
    role.strip_prefix('H')?.parse().ok()
}

/// The structure tree in reading order.
pub fn tags(document: &Document) -> Vec<Tag> {
    let mut tags = Vec::new();
    let root = document
        .catalog()
        .and_then(|catalog| catalog.get(b"StructTreeRoot"))
        .and_then(|root| document.dereference(root));
    if let Ok((_, Object::Dictionary(root))) = root {
        walk_kids(document, root, &mut tags);
    }
    tags
}

fn walk_kids(document: &Document, element: &Dictionary, tags: &mut Vec<Tag>) {
    let Ok((_, kids)) = element.get(b"K").and_then(|kids| document.dereference(kids)) else {
        return;
    };
    let kids = match kids {
        Object::Array(kids) => kids.clone(),
        other => vec![other.clone()],
    };
    for kid in &kids {
        if let Ok((_, Object::Dictionary(kid))) = document.dereference(kid)
            && let Ok(role) = kid.get(b"S").and_then(Object::as_name)
        {
            tags.push(Tag {
                role: String::from_utf8_lossy(role).into_owned(),
                alt: kid.get(b"Alt").map(text_of).unwrap_or_default(),
                has_scope: has_scope(document, kid),
            });
            walk_kids(document, kid, tags);
        }
    }
}

fn has_scope(document: &Document, element: &Dictionary) -> bool {
    let Ok((_, attributes)) = element.get(b"A").and_then(|a| document.dereference(a)) else {
        return false;
    };
    let list = match attributes {
        Object::Array(list) => list.clone(),
        other => vec![other.clone()],
    };
    list.iter().any(|attribute| {
        matches!(document.dereference(attribute), Ok((_, Object::Dictionary(d))) if d.has(b"Scope"))
    })
}

/// A PDF text string as text.
pub fn text_of(object: &Object) -> String {
    let Ok(bytes) = object.as_str() else { return String::new() };
    match bytes.strip_prefix(&[0xfe, 0xff]) {
        Some(wide) => {
            let units: Vec<u16> =
                wide.chunks_exact(2).map(|pair| u16::from_be_bytes([pair[0], pair[1]])).collect();
            String::from_utf16_lossy(&units)
        }
        None => String::from_utf8_lossy(bytes).into_owned(),
    }
}

/// The embedded JPEGs as they stand in the file.
pub fn photos(document: &Document) -> Vec<Vec<u8>> {
    let jpeg = |object: &Object| {
        let stream = object.as_stream().ok()?;
        let is = |key: &[u8], name: &[u8]| match stream.dict.get(key) {
            Ok(Object::Name(found)) => found.as_slice() == name,
            Ok(Object::Array(list)) => list.iter().any(|o| o.as_name().ok() == Some(name)),
            _ => false,
        };
        (is(b"Subtype", b"Image") && is(b"Filter", b"DCTDecode")).then(|| stream.content.clone())
    };
    document.objects.values().filter_map(jpeg).collect()
}

/// Whether a JPEG has an application segment other than its JFIF head and colour profile.
fn carries_metadata(jpeg: &[u8]) -> bool {
    let mut at = 2;
    while at + 4 <= jpeg.len() && jpeg[at] == 0xff && jpeg[at + 1] != 0xda {
        let (marker, length) =
            (jpeg[at + 1], usize::from(u16::from_be_bytes([jpeg[at + 2], jpeg[at + 3]])));
        let body = &jpeg[(at + 4).min(jpeg.len())..(at + 2 + length).min(jpeg.len())];
        let plain = match marker {
            0xe0 => body.starts_with(b"JFIF"),
            0xe2 => body.starts_with(b"ICC_PROFILE"),
            0xee => body.starts_with(b"Adobe"),
            0xe1..=0xef | 0xfe => false,
            _ => true,
        };
        if !plain {
            return true;
        }
        at += 2 + length;
    }
    false
}

/// Everything a listing sheet of the demo says, in the order in which it is read.
#[test]
fn a_listing_sheet_is_read_in_its_order() {
    let shop = crate::shell::copy_of(&crate::shell::demo());
    let made = crate::shell::dovetally(shop.path(), &["make", "--piece", "24-005"]);
    let sheet = shop.path().join("out/pieces/24-005/listing-sheet.pdf");
    let sheet = std::fs::read(sheet).unwrap_or_else(|_| panic!("{}", made.err));
    let mut document = Document::load_mem(&sheet).unwrap();
    let said = aloud::aloud(&document);
    let words: Vec<String> = said.iter().map(|said| said.text.to_lowercase()).collect();
    let order = [
        "pennyroyal bench",
        "tall open bookcase",
        "$260.00",
        "no. 24",
        "a tall, shallow",
        "wood",
        "finish",
        "the work",
        "not original",
        "condition",
        "caution",
        "size",
        "care",
        "bench@",
    ];
    let mut from = 0;
    for wanted in order {
        let at = words[from..].iter().position(|words| words.contains(wanted));
        let at =
            at.unwrap_or_else(|| panic!("`{wanted}` is not read after the others: {words:#?}"));
        from += at;
    }
    // Without its head the same sheet is found out.
    assert_eq!(structure_faults(&document), Vec::<String>::new());
    document.trailer.remove(b"Info");
    let catalog = document.catalog_mut().unwrap();
    catalog.remove(b"Lang");
    catalog.remove(b"ViewerPreferences");
    let faults = structure_faults(&document).join("; ");
    for wanted in ["no title", "its window", "no language"] {
        assert!(faults.contains(wanted), "{wanted}: {faults}");
    }
    document.catalog_mut().unwrap().remove(b"StructTreeRoot");
    assert!(structure_faults(&document).join("; ").contains("not read aloud"));
}

/// Papers beside the listing sheet and the summary, in the order in which they are read.
#[test]
fn the_other_papers_are_read_in_their_order() {
    let shop = crate::shell::copy_of(&crate::shell::demo());
    let wanted = "shop-record,buyers-receipt,quarter-sheet,inventory,count-sheet";
    let made = crate::shell::dovetally(shop.path(), &["make", "--only", wanted]);
    assert_eq!(made.status, dovetally::cli::Status::Done, "{}", made.err);
    for (paper, order) in READ_IN_ORDER {
        let pdf = std::fs::read(shop.path().join("out").join(paper));
        let document = Document::load_mem(&pdf.unwrap()).unwrap();
        let said = aloud::aloud(&document);
        let words: Vec<String> = said.iter().map(|said| said.text.to_lowercase()).collect();
        let mut from = 0;
        for wanted in *order {
            let at = words[from..].iter().position(|words| words.contains(wanted));
            from +=
                at.unwrap_or_else(|| panic!("{paper}: `{wanted}` not in its place: {words:#?}"));
        }
        let tags = tags(&document);
        let lists = tags.iter().filter(|tag| tag.role == "LI").count();
        assert_eq!(lists > 0, paper.contains("shop-record"), "{paper}: the steps are a list");
    }
}

const READ_IN_ORDER: &[(&str, &[&str])] = &[
    (
        "pieces/24-001/shop-record.pdf",
        &[
            "oak washstand",
            "money",
            "purchase",
            "$58.51",
            "net after labor",
            "hours by task",
            "strip",
            "together",
            "before and after",
            "what was written",
            "bought",
            "receipts",
            "finish, as it was done",
            "two coats",
            "in the shop",
            "oily rags",
        ],
    ),
    (
        "pieces/24-014/buyers-receipt-1.pdf",
        &[
            "receipt",
            "7 december 2024",
            "long elm bench",
            "price",
            "390.00",
            "sales tax, alder county",
            "together",
            "$413.40",
            "paid 7 december",
            "200.00",
            "paid in full",
            "what was disclosed",
            "cautions",
            "as stated by the seller",
            "returns",
            "for the shop",
            "the buyer",
            "pennyroyal bench",
        ],
    ),
    (
        "pieces/24-002/credit-receipt-1.pdf",
        &["credit receipt", "chestnut", "refund", "288.00", "given back", "$305.28", "came back"],
    ),
    (
        "years/2025/quarter-4.pdf",
        &[
            "quarter 4 of 2025",
            "1 october 2025",
            "profit so far",
            "line",
            "gross receipts",
            "1,457.00",
            "4,474.00",
            "net profit or loss",
            "sales tax, alder county",
            "taxable sales",
            "still due",
            "your own estimated tax",
            "due 15 april",
        ],
    ),
    (
        "inventory.pdf",
        &["inventory", "seven pieces", "cost so far", "24–005", "119.93", "together", "shop stock"],
    ),
    (
        "count-sheet.pdf",
        &["count sheet", "24–005", "in the books", "birch-plywood", "2.09 sheets", "[[count]]"],
    ),
];

#[test]
fn the_checks_see_what_is_wrong() {
    assert!(!faults(b"not a pdf", false).is_empty());
    assert!(carries_metadata(b"\xff\xd8\xff\xe1\x00\x08Exif\0\0\xff\xda"));
    assert!(carries_metadata(b"\xff\xd8\xff\xfe\x00\x04hi\xff\xda"));
    assert!(!carries_metadata(b"\xff\xd8\xff\xe0\x00\x07JFIF\0\xff\xda"));
}
