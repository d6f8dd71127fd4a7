//! dovetally reads a folder of furniture-restoring project files, totals what each piece cost
//! and earned, and typesets the paper that goes with it.
//!
//! A run goes down one stair; each floor has one door, the function in the file of its name,
//! and uses only the floors to its left:
//!
//! `model ← read ← reckon ← describe ← typeset ← cli`
//!
//! `reckon`, `describe` and `typeset` never use `read`, so all three are tested on plain values.

#![forbid(unsafe_code)]

pub mod cli;
pub mod describe;
pub mod model;
pub mod read;
pub mod reckon;
pub mod typeset;
