//! Openings of the US standard sieves (ASTM E11) that enamel is graded by.

/// Sieve number and opening in micrometres. The openings of 60, 80, 100, 140, 200, 270 and 325 are checked against a
/// published copy of ASTM E11-17 in the tests; the others are from memory of the same table.
const OPENINGS: &[(u32, u32)] = &[
    (20, 850),
    (25, 710),
    (30, 600),
    (35, 500),
    (40, 425),
    (45, 355),
    (50, 300),
    (60, 250),
    (70, 212),
    (80, 180),
    (100, 150),
    (120, 125),
    (140, 106),
    (170, 90),
    (200, 75),
    (230, 63),
    (270, 53),
    (325, 45),
    (400, 38),
];

/// Opening in µm of a sieve number; none for a number the standard does not have (`150 mesh`, which many sellers say,
/// belongs to an older series: about 104 µm).
pub fn opening_micrometres(number: u32) -> Option<u32> {
    OPENINGS.iter().find(|(known, _)| *known == number).map(|&(_, opening)| opening)
}
