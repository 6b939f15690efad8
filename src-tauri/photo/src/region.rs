//! A part of a picture.

use serde::{Deserialize, Serialize};

use crate::intake::{PictureError, Raster};

/// A part of a picture, in pixels of the upright picture at its full size; the origin is the top
/// left corner.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(tag = "shape", rename_all = "kebab-case")]
pub enum Region {
    /// A circle: what the user draws around the insulator.
    Circle {
        /// Centre, from the left.
        x: f64,
        /// Centre, from the top.
        y: f64,
        /// Radius.
        radius: f64,
    },
    /// An ellipse: a round thing seen at a tilt.
    Ellipse {
        /// Centre, from the left.
        x: f64,
        /// Centre, from the top.
        y: f64,
        /// Half of the long axis.
        long: f64,
        /// Half of the short axis.
        short: f64,
        /// From the x axis to the long axis, clockwise on the screen, in radians.
        turn: f64,
    },
    /// An upright rectangle.
    Rectangle {
        /// Left edge.
        x: f64,
        /// Top edge.
        y: f64,
        /// Width.
        width: f64,
        /// Height.
        height: f64,
    },
}

impl Region {
    /// Left, top, right and bottom of the smallest upright rectangle around it.
    #[must_use]
    pub fn bounds(&self) -> [f64; 4] {
        match *self {
            Self::Circle { x, y, radius } => [x - radius, y - radius, x + radius, y + radius],
            Self::Ellipse { x, y, long, short, turn } => {
                let (sin, cos) = turn.sin_cos();
                let half_w = (long * cos).hypot(short * sin);
                let half_h = (long * sin).hypot(short * cos);
                [x - half_w, y - half_h, x + half_w, y + half_h]
            }
            Self::Rectangle { x, y, width, height } => [x, y, x + width, y + height],
        }
    }

    /// Whether a point lies in it.
    #[must_use]
    pub fn contains(&self, px: f64, py: f64) -> bool {
        match *self {
            Self::Circle { x, y, radius } => (px - x).hypot(py - y) <= radius,
            Self::Ellipse { x, y, long, short, turn } => {
                let (sin, cos) = turn.sin_cos();
                let (dx, dy) = (px - x, py - y);
                ((dx * cos + dy * sin) / long).hypot((dy * cos - dx * sin) / short) <= 1.0
            }
            Self::Rectangle { x, y, width, height } => {
                (x..=x + width).contains(&px) && (y..=y + height).contains(&py)
            }
        }
    }

    /// The same shape about the same centre, `by` times as large.
    #[must_use]
    pub fn scaled(&self, by: f64) -> Self {
        match *self {
            Self::Circle { x, y, radius } => Self::Circle { x, y, radius: radius * by },
            Self::Ellipse { x, y, long, short, turn } => {
                Self::Ellipse { x, y, long: long * by, short: short * by, turn }
            }
            Self::Rectangle { x, y, width, height } => Self::Rectangle {
                x: x + width * (1.0 - by) / 2.0,
                y: y + height * (1.0 - by) / 2.0,
                width: width * by,
                height: height * by,
            },
        }
    }

    /// Refuses what is empty or not wholly inside the picture.
    pub(crate) fn check(&self, what: &'static str, raster: &Raster) -> Result<(), PictureError> {
        let [left, top, right, bottom] = self.bounds();
        // A pixel of slack: the user's circle may touch the edge.
        let inside = left >= -1.0
            && top >= -1.0
            && right <= raster.full_width as f64 + 1.0
            && bottom <= raster.full_height as f64 + 1.0;
        let smallest = (raster.factor * 4) as f64;
        if inside && right - left >= smallest && bottom - top >= smallest {
            Ok(())
        } else {
            Err(PictureError::RegionOutside {
                what,
                given: format!(
                    "{:.0} x {:.0} pixels at {left:.0}, {top:.0}",
                    right - left,
                    bottom - top
                ),
                width: raster.full_width as u32,
                height: raster.full_height as u32,
            })
        }
    }

    /// The places of the working picture whose centres lie in it.
    pub(crate) fn places(self, raster: &Raster) -> impl Iterator<Item = usize> {
        let factor = raster.factor as f64;
        let [left, top, right, bottom] = self.bounds();
        let first = |edge: f64| (edge / factor).floor().max(0.0) as usize;
        let last = |edge: f64, most: usize| ((edge / factor).ceil().max(0.0) as usize).min(most);
        let columns = first(left)..last(right, raster.width);
        let width = raster.width;
        (first(top)..last(bottom, raster.height)).flat_map(move |y| {
            columns.clone().filter_map(move |x| {
                let (px, py) = ((x as f64 + 0.5) * factor, (y as f64 + 0.5) * factor);
                self.contains(px, py).then_some(y * width + x)
            })
        })
    }
}
