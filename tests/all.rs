//! The one integration-test binary: a module per floor or concern, in a file of its own name.

mod bad_books;
mod bank;
mod books;
mod cards;
mod commands;
mod demo;
mod describe;
mod folders;
mod house;
mod listings;
mod pages;
mod paper;
mod paper_small;
mod pdf;
mod published_shop;
mod published_textbook;
mod published_year;
mod read;
mod readme;
mod records;
mod review;
mod shell;
mod shops;
mod shopview;
mod yearpaper;
