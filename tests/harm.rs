//! Nothing lost, nothing let in: runs ended from outside, folders, records, layouts, pictures and
//! exports made to do harm, and files of any bytes.

mod amiss;
mod fuzz;
mod kills;
mod layouts;
mod output;
mod pictures;
