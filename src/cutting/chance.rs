//! A small generator of numbers that look random and are the same every time.

/// Steps through the 64-bit sequence of `SplitMix64` (Steele, Lea and Flood, 2014).
#[derive(Debug, Clone)]
pub(super) struct Chance(u64);

impl Chance {
    /// The sequence with that number.
    pub(super) const fn new(number: u64) -> Self {
        Self(number)
    }

    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut mixed = self.0;
        mixed = (mixed ^ (mixed >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        mixed ^ (mixed >> 31)
    }

    /// From 0 to below 1.
    pub(super) fn share(&mut self) -> f64 {
        // 32 bits are plenty and convert without loss.
        f64::from(u32::try_from(self.next() >> 32).unwrap_or(0)) / 4_294_967_296.0
    }

    /// From −1 to below 1.
    pub(super) fn swing(&mut self) -> f64 {
        self.share() * 2.0 - 1.0
    }

    /// From 0 to below `count`; 0 where there is none.
    pub(super) fn below(&mut self, count: usize) -> usize {
        let count = u64::try_from(count).unwrap_or(1).max(1);
        usize::try_from(self.next() % count).unwrap_or(0)
    }
}
