//! The one integration-test binary: a module per floor or concern, in a file of its own name.
mod describe;
