//! The door of `read`: a folder in, a shop and findings out.

mod cases;
mod door;
mod folder;
mod hints;
mod hostile;
mod keys;
mod odd;
mod pictures;
mod random_slips;
mod slips;
mod whole_piece;
