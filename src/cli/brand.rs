//! What a shop brings of its own for the look of its paper: fonts and a logo, read and tried. What
//! cannot be used is a finding, and the papers are made without it.

use super::apart::{Order, Work, typeset_apart};
use super::files::Fingerprint;
use crate::model::{At, Code, Failure, Finding, Place, Shop, nearest};
use crate::read::read_picture;
use crate::typeset::{
    Brand, Draft, Press, font_families, house_families, logo_name, measure_picture,
};
use std::path::Path;

/// Reads the shop's fonts and logo. A logo or a font that cannot be used is taken out of `shop`.
///
/// # Errors
/// The machine failed while reading.
pub fn read_brand(
    folder: &Path,
    fonts: &[String],
    shop: &mut Shop,
    findings: &mut Vec<Finding>,
) -> Result<Brand, Failure> {
    let mut brand = Brand::default();
    let mut families = house_families();
    for path in fonts {
        match read_picture(folder, path)? {
            Ok(bytes) if !font_families(&bytes).is_empty() => {
                families.extend(font_families(&bytes));
                brand.fonts.push(bytes);
            }
            Ok(_) => findings.push(no_font(path, "is not a font")),
            Err(words) => findings.push(no_font(path, &words)),
        }
    }
    brand.family = family(shop, &families, findings);
    brand.logo = logo(folder, shop, findings)?;
    Ok(brand)
}

fn no_font(path: &str, words: &str) -> Finding {
    Finding::error(Code::FontUnusable, Place::NOWHERE, format!("`{path}` {words}"))
        .hint("put a font there, .ttf or .otf, or remove the file from `fonts`")
}

/// The family chosen, as the font itself spells it.
fn family(shop: &mut Shop, families: &[String], findings: &mut Vec<Finding>) -> Option<String> {
    let chosen = shop.font.take()?;
    let known = families.iter().find(|family| family.to_lowercase() == chosen.value.to_lowercase());
    if let Some(known) = known {
        shop.font = Some(At::new(known.clone(), chosen.place));
        return Some(known.clone());
    }
    let message = format!("there is no font `{}`", chosen.value);
    let hint = match nearest(&chosen.value, families.iter().map(String::as_str)) {
        Some(near) => format!("write `font = \"{near}\"`"),
        None => "put its files into the folder `fonts` beside shop.toml, or remove the line".into(),
    };
    let finding = Finding::error(Code::FontUnknown, chosen.place, message);
    findings.push(finding.label("no such family").hint(hint));
    None
}

fn logo(
    folder: &Path,
    shop: &mut Shop,
    findings: &mut Vec<Finding>,
) -> Result<Option<(String, Vec<u8>)>, Failure> {
    let Some(logo) = shop.logo.take() else { return Ok(None) };
    let name = logo_name(&logo.value).to_owned();
    let found = match read_picture(folder, &logo.value)? {
        Err(words) => Err(words),
        Ok(bytes) => tried(&name, bytes)?,
    };
    match found {
        Ok(bytes) => {
            shop.logo = Some(logo);
            Ok(Some((name, bytes)))
        }
        Err(words) => {
            let message = format!("`{}` {words}", logo.value);
            let hint = "save it as SVG or PNG, or remove the line: the name is printed instead";
            findings.push(Finding::error(Code::LogoUnusable, logo.place, message).hint(hint));
            Ok(None)
        }
    }
}

/// The most pixels of a logo: each paper holds them all.
const MOST_PIXELS: u64 = 16_000_000;

/// The logo's bytes where it can be printed; else words that follow its name. A drawing may be
/// programmed to take any time and memory, so it is tried apart.
fn tried(name: &str, bytes: Vec<u8>) -> Result<Result<Vec<u8>, String>, Failure> {
    let brand = Brand { logo: Some((name.to_owned(), bytes.clone())), ..Brand::default() };
    let faults = match measure_picture(&bytes) {
        Ok(size) if size.pixels() > MOST_PIXELS => {
            let most = MOST_PIXELS / 1_000_000;
            return Ok(Err(format!("has more than {most} million pixels")));
        }
        Ok(_) => Press::new(&[]).with(&brand).check_logo(name).err(),
        Err(_) => {
            let (own, draft, pictures) = (&[], &Draft::default(), &[]);
            let work = Work::Logo(name.to_owned());
            typeset_apart(&Order { own, brand: &brand, draft, pictures, work })?.err()
        }
    };
    Ok(match faults {
        None => Ok(bytes),
        Some(faults) => {
            let first = faults.first().map_or("", |fault| fault.message.as_str());
            Err(format!("is no picture that can be printed: {first}"))
        }
    })
}

/// Adds all that changes what is printed.
pub fn add_to(print: &mut Fingerprint, brand: &Brand) {
    for bytes in brand.fonts.iter().chain(brand.logo.iter().map(|(_, bytes)| bytes)) {
        print.add(bytes);
    }
}
