//! CIEDE2000, ISO/CIE 11664-6, in the form of G. Sharma, W. Wu, E. N. Dalal, Color Research and
//! Application 30(1), 2005, whose equation numbers stand beside the lines.
//!
//! Own code because `palette` 0.7.7 does not bring the mean hue back below 360 degrees (equation
//! 14), on which the rotation term depends: it is off by up to 1e-4 where the hues lie on both
//! sides of red.

use borespoke_core::record::Lab;

pub(super) fn difference(one: Lab, other: Lab) -> f64 {
    let seventh = |c: f64| (c.powi(7) / (c.powi(7) + 25f64.powi(7))).sqrt();
    let mean_chroma = f64::midpoint(one.a.hypot(one.b), other.a.hypot(other.b));
    let stretch = 1.5 - 0.5 * seventh(mean_chroma); // (4), (5)
    let polar = |colour: Lab| {
        let a = colour.a * stretch;
        let hue = colour.b.atan2(a).to_degrees();
        (a.hypot(colour.b), if hue < 0.0 { hue + 360.0 } else { hue }) // (6), (7)
    };
    let ((chroma1, hue1), (chroma2, hue2)) = (polar(one), polar(other));
    let grey = chroma1 * chroma2 == 0.0;
    let apart = hue2 - hue1;
    let turn = match apart {
        _ if grey => 0.0,
        a if a > 180.0 => a - 360.0,
        a if a < -180.0 => a + 360.0,
        a => a,
    }; // (10)
    let d_light = other.l - one.l;
    let d_chroma = chroma2 - chroma1;
    let d_hue = 2.0 * (chroma1 * chroma2).sqrt() * (turn / 2.0).to_radians().sin(); // (11)
    let light = f64::midpoint(one.l, other.l);
    let chroma = f64::midpoint(chroma1, chroma2);
    let sum = hue1 + hue2;
    let hue = match sum {
        _ if grey => sum,
        s if apart.abs() <= 180.0 => s / 2.0,
        s if s < 360.0 => f64::midpoint(s, 360.0),
        s => f64::midpoint(s, -360.0),
    }; // (14)
    let cos = |degrees: f64| degrees.to_radians().cos();
    let hues = 1.0 - 0.17 * cos(hue - 30.0) + 0.24 * cos(2.0 * hue) + 0.32 * cos(3.0 * hue + 6.0)
        - 0.20 * cos(4.0 * hue - 63.0); // (15)
    let rotation = 30.0 * (-((hue - 275.0) / 25.0).powi(2)).exp(); // (16)
    let off = (light - 50.0).powi(2);
    let s_light = 1.0 + 0.015 * off / (20.0 + off).sqrt(); // (18)
    let s_chroma = 1.0 + 0.045 * chroma; // (19)
    let s_hue = 1.0 + 0.015 * chroma * hues; // (20)
    let turned = -(2.0 * rotation).to_radians().sin() * 2.0 * seventh(chroma); // (17), (21)
    let (in_light, in_chroma, in_hue) = (d_light / s_light, d_chroma / s_chroma, d_hue / s_hue);
    (in_light.powi(2) + in_chroma.powi(2) + in_hue.powi(2) + turned * in_chroma * in_hue)
        .max(0.0)
        .sqrt() // (22)
}
