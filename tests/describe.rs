//! What a sheet or card may say of a piece: at the door of the floor, on plain values.

mod fit;
mod goldens;
mod html;
mod laws;
mod materials;
mod naming;
mod phrases;
mod pieces;
mod published;
mod rows;
mod stated;
mod template;
mod triggers;
