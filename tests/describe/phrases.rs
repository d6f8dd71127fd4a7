//! The phrase files of the care card: whole, in step with the English tables, and as careful as
//! these in what they promise.

use super::pieces::*;
use dovetally::describe::{ENGLISH, Language, Words, banned_in, card_lines, english};
use dovetally::describe::{language, languages, words_in};
use dovetally::model::{card_languages, languages_of};

fn translations() -> impl Iterator<Item = &'static Language> {
    languages().iter().filter(|language| language.code != ENGLISH)
}

#[test]
fn every_language_that_can_be_chosen_has_its_phrase_file() {
    let chosen: Vec<&str> = card_languages().iter().map(|known| known.code.as_str()).collect();
    let there: Vec<&str> = translations().map(|language| language.code).collect();
    assert_eq!(chosen, there);
}

#[test]
fn every_line_that_can_reach_a_card_is_in_every_phrase_file() {
    let lines = card_lines();
    assert!(lines.len() > 150, "only {} lines", lines.len());
    for language in translations() {
        let missing: Vec<_> =
            lines.iter().filter(|line| !language.line.contains_key(**line)).collect();
        assert!(missing.is_empty(), "{} has no words for {missing:#?}", language.code);
    }
}

#[test]
fn no_phrase_file_keeps_a_line_the_tables_no_longer_have() {
    let lines = card_lines();
    for language in translations() {
        let left: Vec<_> =
            language.line.keys().filter(|line| !lines.contains(&line.as_str())).collect();
        assert!(left.is_empty(), "{} still has {left:#?}", language.code);
    }
}

#[test]
fn every_label_is_in_every_phrase_file_with_the_same_places_to_fill() {
    let places = |text: &str| {
        let mut places: Vec<String> = text
            .split('{')
            .skip(1)
            .filter_map(|rest| Some(rest.split_once('}')?.0.to_owned()))
            .collect();
        places.sort();
        places
    };
    for language in translations() {
        let (english, own) = (&english().label, &language.label);
        assert!(english.keys().eq(own.keys()), "{}", language.code);
        for (id, label) in english {
            assert_eq!(places(label), places(&own[id]), "{} {id}", language.code);
        }
        for (line, said) in &language.line {
            assert_eq!(places(line), places(said), "{}: {line}", language.code);
        }
    }
}

/// The figures of a text, each as it stands: a translation may lose none and add none. A number of
/// a day, an ordinal or a roman century is no figure of its own.
fn figures(text: &str) -> Vec<String> {
    let mut figures: Vec<String> = text
        .split(|c: char| !c.is_ascii_digit())
        .filter(|figure| !figure.is_empty())
        .map(str::to_owned)
        .collect();
    figures.sort();
    figures
}

#[test]
fn a_translation_keeps_every_figure_and_ends_as_its_line_does() {
    for language in translations() {
        for (line, said) in &language.line {
            assert_eq!(figures(line), figures(said), "{}: {line}", language.code);
            assert_eq!(line.ends_with('.'), said.ends_with('.'), "{}: {line}", language.code);
            assert!(said.trim() == said && !said.contains("  "), "{}: {said}", language.code);
            assert!(said != line, "{}: `{line}` is not translated", language.code);
        }
    }
}

#[test]
fn no_phrase_promises_what_english_may_not() {
    for language in translations() {
        for said in language.line.values().chain(language.label.values()) {
            assert!(banned_in(said).is_none(), "{}: {said}", language.code);
        }
    }
}

#[test]
fn promises_are_refused_in_the_owners_spanish_and_french_too() {
    for said in [
        "Mesa restaurada, con garantía de por vida",
        "Acabado no tóxico y sin plomo",
        "Como nueva",
        "Table garantie dix ans",
        "Finition non toxique, sans plomb",
        "Commode comme neuve",
    ] {
        assert!(codes(&piece(said)).contains(&"banned-word"), "{said}");
    }
}

#[test]
fn days_are_written_as_each_language_writes_them() {
    let on = |code: &str, day: &str| {
        language(code).unwrap().date(day.parse().unwrap()).replace('\u{a0}', "~")
    };
    assert_eq!(on("en", "2026-04-01"), "1~April~2026");
    assert_eq!(on("es", "2026-04-11"), "11~de~abril de~2026");
    assert_eq!(on("es", "2026-09-01"), "1~de~septiembre de~2026");
    assert_eq!(on("fr", "2026-08-11"), "11~août~2026");
    assert_eq!(on("fr", "2026-02-01"), "1er~février~2026");
}

#[test]
fn spaced_marks_stay_with_their_word() {
    let care = language("fr").unwrap().say("Nothing hot: it melts the wax.");
    assert_eq!(care, "Rien de chaud\u{a0}: la cire fondrait.");
    let french = language("fr").unwrap();
    let flood = french.say("It has stood in flood water. Joints and veneer may still open as it dries; it is not known what the water carried.");
    assert!(flood.contains("en séchant\u{202f}; on ignore"), "{flood}");
    assert_eq!(french.label("number", &[("number", "7")]), "N°\u{a0}7");
    assert_eq!(language("es").unwrap().label("number", &[("number", "7")]), "N.º\u{a0}7");
}

#[test]
fn a_piece_chooses_over_its_shop() {
    let mut of = shop("us", vec![piece("Desk")]);
    let mut p = piece("Desk");
    assert!(languages_of(&of, &p).is_empty());
    of.card_languages = vec!["es".into(), "fr".into(), "es".into()];
    assert_eq!(languages_of(&of, &p), ["es", "fr"]);
    p.card_languages = Some(vec!["fr".into()]);
    assert_eq!(languages_of(&of, &p), ["fr"]);
    p.card_languages = Some(Vec::new());
    assert!(languages_of(&of, &p).is_empty());
}

#[test]
fn a_card_in_another_language_says_everything_the_english_one_does() {
    let mut p = kind_of("Oak blanket chest", "blanket chest", "about 1900");
    p.coat = vec![coat("outside", "danish oil", 2, "2025-03-11")];
    p = with_facts(p, &[("latch", "removed"), ("lid-support", "none"), ("upholstery", "renewed")]);
    p.upholstered_on = Some(here(day("2025-03-01")));
    let (words, _) = told("us", &p);
    for language in translations() {
        let said = words_in(language, &shop("us", vec![p.clone()]), &p, &words);
        let (own, english) = (&said.care, &words.care);
        for (one, other) in [
            (&own.care, &english.care),
            (&own.never, &english.never),
            (&own.spill, &english.spill),
            (&own.renewal, &english.renewal),
        ] {
            assert!(one.len() == other.len() && one != other, "{one:?}");
        }
        assert_eq!(own.light_use_from, english.light_use_from);
        assert_eq!(own.fully_hard_on, english.fully_hard_on);
        assert!(own.until.is_some() && own.finish.is_some());
        assert_eq!(said.cautions_tail.is_some(), words.cautions_tail.is_some());
        let ids = |words: &Words| words.cautions.iter().map(|c| c.id.clone()).collect::<Vec<_>>();
        assert_eq!(ids(&said), ids(&words));
        let renewed = said.cautions.iter().find(|c| c.id == "re-covered").unwrap();
        assert!(renewed.text.contains(&language.date(day("2025-03-01"))), "{}", renewed.text);
    }
}
