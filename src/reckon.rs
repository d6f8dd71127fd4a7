//! Adds up what a shop's entries cost and earned. Two views of the same entries, never mixed:
//! the shop view (was it worth my time?) and the books view (the tax form).

pub mod costs;
pub mod fee;
pub mod stock;
pub mod year;
