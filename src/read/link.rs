//! The address of a listing, which is printed as a link code.

use super::value::{Fault, Reader, Value};
use crate::model::Code;

/// A link code of a longer address is no longer read off paper at arm's length: at 250 bytes its
/// squares are half a millimetre in a code of an inch and a quarter.
const LONGEST: usize = 250;

const SCHEMES: [&str; 2] = ["https://", "http://"];

/// A web address.
pub(super) const LINK: Reader<String> = Reader {
    what: "a web address in quotation marks",
    example: "\"https://shop.example/25-014\"",
    stand_in: String::new,
    read: link,
};

fn link(value: &Value) -> Result<String, Fault> {
    let address = value.text()?.trim();
    if address.is_empty() {
        return Err(value.empty());
    }
    let fault = |message: String, label: &str| Fault::new(Code::ListingLink, message).label(label);
    let Some(rest) = SCHEMES.iter().find_map(|scheme| address.strip_prefix(scheme)) else {
        let message = format!("`{address}` does not begin with `https://` or `http://`");
        return Err(fault(message, "not a web address"));
    };
    let host = rest.split(['/', '?', '#']).next().unwrap_or_default();
    if host.is_empty() || address.contains(|c: char| c.is_whitespace() || c.is_control()) {
        let message = "the address names no place, or has a blank in it".to_owned();
        return Err(fault(message, "not a web address"));
    }
    if address.len() > LONGEST {
        let message = format!(
            "the address has {} characters; a link code that can be read off paper has at most \
             {LONGEST}",
            address.len()
        );
        let hint = "leave out what comes after `?`, or use the short address the channel gives";
        return Err(fault(message, "too long").say(hint));
    }
    Ok(address.to_owned())
}
