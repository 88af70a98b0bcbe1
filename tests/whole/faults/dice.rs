//! Chance that can be had again: what a failing test prints is what it takes
//! to run it once more.

/// Numbers by SplitMix64 (Steele, Lea, Flood, "Fast splittable pseudorandom
/// number generators", 2014; constants from memory).
#[derive(Clone, Debug)]
pub struct Dice(pub u64);

impl Dice {
    /// Dice that fall alike every time, or with the seed in the environment
    /// variable `SEED`, to explore others.
    pub fn seeded() -> Dice {
        let given = std::env::var("SEED")
            .ok()
            .and_then(|seed| seed.parse().ok());
        Dice(given.unwrap_or(1))
    }

    /// A number from 0 to `n` - 1.
    pub fn roll(&mut self, n: u64) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        (z ^ (z >> 31)) % n
    }
}
