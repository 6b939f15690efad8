//! One random stream per thing that is made, so that adding a thing changes no other.

use rand::SeedableRng;
use rand_chacha::ChaCha8Rng;

/// The stream of one thing: the same for the same seed and name, on every machine.
#[must_use]
pub fn stream(seed: u64, name: &str) -> ChaCha8Rng {
    // FNV-1a, 64 bit: spreads names over seeds. Not a secret, so no stronger hash is needed.
    let hash = name.bytes().fold(0xcbf2_9ce4_8422_2325_u64, |hash, byte| {
        (hash ^ u64::from(byte)).wrapping_mul(0x0100_0000_01b3)
    });
    ChaCha8Rng::seed_from_u64(seed ^ hash)
}

#[cfg(test)]
mod tests {
    use rand::RngExt;

    use super::*;

    #[test]
    fn a_stream_is_known_by_seed_and_name() {
        let draw = |seed, name| stream(seed, name).random_range(0..u64::MAX);
        assert_eq!(draw(1, "a"), draw(1, "a"));
        assert_ne!(draw(1, "a"), draw(1, "b"));
        assert_ne!(draw(1, "a"), draw(2, "a"));
    }
}
