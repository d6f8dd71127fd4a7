//! Whole pieces read as text. `ACCEPT=1 cargo test` writes what is said now; read it aloud first.

use super::pieces::*;
use dovetally::describe::{Description, Document, ENGLISH, Strength, Words, describe, description};
use dovetally::describe::{english, languages, sources_line, words_in};
use dovetally::model::*;
use std::fmt::Write;
use std::path::PathBuf;

fn check(name: &str, country: &str, piece: Piece, price: i64, limit: Option<u32>) {
    let mut shop = shop(country, vec![piece.clone()]);
    shop.finishes = vec![own_oil()];
    shop.state = Some("oh".into());
    let mut described = describe(&shop);
    let (words, findings) = (described.pieces.remove(0), described.findings);
    let channel = channel(limit.map(|_| 80), limit);
    let text = description(&shop, &piece, &words, Some(price.into()), Some(&channel), None);
    accept(name, &page(&words, &findings, &text).replace('\u{a0}', "~"));
}

fn accept(name: &str, now: &str) {
    let path = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join(format!("tests/describe/{name}.txt"));
    if std::env::var_os("ACCEPT").is_some() {
        std::fs::write(&path, now).unwrap();
    }
    let then = std::fs::read_to_string(&path).unwrap_or_default();
    assert!(then == now, "{name} reads differently now (ACCEPT=1 accepts it):\n{now}");
}

/// A no-break space is shown as `~`.
fn page(words: &Words, findings: &[Finding], text: &Description) -> String {
    let mut page = String::new();
    writeln!(page, "HEADLINE {}\n\n{}\n", text.headline, text.body).unwrap();
    for (label, line) in [("wood", &words.made_of), ("finish", &words.finish), ("age", &words.age)]
    {
        writeln!(page, "{label}: {}", line.as_deref().unwrap_or("–")).unwrap();
    }
    if let Some(size) = &words.size {
        writeln!(page, "spoken: {}", size.spoken).unwrap();
    }
    let told = &words.before_after;
    let work: Vec<&str> = told.work.iter().chain(&told.days).map(String::as_str).collect();
    let story = [told.before.join(" "), work.join(" "), told.after.join(" ")];
    writeln!(page, "before: {}\nwork: {}\nafter: {}", story[0], story[1], story[2]).unwrap();
    let care = &words.care;
    let finish: Vec<&str> = care.put_on.iter().chain(&care.finish).map(String::as_str).collect();
    writeln!(page, "\nCARD {}", finish.join(" ")).unwrap();
    let date = |on: Option<_>| on.map_or("ask us".into(), dovetally::describe::wording::date);
    writeln!(
        page,
        "light use {}; fully hard {}",
        date(care.light_use_from),
        date(care.fully_hard_on)
    )
    .unwrap();
    writeln!(page, "until then: {}", care.until.as_deref().unwrap_or("–")).unwrap();
    writeln!(page, "slower: {}", care.slow.as_deref().unwrap_or("–")).unwrap();
    for (label, lines) in [
        ("care", &care.care),
        ("never", &care.never),
        ("spill", &care.spill),
        ("renewal", &care.renewal),
    ] {
        writeln!(page, "{label}: {}", lines.join(" ")).unwrap();
    }
    writeln!(page, "\nCAUTIONS").unwrap();
    for caution in &words.cautions {
        let strength = match caution.strength {
            Strength::Hold => "HOLD",
            Strength::Caution => "caution",
            Strength::ShopNote => "shop note",
        };
        writeln!(page, "{strength} {} because {}", caution.id, caution.reason).unwrap();
    }
    let printed = words.cautions.iter().filter(|c| c.strength != Strength::ShopNote);
    writeln!(page, "{}", sources_line(printed, english()).unwrap_or_default()).unwrap();
    writeln!(page, "\nRECIPE").unwrap();
    for step in &words.recipe {
        writeln!(page, "{}", step.text).unwrap();
    }
    writeln!(page, "\nLACKS").unwrap();
    for lack in &words.lacks {
        let paper = match lack.document {
            Document::ListingSheet => "listing sheet",
            Document::Description => "description",
            Document::CareCard => "care card",
            Document::ShopRecord => "shop record",
        };
        writeln!(page, "{paper}{}: {}", if lack.needed { " needs" } else { "" }, lack.what)
            .unwrap();
    }
    writeln!(page, "\nFINDINGS").unwrap();
    for finding in findings {
        let hint = finding.hint.as_deref().unwrap_or("–");
        writeln!(
            page,
            "{:?} {}: {} → {hint}",
            finding.severity,
            finding.code.word(),
            finding.message
        )
        .unwrap();
    }
    page
}

#[test]
fn a_washstand_with_everything_said() {
    let mut p = kind_of("Quarter-sawn oak washstand", "washstand", "about 1910");
    p = sized(p, "36 1/4", "18", "29 1/2");
    p.weight = Some(parse_weight("64 lb").unwrap());
    p.wood = vec![
        wood("case and top", "quarter-sawn white oak", WoodForm::Solid),
        Wood { sure: false, ..wood("drawer sides", "pine", WoodForm::Unstated) },
    ];
    p.work = vec![
        work("strip and sand"),
        work("re-glue long drawer"),
        work("finish"),
        work("photographs"),
    ];
    p.coat = vec![
        Coat {
            sheen: Some("satin".into()),
            between: Some("400 grit".into()),
            ..coat("outside", "water-based polyurethane", 3, "2025-03-11")
        },
        coat("drawer runners", "paste wax", 1, "2025-03-12"),
    ];
    p.change = vec![
        change("towel rail", ChangeKind::Replaced, "ash"),
        change("two of the knobs", ChangeKind::Replaced, "reproduction bail pulls"),
    ];
    p.flaw = vec![
        flaw("old burn mark on the top, sanded back, still faintly visible"),
        flaw("the left door sticks in damp weather"),
    ];
    p = with_facts(p, &[("old-paint", "none")]);
    p.listing = Some(listing("2025-03-15"));
    check("washstand", "us", p, 420, None);
}

#[test]
fn a_title_alone() {
    check("title-only", "us", piece("Pine washstand"), 240, None);
}

#[test]
fn a_chest_of_unknown_latch() {
    let mut p = kind_of("Blanket chest", "blanket chest", "unknown");
    p.wood = vec![wood("outside", "birch", WoodForm::Plywood)];
    p.coat = vec![coat("", "old varnish of some kind, as found", 1, "")];
    check("chest-held", "us", p, 180, None);
}

#[test]
fn a_chest_made_safe_and_short_of_room() {
    let mut p =
        sized(kind_of("Pine blanket chest", "blanket chest", "1880-1890"), "42", "19", "21 5/16");
    p.wood = vec![wood("", "eastern white pine", WoodForm::Solid)];
    p.work = vec![work("repair lid hinge"), work("wax")];
    p.coat = vec![coat("", "paste wax", 2, "2025-05-01")];
    p.change = vec![
        change("lock", ChangeKind::Removed, ""),
        change("lid support", ChangeKind::Added, "a spring-loaded stay"),
    ];
    p = with_facts(
        p,
        &[
            ("latch", "removed"),
            ("lid-support", "holds"),
            ("old-paint", "none"),
            ("recall-check", "clear"),
            ("insect-holes", "old"),
        ],
    );
    let mut offered = listing("2025-05-10");
    offered.story =
        Some(here("It stood in a farmhouse hall for as long as anyone remembers.".into()));
    p.listing = Some(offered);
    check("chest-short", "us", p, 290, Some(560));
}

#[test]
fn a_painted_dresser_of_unknown_age() {
    let mut p = sized(kind_of("Painted dresser", "dresser", "unknown"), "40", "20", "48 1/8");
    p.wood = vec![wood("", "unknown", WoodForm::Unstated)];
    p.work = vec![work("sand 80, 220"), work("paint")];
    p.coat = vec![
        coat("case", "shellac-based primer", 1, "2025-06-01"),
        coat("case", "chalk paint", 2, "2025-06-03"),
        coat("case", "clear wax", 1, "2025-06-05"),
    ];
    check("dresser-painted", "us", p, 350, None);
}

#[test]
fn a_set_of_upholstered_chairs() {
    let mut p = kind_of("Four beech dining chairs", "chair", "1950s");
    p.count = 4;
    p.wood = vec![Wood {
        stained: Some("dark walnut".into()),
        ..wood("frames", "beech", WoodForm::Solid)
    }];
    p.work = vec![work("re-glue all joints"), work("re-upholster seats")];
    p.coat = vec![coat("frames", "Danish oil", 2, "2025-08-01")];
    p.change = vec![
        change("seat covers", ChangeKind::Replaced, "wool cloth"),
        change("one back rail", ChangeKind::Repaired, "hide glue"),
    ];
    p.upholstered_on = Some(here(day("2025-07-20")));
    p = with_facts(
        p,
        &[("upholstery", "renewed"), ("fire-record", "on-file"), ("old-paint", "none")],
    );
    check("chairs", "us", p, 480, None);
}

#[test]
fn a_rosewood_cabinet_in_the_united_kingdom() {
    let mut p = kind_of("Small display cabinet", "display cabinet", "about 1880");
    p.width = length("61 cm");
    p.height = length("142 cm");
    p.wood = vec![Wood {
        sure: false,
        over: Some("pine".into()),
        ..wood("", "rosewood", WoodForm::Veneer)
    }];
    p.coat = vec![coat("", "french polish", 1, "2025-09-01")];
    p.work = vec![work("French polishing"), work("strip old paint from the back")];
    p.flaw = vec![flaw("veneer chipped at the left foot"), flaw("one shelf is missing")];
    p = with_facts(p, &[("old-paint", "none"), ("glass", "unmarked"), ("anti-tip", "supplied")]);
    p.listing = Some(listing("2025-09-20"));
    check("cabinet-uk", "gb", p, 900, None);
}

#[test]
fn an_old_mirror_with_words_that_are_never_printed() {
    let mut p = kind_of("Vintage gilt mirror, like new", "mirror", "about 1900");
    p.wood = vec![wood("frame", "lime", WoodForm::Solid)];
    p.coat = vec![coat("frame", "gilding size", 1, "2025-02-01")];
    let mut offered = listing("2025-02-10");
    offered.story = Some(here("Guaranteed antique, and lead-free.".into()));
    p.listing = Some(offered);
    check("mirror-banned", "us", p, 150, None);
}

#[test]
fn a_laminated_desk_of_panels() {
    let mut p = sized(kind_of("Solid walnut desk", "desk", "2005"), "120 cm", "60 cm", "74 cm");
    p.wood = vec![
        Wood { over: Some("particleboard".into()), ..wood("top", "walnut", WoodForm::Veneer) },
        wood("back", "birch", WoodForm::Plywood),
        wood("sides", "unknown", WoodForm::Particleboard),
    ];
    p.coat = vec![
        coat("top", "oil-based wood stain", 1, "2025-04-01"),
        coat("top", "waterborne poly", 3, "2025-04-02"),
    ];
    p.work = vec![work("sand top 150, 180, 320")];
    check("desk-panels", "ca", p, 120, None);
}

#[test]
fn a_sideboard_that_comes_apart() {
    let mut p =
        sized(kind_of("Tall mahogany sideboard", "sideboard", "1890s"), "66", "23 1/2", "84");
    p.wood = vec![wood("", "mahogany", WoodForm::Solid)];
    p.weight = Some(parse_weight("240 lb").unwrap());
    p.apart = vec![
        loose("mirrored back", Some(("66", "3", "46")), "62 lb"),
        loose("two centre drawers", Some(("26", "21", "6")), ""),
    ];
    p.remains = Some(LoosePart { height: length("38"), ..loose("base", None, "170 lb") });
    p.photo = vec![before("the sideboard as found, dull and grey, four handles gone")];
    p.work = vec![
        Work {
            on: Some(here(day("2025-02-28"))),
            ..work("clean with spirits, re-glue left plinth")
        },
        Work { on: Some(here(day("2025-03-04"))), ..work("fit new handles") },
        Work { on: Some(here(day("2025-03-09"))), ..work("French polishing") },
    ];
    p.coat = vec![coat("", "shellac", 8, "2025-03-09"), coat("base", "paste wax", 1, "2025-03-20")];
    p.change = vec![change("four handles", ChangeKind::Replaced, "reproduction brass")];
    p.function = Some(here(Function::Sticks));
    p.completeness = Some(here(Completeness::PartMissing));
    p.flaw = vec![flaw("the left door sticks"), flaw("the key is missing")];
    p = with_facts(p, &[("mirror", "old"), ("old-paint", "none"), ("anti-tip", "fitted")]);
    check("sideboard-apart", "us", p, 950, None);
}

#[test]
fn an_alder_chest_of_drawers_with_the_shops_own_oil() {
    let mut p = sized(
        kind_of("Alder chest of drawers", "chest of drawers", "about 1930"),
        "36",
        "18",
        "30",
    );
    p.wood = vec![wood("", "red alder", WoodForm::Solid)];
    p.work = vec![work("sand 120, 180, 220"), work("oil")];
    p.coat = vec![coat("outside", "Bench oil no. 2", 3, "2025-04-01")];
    p.function = Some(here(Function::Works));
    p.completeness = Some(here(Completeness::Complete));
    p = with_facts(
        p,
        &[("old-paint", "none"), ("anti-tip", "supplied"), ("recall-check", "clear")],
    );
    check("own-oil", "us", p, 260, None);
}

#[test]
fn chairs_in_ohio_with_little_said() {
    let mut p = sized(kind_of("Two oak armchairs", "armchair", "unknown"), "27", "30", "41");
    p.count = 2;
    p.work = vec![work("tighten joints; rub down"), work("wax")];
    p.function = Some(here(Function::NotTried));
    p.completeness = Some(here(Completeness::NotKnown));
    p = with_facts(p, &[("upholstery", "as-found")]);
    check("chairs-ohio", "us", p, 300, None);
}

#[test]
fn an_upholstered_armchair_as_found() {
    let mut p = sized(kind_of("Wing chair", "armchair", "1960s"), "30", "32", "42 1/2");
    p.wood = vec![Wood { sure: false, ..wood("legs", "beech", WoodForm::Solid) }];
    p.work = vec![work("tighten the joints"), work("clean legs"), work("wax legs")];
    p.coat = vec![coat("legs", "furniture wax", 1, "2025-10-02")];
    p.flaw = vec![flaw("The cloth is faded on the arms"), flaw("left castor missing")];
    p = with_facts(p, &[("upholstery", "as-found"), ("old-paint", "none")]);
    check("armchair", "us", p, 95, None);
}

#[test]
fn a_glass_fronted_cabinet_with_a_light() {
    let mut p =
        sized(kind_of("Glass cabinet", "display cabinet", "1988"), "90 cm", "38 cm", "185 cm");
    p.weight = Some(parse_weight("52 kg").unwrap());
    p.wood = vec![
        Wood { over: Some("fibreboard".into()), ..wood("carcase", "cherry", WoodForm::Veneer) },
        wood("frames of the doors", "cherry", WoodForm::Solid),
    ];
    p.work = vec![work("repair door hinge"), work("clean glass")];
    p.coat = vec![coat("", "nitrocellulose lacquer", 2, "2025-11-03")];
    p.change = vec![change("one glass shelf", ChangeKind::Replaced, "new plate glass")];
    p = with_facts(
        p,
        &[
            ("glass", "unmarked"),
            ("wiring", "untested"),
            ("anti-tip", "supplied"),
            ("old-paint", "none"),
        ],
    );
    p.listing = Some(listing("2025-11-10"));
    check("glass-cabinet", "us", p, 310, None);
}

#[test]
fn a_stool_with_a_finish_nobody_knows() {
    let mut p = kind_of("Milking stool", "stool", "1890s");
    p.wood = vec![wood("seat", "elm", WoodForm::Solid), wood("legs", "unknown", WoodForm::Solid)];
    p.coat = vec![coat("", "grandfather's brown dressing", 1, "2025-05-05")];
    p.flaw = vec![flaw("old worm holes in one leg")];
    p = with_facts(p, &[("insect-holes", "unknown"), ("upholstery", "none")]);
    check("stool-unknown-finish", "us", p, 60, None);
}

#[test]
fn a_set_of_chairs_of_which_two_are_sold() {
    let mut p = sized(kind_of("Spindle-back chairs", "chair", "about 1930"), "17", "18", "35 1/4");
    p.count = 6;
    p.wood = vec![wood("", "ash", WoodForm::Solid), wood("seats", "elm", WoodForm::Solid)];
    p.work = vec![work("glue loose joints"), work("oil")];
    p.coat = vec![coat("", "hardwax oil", 2, "2025-07-01")];
    p.change = vec![change("three stretchers", ChangeKind::Replaced, "ash")];
    p.flaw = vec![flaw("two seats have a dark water ring")];
    p = with_facts(p, &[("upholstery", "none"), ("old-paint", "none")]);
    p.sale = vec![Sale { count: Some(here(2)), ..sale("2025-07-20", 120) }];
    check("chairs-in-part", "us", p, 60, Some(900));
}

#[test]
fn a_limit_of_five_characters() {
    let mut p = kind_of("Mahogany bookcase", "bookcase", "1920s");
    p.wood = vec![wood("", "mahogany", WoodForm::Solid)];
    p.flaw = vec![flaw("a crack in the left side")];
    check("limit-of-five", "us", p, 200, Some(5));
}

#[test]
fn a_story_of_twenty_pages_with_markup_and_another_script() {
    let mut p = kind_of("Комод — chest of drawers <b>", "chest of drawers", "1950");
    p.wood = vec![wood("", "сосна", WoodForm::Solid)];
    let page = "Он стоял в <i>прихожей</i> & never moved. ".repeat(60);
    let mut offered = listing("2025-01-01");
    offered.story = Some(here(vec![page.trim(); 20].join("\n\n")));
    p.listing = Some(offered);
    p = with_facts(p, &[("anti-tip", "fitted"), ("old-paint", "none"), ("recall-check", "clear")]);
    check("story-long", "us", p, 140, Some(2500));
}

/// What a card says in a language, as text.
fn card(name: &str, piece: Piece) {
    let mut all = String::new();
    let (words, _) = told("us", &piece);
    for language in languages().iter().filter(|language| language.code != ENGLISH) {
        let words = words_in(language, &shop("us", vec![piece.clone()]), &piece, &words);
        let label = |id: &str| language.label(id, &[]);
        writeln!(all, "{} — {}", label("care-of"), piece.title.value).unwrap();
        let finish = words.care.put_on.iter().chain(&words.care.finish);
        let finish: Vec<&str> = finish.map(String::as_str).collect();
        writeln!(all, "{}: {}", label("finish"), finish.join(" ")).unwrap();
        for (id, on) in [
            ("light-use-from", words.care.light_use_from),
            ("fully-hard-on", words.care.fully_hard_on),
        ] {
            writeln!(all, "{} {}", label(id), language.date(on.unwrap())).unwrap();
        }
        let until = words.care.until.unwrap();
        writeln!(all, "{}", language.label("until", &[("words", &until)])).unwrap();
        for (id, lines) in [
            ("care", &words.care.care),
            ("never", &words.care.never),
            ("spill", &words.care.spill),
            ("renewal", &words.care.renewal),
        ] {
            writeln!(all, "{}: {}", label(id), lines.join(" ")).unwrap();
        }
        for caution in words.cautions.iter().filter(|c| c.strength != Strength::ShopNote) {
            writeln!(all, "{}: {}", label("caution"), caution.text).unwrap();
        }
        let printed = words.cautions.iter().filter(|c| c.strength != Strength::ShopNote);
        writeln!(all, "{}", sources_line(printed, language).unwrap_or_default()).unwrap();
        writeln!(all, "{}\n", words.cautions_tail.unwrap_or_default()).unwrap();
    }
    accept(name, &all.replace('\u{a0}', "~"));
}

#[test]
fn the_card_of_an_oiled_chest_in_other_languages() {
    let mut p = kind_of("Pine blanket chest", "blanket chest", "about 1900");
    p.weight = Some(parse_weight("70 lb").unwrap());
    p.wood = vec![wood("", "eastern white pine", WoodForm::Solid)];
    p.coat = vec![coat("outside", "danish oil", 2, "2025-07-02")];
    p = with_facts(p, &[("latch", "removed"), ("insect-holes", "old")]);
    card("card-chest", p);
}

#[test]
fn the_card_of_a_painted_dresser_in_other_languages() {
    let mut p = sized(kind_of("Painted dresser", "dresser", "1960"), "40", "20", "48");
    p.coat = vec![coat("", "latex paint", 2, "2025-03-02")];
    p.work = vec![work("sand"), work("paint")];
    p.upholstered_on = Some(here(day("2020-03-01")));
    p = with_facts(p, &[("old-paint", "remains"), ("upholstery", "renewed")]);
    card("card-dresser", p);
}
