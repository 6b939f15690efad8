//! The picture as it is worked on.

use image::metadata::Orientation;

use super::format::Format;
use super::profile::ProfileUsed;

/// An upright picture in linear light on sRGB primaries, scaled down by a whole factor.
#[derive(Debug, Clone)]
pub(crate) struct Raster {
    pub width: usize,
    pub height: usize,
    /// How many pixels of the file went into one, along each side.
    pub factor: usize,
    /// Size of the file's picture, upright.
    pub full_width: usize,
    pub full_height: usize,
    pub pixels: Vec<[f32; 3]>,
    /// Where most of what went into a pixel was burnt out.
    pub clipped: Vec<bool>,
    pub format: Format,
    pub profile: ProfileUsed,
}

impl Raster {
    pub fn turn_upright(&mut self, orientation: Orientation) {
        let (w, h) = (self.width, self.height);
        // For each place in the upright picture, where it comes from (EXIF 2.3, tag 274).
        let from: fn(usize, usize, usize, usize) -> (usize, usize) = match orientation {
            Orientation::NoTransforms => return,
            Orientation::FlipHorizontal => |x, y, w, _| (w - 1 - x, y),
            Orientation::Rotate180 => |x, y, w, h| (w - 1 - x, h - 1 - y),
            Orientation::FlipVertical => |x, y, _, h| (x, h - 1 - y),
            Orientation::Rotate90FlipH => |x, y, _, _| (y, x),
            Orientation::Rotate90 => |x, y, _, h| (y, h - 1 - x),
            Orientation::Rotate270FlipH => |x, y, w, h| (w - 1 - y, h - 1 - x),
            Orientation::Rotate270 => |x, y, w, _| (w - 1 - y, x),
        };
        let sideways = matches!(
            orientation,
            Orientation::Rotate90
                | Orientation::Rotate270
                | Orientation::Rotate90FlipH
                | Orientation::Rotate270FlipH
        );
        let (new_w, new_h) = if sideways { (h, w) } else { (w, h) };
        let mut pixels = Vec::with_capacity(w * h);
        let mut clipped = Vec::with_capacity(w * h);
        for y in 0..new_h {
            for x in 0..new_w {
                let (sx, sy) = from(x, y, w, h);
                pixels.push(self.pixels[sy * w + sx]);
                clipped.push(self.clipped[sy * w + sx]);
            }
        }
        (self.width, self.height) = (new_w, new_h);
        if sideways {
            std::mem::swap(&mut self.full_width, &mut self.full_height);
        }
        self.pixels = pixels;
        self.clipped = clipped;
    }
}
