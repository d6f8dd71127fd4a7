//! What the conditions of the tables look at: a piece with its kind, finishes and woods resolved
//! once. For this floor only.

use super::finishes::{Finish, unknown_finish};
use super::kinds::kind_of;
use super::own_finishes::Finishes;
use super::woods::{Species, wood};
use super::wording::flat;
use crate::model::{Kind, Piece};
use std::cell::OnceCell;

/// What the conditions look at, gathered once for a piece.
pub(crate) struct Subject<'a> {
    pub piece: &'a Piece,
    pub kind: Option<&'static Kind>,
    /// The finish of each coat, in order; nothing for an unknown product.
    pub finishes: Vec<Option<&'a Finish>>,
    /// The finish that decides care; nothing where no coat is recorded.
    pub care: Option<&'a Finish>,
    /// Every row a wood of the piece may be.
    pub woods: Vec<&'static Species>,
    /// Tasks and their notes, flattened.
    pub tasks: String,
    /// Made when first asked for: few rows of the tables need them.
    mentions: OnceCell<String>,
    told: OnceCell<String>,
}

impl<'a> Subject<'a> {
    pub(crate) fn new(piece: &'a Piece, known: &'a Finishes) -> Subject<'a> {
        let finishes: Vec<_> =
            piece.coat.iter().map(|coat| known.named(&coat.product.value)).collect();
        let care = super::schedule::care_coat(piece, &finishes)
            .map(|index| finishes[index].unwrap_or(unknown_finish()));
        let species = piece.wood.iter().filter_map(|entry| entry.species.as_ref());
        let woods = species.filter_map(|s| wood(&s.value)).flat_map(|meant| meant.rows).collect();
        let work =
            piece.work.iter().map(|w| format!("{} {}", w.task, w.note.as_deref().unwrap_or("")));
        let tasks = flat(&work.collect::<Vec<_>>().join(" . "));
        let (mentions, told) = (OnceCell::new(), OnceCell::new());
        Subject { piece, kind: kind_of(piece), finishes, care, woods, tasks, mentions, told }
    }

    /// Whether it is stated what it is made of, and that is not wood.
    pub(crate) fn is_woodless(&self) -> bool {
        is_woodless(self.piece)
    }

    /// Whether it has no wood and nothing was put on: it has no finish.
    pub(crate) fn is_bare(&self) -> bool {
        self.is_woodless() && self.piece.coat.is_empty()
    }

    /// Everything bought, drawn, put on or done, flattened.
    pub(crate) fn mentions(&self) -> &str {
        self.mentions.get_or_init(|| self.gather_mentions())
    }

    fn gather_mentions(&self) -> String {
        let piece = self.piece;
        let costs = piece.cost.iter().map(|cost| cost.what.as_str());
        let used = piece.used.iter().map(|used| used.stock.value.as_str());
        let coats = piece.coat.iter().map(|coat| coat.product.value.as_str());
        let all: Vec<&str> = costs.chain(used).chain(coats).chain([self.tasks.as_str()]).collect();
        flat(&all.join(" . "))
    }

    /// What the piece is called and what is written of it, its parts, what they are made of besides
    /// wood, and the work, flattened. What was
    /// bought and put on is left out: ivory is a colour of paint too.
    pub(crate) fn told(&self) -> &str {
        self.told.get_or_init(|| self.gather_told())
    }

    fn gather_told(&self) -> String {
        let piece = self.piece;
        let changes = piece.change.iter();
        let changed =
            changes.flat_map(|change| [Some(change.part.as_str()), change.with.as_deref()]);
        let made_of = piece.material.iter().flat_map(|m| [m.part.as_str(), m.of.value.as_str()]);
        let flaws = piece.flaw.iter().map(|flaw| flaw.note.as_str());
        let shown = piece.photo.iter().filter_map(|photo| photo.shows.as_deref());
        let listing = piece.listing.iter().flat_map(|l| [l.opening.as_ref(), l.story.as_ref()]);
        let listed = listing.flatten().map(|said| said.value.as_str());
        let all = std::iter::once(piece.title.value.as_str()).chain(changed.flatten());
        let all: Vec<&str> = all.chain(made_of).chain(flaws).chain(shown).chain(listed).collect();
        flat(&all.join(" . ")) + &self.tasks
    }
}

/// Whether it is stated what a piece is made of, and that is not wood.
pub(crate) fn is_woodless(piece: &Piece) -> bool {
    piece.wood.is_empty() && !piece.material.is_empty()
}
