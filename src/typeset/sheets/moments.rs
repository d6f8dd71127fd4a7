//! The before-and-after picture: the first photo before and the first after, on one page.

use super::common::{numbered, sheet};
use super::{Shot, Subject, draft, layouts, picture_name};
use crate::describe::wording::sentence;
use crate::model::Moment;
use crate::typeset::press::{Draft, PictureUse};
use crate::typeset::view::{BeforeAfterView, MomentPicture, Photo};
use dovetally_photo::Fit;

/// The draft of a piece's before-and-after picture; nothing unless it has a photo of both moments.
pub fn before_and_after(subject: &Subject) -> Option<Draft> {
    let before = subject.shots_of(Moment::Before).next()?;
    let after = subject.shots_of(Moment::After).next()?;
    let title = &subject.piece.title.value;
    let view = BeforeAfterView {
        sheet: sheet(subject.shop, format!("{title}, before and after")),
        heading: title.clone(),
        number: numbered(subject.piece),
        before: picture(subject, "Before", before, 0),
        after: picture(subject, "After", after, 1),
    };
    let uses = [before, after].into_iter().enumerate().map(|(position, shot)| PictureUse {
        name: picture_name(position),
        photo: shot.index,
        fit: Fit::Main,
    });
    Some(draft(layouts::BEFORE_AND_AFTER, &view, uses.collect(), subject.ident("before and after")))
}

fn picture(subject: &Subject, word: &str, shot: &Shot, position: usize) -> MomentPicture {
    let shows = shot.photo.shows.as_deref().map(sentence);
    let title = &subject.piece.title.value;
    let alt = || format!("Photograph of {title}, {}", word.to_lowercase());
    let photo = Photo {
        file: picture_name(position),
        width: shot.main.0,
        height: shot.main.1,
        alt: shows.clone().unwrap_or_else(alt),
        caption: shows,
    };
    MomentPicture { word: word.to_owned(), photo }
}
