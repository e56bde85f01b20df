//! Numbers by chance, the same for the same seed.

/// A xorshift generator (Marsaglia 2003, "Xorshift RNGs").
pub struct Chance(u64);

impl Chance {
    /// A sequence of its own for each seed.
    pub fn new(seed: u64) -> Chance {
        let mut chance = Chance(seed.wrapping_mul(0x9e37_79b9_7f4a_7c15) | 1);
        chance.below(2); // small seeds begin alike
        chance
    }

    /// A number from 0 to one less than this.
    pub fn below(&mut self, count: usize) -> usize {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        ((self.0 >> 11) % count as u64) as usize
    }

    /// Whether something that happens one time in so many happens.
    pub fn one_in(&mut self, count: usize) -> bool {
        self.below(count) == 0
    }

    /// One of these.
    pub fn pick<T: Copy>(&mut self, list: &[T]) -> T {
        list[self.below(list.len())]
    }
}
