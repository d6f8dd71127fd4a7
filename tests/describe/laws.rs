//! What holds for every piece: no banned word of the program's, no disclosure lost, limits kept,
//! both units of one measure.

use super::pieces::*;
use dovetally::describe::*;
use dovetally::model::{Change, ChangeKind, Coat, FileId, Length, Made, Piece, WoodForm};
use dovetally::model::{facts, kinds};
use num_rational::Ratio;
use proptest::prelude::*;

/// Every text the program brings along.
fn own_texts() -> Vec<String> {
    let cautions = caution_rows().iter().flat_map(|row| {
        [Some(&row.text), row.short.as_ref()].into_iter().flatten().cloned().collect::<Vec<_>>()
    });
    let lines = finishes().iter().flat_map(|row| {
        let lists = [&row.care, &row.never, &row.spill, &row.renewal];
        lists
            .into_iter()
            .flatten()
            .cloned()
            .chain([row.about.clone(), row.until.clone()])
            .collect::<Vec<_>>()
    });
    cautions.chain(lines).collect()
}

#[test]
fn no_table_holds_a_banned_word() {
    for text in own_texts() {
        assert!(banned_in(&text).is_none(), "{text}");
    }
}

#[test]
fn every_banned_word_is_refused_with_its_place_and_what_to_say() {
    for row in banned_rows() {
        for word in &row.words {
            let said = word.trim_end_matches('%').to_uppercase().replace(' ', "-");
            let p = piece(&format!("Oak desk, {said} indeed"));
            let (words, findings) = told("us", &p);
            let refused =
                findings.iter().find(|finding| finding.code == "banned-word").expect(word);
            assert!(refused.is_error() && refused.hint.is_some() && words.held(), "{word}");
        }
    }
    let mut p = piece("Oak desk");
    let mut offered = listing("2025-01-01");
    offered.story = Some(here("As good as new.".into()));
    p.listing = Some(offered);
    let (words, findings) = told("us", &p);
    assert!(words.story.is_none() && !words.held() && findings.iter().any(|f| f.is_error()));
}

/// A wording of a shop's own that says a good deal, and the disclosures in one line.
const OWN: &str = "{title}, {age}\n\n{opening}\nWeight {weight}\n\n{wood} {finish}\n\
    What you should know: {changes} {condition} {cautions}\n\nCome and see it.\n{price}\n";

fn any_length() -> impl Strategy<Value = Length> {
    (1i64..2000).prop_map(|n| Length::from_inches(Ratio::new(n, 16)))
}

prop_compose! {
    fn any_coat()(row in 0..finishes().len(), part in "(|top|inside|legs)", coats in 1u32..5,
                  dated in any::<bool>()) -> Coat {
        coat(&part, &finishes()[row].names[0], coats, if dated { "2025-03-11" } else { "" })
    }
}

prop_compose! {
    fn any_change()(part in "(|top|left leg|knobs|two of the feet)", with in "(|ash|brass pulls)",
                    what in 0usize..5) -> Change {
        use ChangeKind::*;
        change(&part, [Repaired, Replaced, Added, Removed, Reshaped][what], &with)
    }
}

prop_compose! {
    fn any_piece()(
        kind in 0..kinds().len(),
        made in proptest::option::of(1800i32..2025),
        size in proptest::option::of((any_length(), any_length(), any_length())),
        coats in proptest::collection::vec(any_coat(), 0..4),
        changes in proptest::collection::vec(any_change(), 0..4),
        flaws in proptest::collection::vec("[a-z]{1,9}( [a-z]{1,9}){0,6}", 0..4),
        stated in proptest::collection::vec((0..facts().len(), 0usize..5), 0..8),
        species in 0..woods().len(), sure in any::<bool>(), form in 0usize..6,
    ) -> Piece {
        use WoodForm::*;
        let mut p = piece("A thing worth having");
        p.kind = Some(here(kinds()[kind].name.clone()));
        p.made = here(made.map_or(Made::Unknown, Made::Year));
        if let Some((w, d, h)) = size {
            (p.width, p.depth, p.height) = (Some(here(w)), Some(here(d)), Some(here(h)));
        }
        p.coat = coats;
        p.change = changes;
        p.flaw = flaws.iter().map(|note| flaw(note)).collect();
        for (fact, value) in stated {
            let fact = &facts()[fact];
            p.safety.insert(fact.key.clone(), here(fact.values[value % fact.values.len()].clone()));
        }
        let form = [Solid, Veneer, Plywood, Particleboard, Fibreboard, Unstated][form];
        p.wood = vec![super::pieces::wood("", &woods()[species].name, form)];
        p.wood[0].sure = sure;
        p
    }
}

fn disclosures(words: &Words) -> Vec<&str> {
    words.not_original.iter().chain(&words.condition).map(String::as_str).collect()
}

fn cautions_said(words: &Words, body: &str) -> bool {
    let said = |caution: &Caution| {
        body.contains(&caution.text)
            || caution.short.as_ref().is_some_and(|short| body.contains(short))
    };
    words.cautions.iter().filter(|c| c.strength == Strength::Caution).all(said)
}

proptest! {
    #[test]
    fn a_description_loses_no_disclosure_and_keeps_its_limits(
        p in any_piece(), headline in 1u32..120, limit in 1u32..3000,
    ) {
        let (words, _) = told("us", &p);
        let shop = shop("us", vec![p.clone()]);
        let channel = channel(Some(headline), Some(limit));
        let text = description(&shop, &p, &words, Some(125.into()), Some(&channel), None);
        prop_assert!(text.headline.chars().count() <= headline as usize);
        prop_assert!(text.body.chars().count() <= limit as usize);
        if words.held() {
            prop_assert!(text.body.is_empty() && text.headline.is_empty());
        } else if text.body.is_empty() {
            let required = disclosures(&words).is_empty() && cautions_said(&words, "");
            prop_assert!(required || text.findings.iter().any(|f| f.code == "description-limit"));
        } else {
            prop_assert!(disclosures(&words).iter().all(|said| text.body.contains(said)));
            prop_assert!(cautions_said(&words, &text.body));
            let whole = |paragraph: &str| paragraph.ends_with(['.', '!', '?']);
            prop_assert!(text.body.split("\n\n").all(whole), "{}", text.body);
        }
        prop_assert!(banned_in(&text.body).is_none() && banned_in(&text.headline).is_none());
    }

    #[test]
    fn a_shops_own_wording_loses_no_disclosure_and_keeps_its_limits(
        p in any_piece(), limit in 1u32..3000,
    ) {
        let (words, _) = told("us", &p);
        let shop = shop("us", vec![p.clone()]);
        let own = template(FileId(0), OWN).unwrap();
        let channel = channel(None, Some(limit));
        let text = description(&shop, &p, &words, None, Some(&channel), Some(&own));
        prop_assert!(text.body.chars().count() <= limit as usize);
        prop_assert!(banned_in(&text.body).is_none());
        if text.body.is_empty() {
            let limited = text.findings.iter().any(|f| f.code == "description-limit");
            let nothing = disclosures(&words).is_empty() && cautions_said(&words, "");
            prop_assert!(words.held() || nothing || limited);
        } else {
            prop_assert!(disclosures(&words).iter().all(|said| text.body.contains(said)));
            prop_assert!(cautions_said(&words, &text.body));
        }
    }

    #[test]
    fn html_says_what_the_text_says(p in any_piece(), limit in 1u32..3000, own in any::<bool>()) {
        let (words, _) = told("us", &p);
        let shop = shop("us", vec![p.clone()]);
        let wording = template(FileId(0), OWN).unwrap();
        let channel = channel(None, Some(limit));
        let wording = own.then_some(&wording);
        let text = description(&shop, &p, &words, Some(125.into()), Some(&channel), wording);
        let page = html(&text);
        let said = super::html::text_of(&page);
        let bare = |text: &str| text.split_whitespace().collect::<String>().replace(':', "");
        prop_assert_eq!(bare(&said), bare(&format!("{} {}", text.headline, text.body)));
        prop_assert!(page.is_ascii());
    }

    #[test]
    fn a_card_in_any_language_promises_nothing_and_loses_no_caution(p in any_piece()) {
        let (words, _) = told("us", &p);
        let shop = shop("us", vec![p.clone()]);
        for language in languages() {
            let own = words_in(language, &shop, &p, &words);
            prop_assert_eq!(own.cautions.len(), words.cautions.len());
            for (one, other) in own.cautions.iter().zip(&words.cautions) {
                prop_assert_eq!((&one.id, one.strength), (&other.id, other.strength));
                prop_assert!(one.short.is_some() == other.short.is_some());
                prop_assert!(banned_in(&one.text).is_none(), "{}", one.text);
            }
            let lists = [&own.care.care, &own.care.never, &own.care.spill, &own.care.renewal];
            for line in lists.into_iter().flatten() {
                prop_assert!(banned_in(line).is_none() && line.ends_with('.'), "{line}");
            }
            prop_assert_eq!(own.care.fully_hard_on, words.care.fully_hard_on);
        }
    }

    #[test]
    fn every_change_and_flaw_is_told(p in any_piece()) {
        let (words, _) = told("us", &p);
        prop_assert_eq!(disclosures(&words).len(), p.change.len() + p.flaw.len());
        prop_assert!(disclosures(&words).iter().all(|said| said.ends_with('.')));
    }

    #[test]
    fn both_units_are_of_one_length(length in any_length()) {
        let mut p = piece("Desk");
        p.width = Some(here(length));
        let (words, _) = told("us", &p);
        let size = words.size.unwrap();
        // Whole centimetres, and tenths below an inch.
        let said = size.centimetres.split('\u{a0}').next().unwrap().to_owned();
        let step = if said.contains('.') { 1 } else { 10 };
        let said: i64 = said.replace('.', "").parse().unwrap();
        let off = length.millimetres() - said * step;
        prop_assert!(off.numer().abs() * 2 <= off.denom() * step);
        let inches = wording::inches(length);
        let back = dovetally::model::parse_length(&inches, Default::default()).unwrap();
        prop_assert_eq!(back, length);
    }
}

#[test]
fn sizes_are_set_with_built_fractions_and_spoken() {
    let p = sized(piece("Desk"), "36 1/4", "18", "31 5/16");
    let size = told("us", &p).0.size.unwrap();
    assert_eq!(size.inches, "36¼\u{a0}×\u{a0}18\u{a0}×\u{a0}31\u{a0}5/16\u{a0}in");
    assert_eq!(size.centimetres, "92\u{a0}×\u{a0}46\u{a0}×\u{a0}80\u{a0}cm");
    assert_eq!(
        size.spoken,
        "36 and a quarter inches wide, 18 inches deep and 31 and five sixteenths inches high"
    );
}

#[test]
fn a_limit_of_five_characters_is_a_finding_and_not_a_stump() {
    let mut p = piece("Mahogany desk");
    p.flaw = vec![flaw("a crack in the top")];
    let (words, _) = told("us", &p);
    let shop = shop("us", vec![p.clone()]);
    let text = description(&shop, &p, &words, None, Some(&channel(Some(3), Some(5))), None);
    let codes: Vec<_> = text.findings.iter().map(|finding| finding.code.word()).collect();
    assert_eq!(codes, ["headline-limit", "description-limit"]);
    assert!(text.headline.is_empty() && text.body.is_empty());
}

#[test]
fn odd_text_stays_whole() {
    let mut p = piece(&"Стол 桌子 #$@*_\\ <b>".repeat(20));
    let mut offered = listing("2025-01-01");
    offered.story = Some(here("<script>x</script> ".repeat(4000)));
    p.listing = Some(offered);
    p.flaw = vec![flaw("  "), flaw("…")];
    p.change = vec![change("  ", ChangeKind::Replaced, "  ")];
    let (words, _) = told("xx", &p);
    let text = description(&shop("xx", vec![p.clone()]), &p, &words, None, None, None);
    assert!(text.body.contains(words.story.as_deref().unwrap()));
    assert!(text.headline.starts_with("Стол"));
}
