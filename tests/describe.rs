//! What a sheet or card may say of a piece: at the door of the floor, on plain values.

mod fit;
mod goldens;
mod laws;
mod naming;
mod pieces;
mod published;
mod rows;
mod stated;
