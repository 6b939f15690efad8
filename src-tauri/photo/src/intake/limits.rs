//! How large a picture may be. Checked on the header, before memory is taken for pixels.

use super::error::PictureError;

/// The longest allowed side, in pixels.
pub const LONGEST_SIDE: u64 = 16_000;
/// The shortest allowed side, in pixels.
pub const SHORTEST_SIDE: u64 = 64;
/// The most pixels: a 50-megapixel phone with room to spare.
pub const MOST_PIXELS: u64 = 64_000_000;
/// The most bytes of file.
pub const MOST_BYTES: usize = 100_000_000;

/// Checks a header's size.
pub(super) fn check(width: u64, height: u64) -> Result<(), PictureError> {
    if width > LONGEST_SIDE || height > LONGEST_SIDE || width * height > MOST_PIXELS {
        Err(PictureError::TooLarge { width, height })
    } else if width < SHORTEST_SIDE || height < SHORTEST_SIDE {
        Err(PictureError::TooSmall { width, height })
    } else {
        Ok(())
    }
}
