//! The description as HTML: well-formed, and the owner's text only ever text.

use super::pieces::*;
use dovetally::describe::{description, html, template};
use dovetally::model::{ChangeKind, FileId, Piece};

/// The text of a page, a space for every tag; fails where an element is not closed in its order, or
/// a character stands bare that must not.
pub fn text_of(page: &str) -> String {
    let (mut open, mut text) = (Vec::new(), String::new());
    let mut rest = page;
    while let Some((before, tagged)) = rest.split_once('<') {
        text += &plain(before);
        text.push(' ');
        let (tag, after) = tagged.split_once('>').expect("a tag ends");
        let name = tag.split(' ').next().unwrap();
        match name.strip_prefix('/') {
            Some(closed) => assert_eq!(open.pop(), Some(closed), "{page}"),
            None if tag.ends_with('/') => {}
            None => open.push(name),
        }
        rest = after;
    }
    assert!(open.is_empty() && rest.trim().is_empty(), "{page}");
    text
}

fn plain(text: &str) -> String {
    assert!(!text.contains(['>', '"']), "a bare character in {text}");
    let mut said = String::new();
    let mut parts = text.split('&');
    said += parts.next().unwrap();
    for part in parts {
        let (name, after) = part.split_once(';').expect("a reference ends");
        said.push(match name {
            "amp" => '&',
            "lt" => '<',
            "gt" => '>',
            "quot" => '"',
            number => char::from_u32(number.strip_prefix('#').unwrap().parse().unwrap()).unwrap(),
        });
        said += after;
    }
    said
}

fn page_of(p: &Piece) -> String {
    let (words, _) = told("us", p);
    let shop = shop("us", vec![p.clone()]);
    html(&description(&shop, p, &words, Some(125.into()), None, None))
}

#[test]
fn each_thing_said_has_its_own_element() {
    let mut p = sized(kind_of("Oak desk", "desk", "about 1950"), "48", "24", "29 1/2");
    p.coat = vec![coat("", "danish oil", 2, "2025-03-11")];
    p.change = vec![change("top", ChangeKind::Replaced, "oak")];
    p.flaw = vec![flaw("one drawer sticks")];
    let page = page_of(&p);
    for said in [
        "<article lang=\"en\">\n<h1>Oak desk, about 1950</h1>\n",
        "<dt>Size</dt>\n<dd>48&#160;&#215;&#160;24&#160;&#215;&#160;29&#189;&#160;in (",
        "<ul>\n<li>The top has been replaced, in oak.</li>\n<li>One drawer sticks.</li>\n</ul>\n",
        "<p><strong>Caution:</strong> If you re-oil it: ",
        "<dt>Price</dt>\n<dd>$125.00.</dd>\n</dl>\n</article>\n",
    ] {
        assert!(page.contains(said), "{said} is not in {page}");
    }
}

#[test]
fn text_of_the_owner_is_never_markup() {
    let mut p = piece("<script>alert(\"x\")</script> & Стол");
    let mut offered = listing("2025-01-01");
    offered.story =
        Some(here("First </p> line\nsecond &amp; line\n\n\nAnother\u{7}paragraph".into()));
    p.listing = Some(offered);
    let page = page_of(&p);
    assert!(page.contains("<h1>&lt;script&gt;alert(&quot;x&quot;)&lt;/script&gt; &amp; &#1057;"));
    let story =
        "<p>First &lt;/p&gt; line<br/>\nsecond &amp;amp; line</p>\n<p>Anotherparagraph</p>\n";
    assert!(page.contains(story), "{page}");
    assert!(text_of(&page).contains("<script>alert(\"x\")</script> & Стол"));
}

#[test]
fn lines_of_a_shops_own_wording_stand_together_and_blocks_apart() {
    let own = "Hello.\n{changes}{condition}{cautions}\nBye.\n\nLast.\n";
    let own = template(FileId(0), own).unwrap();
    let p = kind_of("Desk", "desk", "1990");
    let (words, _) = told("us", &p);
    let text = description(&shop("us", vec![p.clone()]), &p, &words, None, None, Some(&own));
    assert_eq!(text.body, "Hello.\nBye.\n\nLast.");
    assert!(html(&text).contains("<p>Hello.<br/>\nBye.</p>\n<p>Last.</p>\n"), "{}", html(&text));
}
