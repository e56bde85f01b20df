pub const CASES: &[super::harness::Case] = &[];
