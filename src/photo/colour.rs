//! From the colours a photo's own profile describes to sRGB, so that the profile, which names the
//! device, need not reach the paper. In plain arithmetic, so that every machine gives the same bytes.
//!
//! Profiles made of three curves and three colorants are followed: those of cameras, telephones and
//! screens. Sources: ICC.1:2022, 8.3.3 "Three-component matrix-based Input profiles", and IEC
//! 61966-2-1 for the curve of sRGB (both from memory).

use image::RgbImage;
use moxcms::{ColorProfile, DataColorSpace, Matrix3d, ToneReprCurve};

/// Steps of the way back from light to coded values: many more than an eighth bit tells apart.
const STEPS: usize = 1 << 14;

/// Sets a picture in sRGB. One whose profile cannot be followed is taken to be in sRGB already, as
/// one without a profile is.
pub fn set_in_srgb(picture: &mut RgbImage, profile: &[u8]) {
    let Some(conversion) = Conversion::of(profile) else { return };
    for pixel in picture.pixels_mut() {
        pixel.0 = conversion.of_pixel(pixel.0);
    }
}

struct Conversion {
    /// From a coded value to light, for red, green and blue.
    light: [Vec<f64>; 3],
    matrix: Matrix3d,
    code: Vec<u8>,
}

impl Conversion {
    fn of(profile: &[u8]) -> Option<Conversion> {
        let profile = ColorProfile::new_from_slice(profile).ok()?;
        let xyz = profile.pcs == DataColorSpace::Xyz && profile.color_space == DataColorSpace::Rgb;
        let curves = [&profile.red_trc, &profile.green_trc, &profile.blue_trc];
        let [red, green, blue] = curves.map(|curve| curve.as_ref().and_then(light));
        let matrix = profile.transform_matrix(&ColorProfile::new_srgb());
        let sound = matrix.v.iter().flatten().all(|value| value.is_finite());
        (xyz && sound).then_some(())?;
        Some(Conversion { light: [red?, green?, blue?], matrix, code: codes() })
    }

    fn of_pixel(&self, pixel: [u8; 3]) -> [u8; 3] {
        let light: [f64; 3] = std::array::from_fn(|i| self.light[i][usize::from(pixel[i])]);
        self.matrix.v.map(|row| {
            let mixed = row[0] * light[0] + row[1] * light[1] + row[2] * light[2];
            self.code[(mixed.clamp(0.0, 1.0) * (STEPS - 1) as f64).round() as usize]
        })
    }
}

fn light(curve: &ToneReprCurve) -> Option<Vec<f64>> {
    let curve = curve.make_linear_evaluator().ok()?;
    let of = |code: u8| f64::from(curve.evaluate_value(f32::from(code) / 255.0)).clamp(0.0, 1.0);
    let light: Vec<f64> = (0..=255).map(of).collect();
    light.iter().all(|value| value.is_finite()).then_some(light)
}

/// The coded value of each step of light.
fn codes() -> Vec<u8> {
    let code = |step: usize| {
        let light = step as f64 / (STEPS - 1) as f64;
        let code = match light <= 0.003_130_8 {
            true => 12.92 * light,
            false => 1.055 * light.powf(1.0 / 2.4) - 0.055,
        };
        (code * 255.0).round() as u8
    };
    (0..STEPS).map(code).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn set(pixel: [u8; 3], profile: &ColorProfile) -> [u8; 3] {
        let mut picture = RgbImage::from_pixel(1, 1, image::Rgb(pixel));
        set_in_srgb(&mut picture, &profile.encode().unwrap());
        picture.get_pixel(0, 0).0
    }

    #[test]
    fn colours_of_srgb_stay_and_greys_stay_grey() {
        for code in 0..=255 {
            for pixel in [[code, code, code], [code, 255 - code, 7]] {
                assert_eq!(set(pixel, &ColorProfile::new_srgb()), pixel);
            }
            let [r, g, b] = set([code, code, code], &ColorProfile::new_display_p3());
            assert!(r.abs_diff(g) <= 1 && g.abs_diff(b) <= 1 && r.abs_diff(code) <= 1, "{code}");
        }
    }

    /// A screen of more colours: its green is greener than all of sRGB, and a mild red is redder
    /// there by its numbers in sRGB.
    #[test]
    fn colours_of_another_profile_are_set_anew() {
        let wide = ColorProfile::new_display_p3();
        assert_eq!(set([0, 255, 0], &wide), [0, 255, 0]);
        let [r, g, b] = set([180, 90, 60], &wide);
        assert!(r > 185 && g < 90 && b < 60, "{r} {g} {b}");
    }

    #[test]
    fn a_profile_that_is_none_changes_nothing() {
        for profile in [b"".as_slice(), b"RGB ", &[0; 200], &[255; 4000]] {
            let mut picture = RgbImage::from_pixel(2, 2, image::Rgb([9, 99, 199]));
            set_in_srgb(&mut picture, profile);
            assert!(picture.pixels().all(|pixel| pixel.0 == [9, 99, 199]));
        }
    }
}
