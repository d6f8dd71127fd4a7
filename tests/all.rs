//! The one integration-test binary: a module per floor or concern, in a file of its own name.

mod books;
mod commands;
mod demo;
mod describe;
mod house;
mod paper;
mod pdf;
mod published_books;
mod published_shop;
mod read;
mod readme;
mod shell;
mod shops;
mod shopview;
mod yearpaper;
