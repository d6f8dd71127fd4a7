//! The sentence under the title: the owner's own, else made from kind, age and wood.

use super::age::{earned_word, made_when};
use super::banned::may_print;
use super::kinds::kind_word;
use super::naming::phrase;
use super::subject::Subject;
use super::wording::{is_all, is_secondary, number, sentence, with_article};
use crate::model::WoodForm;

/// The owner's opening where it may be printed, else one made from the facts for so many of the
/// kind; nothing where not even the kind is known.
pub(crate) fn opening(subject: &Subject, count: u32) -> Option<String> {
    let listing = subject.piece.listing.as_ref();
    let own = listing.and_then(|listing| listing.opening.as_ref()).map(|own| own.value.trim());
    let own = own.filter(|own| !own.is_empty() && may_print(subject.piece, own));
    own.map(sentence).or_else(|| made(subject, count))
}

/// The owner's story where it may be printed, as written.
pub(crate) fn story(subject: &Subject) -> Option<String> {
    let story = subject.piece.listing.as_ref()?.story.as_ref()?.value.trim();
    (!story.is_empty() && may_print(subject.piece, story)).then(|| story.to_owned())
}

/// "A set of four painted chairs with their frames in solid beech, made in the 1950s."; nothing
/// where the kind is all there is to say.
fn made(subject: &Subject, count: u32) -> Option<String> {
    let piece = subject.piece;
    let kind = subject.kind?;
    let antique = earned_word(piece).filter(|row| row.mostly_original).map(|row| row.word.as_str());
    let paint = subject.finishes.iter().flatten().any(|finish| finish.is("paint"));
    let painted = paint.then_some("painted");
    let before: String =
        [antique, painted].iter().flatten().map(|word| format!("{word} ")).collect();
    let noun = match count {
        0 | 1 => with_article(&format!("{before}{}", kind_word(piece, kind))),
        n => format!("a set of {} {before}{}", number(n), kind.plural),
    };
    let wood = wood(subject, count).map(|wood| format!(" {wood}")).unwrap_or_default();
    let age = made_when(piece.made.value).map(|age| format!(", {age}")).unwrap_or_default();
    let told = format!("{noun}{wood}{age}");
    (told != with_article(kind_word(piece, kind))).then(|| sentence(&told))
}

/// "in solid beech", "with its top in what appears to be oak"; nothing for a wood that is not named, or
/// a panel.
fn wood(subject: &Subject, count: u32) -> Option<String> {
    let woods = &subject.piece.wood;
    let main = woods.iter().find(|entry| !is_secondary(&entry.part)).or(woods.first())?;
    main.species.as_ref()?;
    let panel =
        matches!(main.form, WoodForm::Plywood | WoodForm::Particleboard | WoodForm::Fibreboard);
    let what =
        if main.sure { phrase(main) } else { format!("what appears to be {}", phrase(main)) };
    let whose = if count > 1 { "their" } else { "its" };
    let part = match main.part.trim() {
        part if is_all(part) => String::new(),
        part => format!("with {whose} {part} "),
    };
    (!panel).then(|| format!("{part}in {what}"))
}
